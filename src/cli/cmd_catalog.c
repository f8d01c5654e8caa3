/* The built-in catalogue, listed. */
#include <string.h>

#include "base/nearest.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/forms.h"
#include "cli/load.h"
#include "cli/message.h"
#include "report/catalogue_report.h"

/* The kind that the operand names; ER_CATALOGUE_KINDS for all. */
static int read_kind(const struct er_command_line *line, enum er_catalogue_kind *kind)
{
    *kind = ER_CATALOGUE_KINDS;
    if (line->operand_count == 0) {
        return 0;
    }
    struct er_nearest nearest;
    er_nearest_begin(&nearest, line->operands[0]);
    for (unsigned k = 0; k < ER_CATALOGUE_KINDS; k++) {
        const char *name = er_catalogue_kind_name((enum er_catalogue_kind)k);
        if (strcmp(name, line->operands[0]) == 0) {
            *kind = (enum er_catalogue_kind)k;
            return 0;
        }
        er_nearest_offer(&nearest, name);
    }
    if (nearest.best != NULL) {
        return er_message(ER_EXIT_BAD_INPUT, "the catalog has no '%s'; did you mean '%s'?",
                          line->operands[0], nearest.best);
    }
    return er_message(ER_EXIT_BAD_INPUT,
                      "the catalog has no '%s'; it has pipes, tapes, soils, crops "
                      "and prices",
                      line->operands[0]);
}

int er_run_catalog(const struct er_command_line *line)
{
    struct er_catalogue catalogue;
    struct er_listing listing = {.catalogue = &catalogue};
    int status = read_kind(line, &listing.kind);
    if (status != 0) {
        return status;
    }
    if (listing.kind == ER_CATALOGUE_KINDS && er_told_as_asked(line) == ER_AS_CSV) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "csv lists one kind: name pipes, tapes, soils, crops or prices");
    }
    if (er_catalogue_open(&catalogue) != ER_OK) {
        return er_message_no_memory();
    }
    enum er_system system = er_units_named(er_option_value(line, ER_OPTION_NEW_UNITS), ER_US);
    struct er_text out;
    er_text_init(&out);
    status = er_make_report(line, &er_catalogue_report, &listing, system, &out);
    if (status == 0) {
        status = er_write_output(line, &out);
    }
    er_text_release(&out);
    er_catalogue_release(&catalogue);
    return status;
}
