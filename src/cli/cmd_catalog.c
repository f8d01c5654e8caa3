/* The built-in catalogue, listed. */
#include <string.h>

#include "base/nearest.h"
#include "cli/commands.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "report/catalog/report.h"

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

static int run_catalog(struct er_work *work)
{
    struct er_catalogue catalogue;
    struct er_listing listing = {.catalogue = &catalogue};
    int status = read_kind(work->line, &listing.kind);
    if (status != 0) {
        return status;
    }
    if (listing.kind == ER_CATALOGUE_KINDS && work->form == ER_AS_CSV) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "csv lists one kind: name pipes, tapes, soils, crops or prices");
    }
    if (er_catalogue_open(&catalogue) != ER_OK) {
        return er_message_no_memory();
    }
    status = er_work_tell(work, &er_catalogue_report, &listing);
    er_catalogue_release(&catalogue);
    return status;
}

static const struct er_option options[] = {ER_FORMAT_OPTION, ER_OUTPUT_OPTION, ER_FORCE_OPTION,
                                           ER_NEW_UNITS_OPTION, ER_LAST_OPTIONS};

const struct er_command er_catalog_command = {
    .name = "catalog",
    .operands = "[pipes|tapes|soils|crops|prices]",
    .most_operands = 1,
    .summary = "The built-in pipes, tapes, soils, crops and prices, with the source of each.",
    .about = "A field file may use their names. Without a kind all are listed; csv lists one kind.",
    .exits = {"done"},
    .examples = {"evenrow catalog tapes", "evenrow catalog prices --format csv"},
    .options = options,
    .run = run_catalog};
