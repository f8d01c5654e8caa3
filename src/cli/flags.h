/* Reading the values of options, as quantities, numbers and names.
 *
 * A bad value puts a message into the flags' faults, and the reading goes on, so that all
 * are told. */
#ifndef ER_CLI_FLAGS_H
#define ER_CLI_FLAGS_H

#include "base/text.h"
#include "cli/options.h"
#include "evenrow/units.h"

struct er_flags {
    const struct er_command_line *line;
    enum er_system system; /* of bare numbers */
    struct er_text faults;
};

void er_flags_begin(struct er_flags *flags, const struct er_command_line *line,
                    enum er_system system);

/* 0, or an exit status after all the faults have been told. Releases them. */
int er_flags_end(struct er_flags *flags);

/* The value of an option as it was given, or its default; NULL if it has neither. */
const char *er_flag_text(const struct er_flags *flags, enum er_option_id id);

/* Whether all of `text` is one number; *number gets it. */
bool er_flag_bare_number(const char *text, double *number);

/* Reads a quantity above zero, which `flag` gives as `text`, into *value (SI). */
void er_flag_read_quantity(struct er_flags *flags, const char *flag, const char *text,
                           enum er_quantity quantity, double *value);

/* An option's value, or its default, in SI: above zero. NAN where there is neither, or a bad one.
 */
double er_flag_quantity(struct er_flags *flags, enum er_option_id id, enum er_quantity quantity);

/* A bare number from `low` to `high`, of what `what` says ("percent"). NAN as above. */
double er_flag_number(struct er_flags *flags, enum er_option_id id, const char *what, double low,
                      double high);

/* A whole number from 1 to `most`. 0 as above. */
size_t er_flag_count(struct er_flags *flags, enum er_option_id id, double most);

#endif
