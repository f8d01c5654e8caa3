/* Reading what options were given. */
#include "cli/flags.h"

#include <math.h>

#include "base/c_locale.h"
#include "base/number.h"
#include "base/unit_words.h"
#include "cli/message.h"
#include "field/keys.h"

void er_flags_begin(struct er_flags *flags, const struct er_command_line *line,
                    enum er_system system)
{
    flags->line = line;
    flags->system = system;
    er_text_init(&flags->faults);
}

int er_flags_end(struct er_flags *flags)
{
    int status = 0;
    if (flags->faults.length > 0 || flags->faults.out_of_memory) {
        status = er_message_write(ER_EXIT_BAD_INPUT, &flags->faults);
    }
    er_text_release(&flags->faults);
    return status;
}

const char *er_flag_text(const struct er_flags *flags, enum er_option_id id)
{
    const char *given = er_option_value(flags->line, id);
    return given != NULL ? given : er_option_of(flags->line, id)->defaults[flags->system];
}

bool er_flag_bare_number(const char *text, double *number)
{
    const char *end = er_number_end(text);
    if (end == NULL || *end != '\0') {
        return false;
    }
    *number = er_c_number(text);
    return true;
}

void er_flag_read_quantity(struct er_flags *flags, const char *flag, const char *text,
                           enum er_quantity quantity, double *value)
{
    double bare;
    if (er_flag_bare_number(text, &bare)) {
        *value = er_to_si(quantity, flags->system, bare);
    } else if (er_quantity_parse(text, quantity, value) != ER_QUANTITY_GOOD) {
        size_t number;
        const char *meant = er_unit_meant(quantity, text, &number);
        if (meant != NULL) {
            er_message_append(&flags->faults, "--%s: '%s': write \"%.*s %s\"", flag, text,
                              (int)number, text, meant);
            return;
        }
        er_message_append(&flags->faults,
                          "--%s: '%s' is no %s; give a number, or a number with a unit: %s", flag,
                          text, er_quantity_name(quantity), er_unit_names(quantity));
        return;
    }
    const struct er_sizes sizes = er_quantity_sizes(quantity);
    if (!isfinite(*value) || *value <= 0.0) {
        er_message_append(&flags->faults, "--%s: '%s' must be above zero and finite", flag, text);
    } else if (*value > sizes.most || *value < sizes.least) {
        const struct er_sizes told = er_sizes_told(quantity, flags->system);
        er_message_append(&flags->faults,
                          "--%s: '%s' is too %s a figure for any farm; expected %.10g to %.10g %s",
                          flag, text, *value > sizes.most ? "large" : "small", told.least,
                          told.most, er_unit_name(quantity, flags->system));
    }
}

double er_flag_quantity(struct er_flags *flags, enum er_option_id id, enum er_quantity quantity)
{
    const char *text = er_flag_text(flags, id);
    double value = (double)NAN;
    if (text != NULL) {
        er_flag_read_quantity(flags, er_option_of(flags->line, id)->name, text, quantity, &value);
    }
    return value;
}

double er_flag_number(struct er_flags *flags, enum er_option_id id, const char *what, double low,
                      double high)
{
    const char *text = er_flag_text(flags, id);
    double number = (double)NAN;
    if (text != NULL && (!er_flag_bare_number(text, &number) || number < low || number > high)) {
        er_message_append(&flags->faults, "--%s: '%s' is no number of %s from %g to %g",
                          er_option_of(flags->line, id)->name, text, what, low, high);
        return (double)NAN;
    }
    return number;
}

size_t er_flag_count(struct er_flags *flags, enum er_option_id id, double most)
{
    const char *text = er_flag_text(flags, id);
    double number = 0.0;
    if (text != NULL && (!er_flag_bare_number(text, &number) || number < 1.0 || number > most ||
                         number != floor(number))) {
        er_message_append(&flags->faults, "--%s: '%s' is no whole number from 1 to %.0f",
                          er_option_of(flags->line, id)->name, text, most);
        return 0;
    }
    return (size_t)number;
}
