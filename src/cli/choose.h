/* 'evenrow choose': what its flags say of the designs to try. */
#ifndef ER_CLI_CHOOSE_H
#define ER_CLI_CHOOSE_H

#include "cli/options.h"
#include "evenrow/catalogue.h"
#include "evenrow/choose.h"

struct er_choices {
    struct er_choose_ask ask; /* but for what watches the search */
    size_t pick;              /* of the ranked list, from 1 */
    bool catalogue_open;
    struct er_catalogue catalogue;
    struct er_arena arena; /* of the lists */
};

/* Reads the flags. `field` must outlive *choices, which the caller releases in any case; all
 * zeros before. 0, or an exit status after messages. */
int er_choices_read(const struct er_command_line *line, const struct er_field *field,
                    struct er_choices *choices);
void er_choices_release(struct er_choices *choices);

#endif
