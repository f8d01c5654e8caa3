#include <string.h>

#include "base/nearest.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/load.h"
#include "cli/message.h"
#include "report/report.h"

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

static enum er_status make_listing(const char *format, enum er_catalogue_kind kind,
                                   enum er_system system, struct er_text *out)
{
    struct er_catalogue catalogue;
    enum er_status status = er_catalogue_open(&catalogue);
    if (status != ER_OK) {
        return status;
    }
    if (strcmp(format, "json") == 0) {
        status = er_report_catalogue_json(&catalogue, kind, system, out);
    } else if (strcmp(format, "csv") == 0) {
        status = er_report_catalogue_csv(&catalogue, kind, system, out);
    } else {
        status = er_report_catalogue_text(&catalogue, kind, system, out);
    }
    er_catalogue_release(&catalogue);
    return status;
}

int er_run_catalog(const struct er_command_line *line)
{
    const char *format = er_option_value(line, ER_OPTION_FORMAT);
    enum er_catalogue_kind kind;
    format = format != NULL ? format : "text";
    int status = read_kind(line, &kind);
    if (status != 0) {
        return status;
    }
    if (kind == ER_CATALOGUE_KINDS && strcmp(format, "csv") == 0) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "csv lists one kind: name pipes, tapes, soils, crops or prices");
    }
    enum er_system system = er_units_named(er_option_value(line, ER_OPTION_NEW_UNITS), ER_US);
    struct er_text out;
    er_text_init(&out);
    if (make_listing(format, kind, system, &out) != ER_OK) {
        status = er_message_no_memory();
    } else {
        status = er_write_output(line, &out);
    }
    er_text_release(&out);
    return status;
}
