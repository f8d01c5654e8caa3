#include "cli/commands.h"

#include <stdint.h>
#include <string.h>

#include "base/nearest.h"
#include "cli/message.h"

/* In the order in which a grower comes to need them. */
static const struct er_command all_commands[] = {
    {"start", ER_FOR_START, "", 0, 0,
     "Writes a first field file from a few flags, so that nobody starts from an empty page.",
     "Every flag has a default, and notes in the file say which figures are defaults, to be "
     "replaced by your own. Values take a unit, as in --length \"250 ft\"; a bare number is in "
     "the units of --units. Where all beds together take more than 80 percent of what the source "
     "gives, they are split into zones.\n"
     "The file is checked at once, and standard error tells the verdict.",
     er_run_start},
    {"check", ER_FOR_CHECK, "FIELD", 1, 1,
     "Does this plan water every row, and does the source keep up?",
     "FIELD is a field file: a JSON object that describes the source, the pipes, the beds and "
     "their tape; - reads it from standard input. 'evenrow start' writes a first one, and "
     "'evenrow schema' tells every key.\n"
     "Flows and pressures are worked out emitter by emitter. The report begins with the verdict "
     "and its reason.",
     er_run_check},
    {"reach", ER_FOR_REACH, "[FIELD]", 0, 1,
     "How long may a row be, for this tape, pressure and slope?",
     "The longest row for each pressure at its inlet and each slope along it, to one emitter, and "
     "what stops it there: uniformity, flow variation, the tape's rating, or a dry end. Downhill "
     "a row may keep the limits again when it is longer still; the length told is the last one "
     "at which every shorter row keeps them, too.\n"
     "With FIELD, a field file, the tapes of its beds are taken, with its plants and limits; - "
     "reads it from standard input. Without, a tape is named by --tape or told by flags, and the "
     "limits are 85 percent of uniformity and 20 of flow variation. Values take a unit, as in "
     "--inlets \"6 psi,8 psi\"; a bare number is in the units of the report.",
     er_run_reach},
    {"split", ER_FOR_SPLIT, "FIELD", 1, 1,
     "How many zones does this source need, and which beds go where?",
     "Finds the least number of zones of neighbouring beds for which nothing in the field fails, "
     "over all ways to divide the beds of each zone, and of the divisions with that number the one "
     "whose flows are the most even. Each new zone gets a piece of header and a feed point of its "
     "own, and the mainline goes on to it along the old header. Where zones that the source can "
     "feed take too long one after another, two at a time are tried.\n"
     "-o writes the field so divided. Where no number of zones does, the report says what stands "
     "in the way and what would help, and the exit status is 1.",
     er_run_split},
    {"choose", ER_FOR_CHOOSE, "FIELD", 1, 1, "Which tape and which header pipe, at what cost?",
     "Tries tapes, header pipes, feed positions and numbers of zones, all with all, on the field's "
     "beds, and lists the best ten that hold: by cost where the field has \"prices\", else by the "
     "header's width, then by how even they are.\n"
     "-o writes the best, or the one that --pick names, as a field file. The exit status is 1 "
     "where nothing holds.",
     er_run_choose},
    {"supply", ER_FOR_SUPPLY, "FIELD", 1, 1,
     "What must the source give: which pump or supply would this plan need?",
     "Whatever the field file says of its source is set aside. For each set of zones the flow and "
     "the pressure at the source's outlet are sought at which the lowest tape inlet has what is "
     "wanted and every regulator what it needs, filters clean and due for cleaning. The report "
     "begins with the answer, and holds the file's own source against it.\n"
     "-o writes the field with a source that holds just that. The exit status is 1 where no source "
     "will do, and where the plan fails with such a source.",
     er_run_supply},
    {"season", ER_FOR_SEASON, "FIELD", 1, 1,
     "How long to run in each week of the season, and does the pond last?",
     "FIELD has a \"season\" in its \"water\": day of planting, crop, monthly means; and it may "
     "have "
     "\"weather\" that was measured. From planting to the end of harvest each day's need is worked "
     "out, each zone's run time for the mean day of each week, and what is left in the storage at "
     "the end of each day.",
     er_run_season},
    {"inject", ER_FOR_INJECT, "FIELD", 1, 1,
     "How much fertilizer, how strong and how fast, from when to when?",
     "For what the field's \"inject\" says: how much product each zone takes for a rate of "
     "nutrient "
     "per area or length of bed, or for a concentration; the stock solution, the injector's rate "
     "and its ratio; how long the water is on its way to the last emitter; and when to start and "
     "to "
     "stop, so that the system is filled before and flushed after.\n"
     "The exit status is 1 where the plan fails or a run is too short, or where the stock would "
     "have to be stronger "
     "than it can be.",
     er_run_inject},
    {"buy", ER_FOR_BUY, "FIELD", 1, 1,
     "What has to be bought, down to the end plugs, and what does it cost?",
     "Counts tape and film in whole rolls, pipe in whole lengths, fittings, valves, regulators, "
     "filter, gauges and vents, each with its reason, and tells which beds each roll of tape "
     "serves, so that joints are few. Costs are told where the field has \"prices\"; film where "
     "its \"mulch\" is plastic. Notes on laying it all stand at the end.\n"
     "The exit status is 1 where the plan fails: such a plan should be changed before it is "
     "bought.",
     er_run_buy},
    {"visit", ER_FOR_VISIT, "FIELD [MEASURED]", 1, 2,
     "What was read in the field, against the plan: how even is it, and what is wrong?",
     "MEASURED is a JSON file, or a table of comma-separated values with a header row, of what "
     "gauges, meter and cups showed in one zone while its set ran, as the README tells it; - reads "
     "it from standard input. The report tells how even the emitters are and where the "
     "unevenness comes from, holds each reading against the plan, and tries what could be wrong: "
     "each fault is put into the plan, the plan solved again, and the fault's size fitted to the "
     "readings. What cannot be told apart is said, and which reading would tell it.\n"
     "Without MEASURED, --form prints a page for each zone to take along. The exit status is 1 "
     "where the plan fails, the readings are not what it says, or the emitters are less even than "
     "the field's limit.",
     er_run_farm_visit},
    {"card", ER_FOR_CARD, "FIELD", 1, 1,
     "A sheet for the pump house: valves, hours, gauge readings, flushing, a log.",
     "For each set which valves to open, when and how long; what meter and gauges should show with "
     "the filter clean and due for cleaning; what it means when they do not; in which order to "
     "flush, and how many tape ends may be open at once; and blanks for a log. The figures are "
     "those of 'evenrow check'.\n"
     "With --format html it is one file that needs nothing else, for a browser to print. Of a plan "
     "that fails each sheet says so at its top, and the exit status is 1.",
     er_run_card},
    {"compare", ER_FOR_COMPARE, "FIELD...", 1, SIZE_MAX,
     "Several plans side by side: which is better for what?",
     "FIELD is a field file, or a folder: then every file in it that ends in .json, by name. The "
     "report tells which plan has the least flow, is the most even, runs the fewest hours and so "
     "on, then their figures side by side, those that differ from the first plan's marked.\n"
     "With --patch, one field file is compared with what each patch makes of it. --set changes "
     "every plan, before its patch. Units are those of the first plan, or of --units.\n"
     "A plan that cannot be read or solved is left out with a message, and the others are shown; "
     "the highest exit status counts.",
     er_run_compare},
    {"draw", ER_FOR_DRAW, "FIELD", 1, 1,
     "A picture of the plan, of its pressures, its source or its season.",
     "Writes one SVG picture, which every browser shows and prints. The plan shows source, "
     "mainline, zones and beds to scale, each bed shaded by what its emitters give over the "
     "zone's mean; 'pressure' the lowest and the highest row of each zone; 'supply' the source's "
     "curve with each set of zones on it; 'season' the hours of each week and what is left in "
     "the storage. The shades can be told apart in grey and by people who see colours "
     "otherwise.\n"
     "The field file tells lengths and no directions: how the zones lie to one another is a "
     "scheme, and the picture says so. A plan that fails is drawn, too; the exit status is then 1.",
     er_run_draw},
    {"catalog", ER_FOR_CATALOG, "[pipes|tapes|soils|crops|prices]", 0, 1,
     "The built-in pipes, tapes, soils, crops and prices, with the source of each.",
     "A field file may use their names. Without a kind all are listed; csv lists one kind.",
     er_run_catalog},
    {"schema", ER_FOR_SCHEMA, "", 0, 0, "The JSON Schema of the field file.",
     "JSON Schema, draft 2020-12. Editors that know it offer the keys and check the file while "
     "it is written.",
     er_run_schema},
};

const struct er_command *er_commands(size_t *count)
{
    *count = sizeof all_commands / sizeof all_commands[0];
    return all_commands;
}

const struct er_command *er_command_find(const char *name)
{
    for (size_t i = 0; i < sizeof all_commands / sizeof all_commands[0]; i++) {
        if (strcmp(all_commands[i].name, name) == 0) {
            return &all_commands[i];
        }
    }
    return NULL;
}

int er_command_unknown(const char *name)
{
    struct er_nearest nearest;
    er_nearest_begin(&nearest, name);
    for (size_t i = 0; i < sizeof all_commands / sizeof all_commands[0]; i++) {
        er_nearest_offer(&nearest, all_commands[i].name);
    }
    if (nearest.best != NULL) {
        return er_message(ER_EXIT_BAD_INPUT, "no command is called '%s'; did you mean '%s'?", name,
                          nearest.best);
    }
    return er_message(ER_EXIT_BAD_INPUT, "no command is called '%s'; 'evenrow --help' lists them",
                      name);
}
