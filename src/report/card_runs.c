/* Irrigations that the root zone cannot take at once: in how many runs, and when each begins. */
#include <math.h>

#include "report/card_words.h"
#include "say/say.h"
#include "water/need.h"

#define MOST_STARTS 6 /* more are told by their distance */

/* Runs a day of a zone that is watered daily; what is watered less often is not helped by runs on
 * one day, for the crop makes no room in it. */
static size_t runs_of(const struct er_sheet *sheet, size_t zone)
{
    const struct er_result *result = sheet->card->result;
    double every = result->field->zones[zone].water.every;
    return every < 1.0 || every > 1.0 ? 1 : result->zones[zone].pulses;
}

static bool set_is_split(const struct er_sheet *sheet, size_t set)
{
    const struct er_set *at = &sheet->card->result->field->sets[set];
    bool split = false;
    for (size_t z = 0; z < at->zone_count; z++) {
        split = split || runs_of(sheet, at->zones[z]) > 1;
    }
    return split;
}

/* All that is split is run in so many rounds over the day. */
static size_t rounds_of(const struct er_sheet *sheet)
{
    size_t rounds = 1;
    for (size_t z = 0; z < sheet->card->result->field->zone_count; z++) {
        size_t runs = runs_of(sheet, z);
        rounds = runs > rounds ? runs : rounds;
    }
    return rounds;
}

/* When the sheet's set starts its `run`-th (from 0), counted from the day's first start: the rounds
 * spread evenly over the hours that what is not split leaves them; that follows. */
static double start_of(const struct er_sheet *sheet, size_t run, size_t rounds)
{
    const struct er_result *result = sheet->card->result;
    bool split = set_is_split(sheet, sheet->set);
    double round = 0.0, rest = 0.0, before = 0.0;
    for (size_t s = 0; s < result->field->set_count; s++) {
        bool alike = set_is_split(sheet, s);
        double one = result->sets[s].run_time / (alike ? (double)rounds : 1.0);
        round += alike ? one : 0.0;
        rest += alike ? 0.0 : one;
        before += s < sheet->set && alike == split ? one : 0.0;
    }
    double step = fmax(round, (result->field->hours - rest) / (double)rounds);
    return before + step * (double)(split ? run : rounds);
}

bool er_sheet_append_starts(struct er_sheet *sheet)
{
    size_t rounds = rounds_of(sheet);
    if (rounds < 2 || !isfinite(sheet->card->result->sets[sheet->set].run_time)) {
        return false;
    }
    size_t runs = set_is_split(sheet, sheet->set) ? rounds : 1;
    size_t told = runs > MOST_STARTS ? 2 : runs;
    er_text_append(&sheet->text, "Start at " ER_BLANK);
    for (size_t run = 0; run < told; run++) {
        er_text_append(&sheet->text, run == 0 ? ": " : run + 1 < runs ? ", " : " and ");
        er_append_clock(&sheet->text, start_of(sheet, run, rounds));
    }
    er_text_append(&sheet->text, " (h:min) after the day's first start");
    if (told < runs) {
        er_text_appendf(&sheet->text, ", and so on, %zu times", runs);
    }
    er_text_append(&sheet->text, ".");
    er_leaf_item(sheet->leaf, &sheet->text);
    return true;
}

void er_sheet_append_runs(struct er_sheet *sheet, size_t zone)
{
    const struct er_result *result = sheet->card->result;
    const struct er_zone_result *at = &result->zones[zone];
    double every = result->field->zones[zone].water.every;
    if (at->pulses < 2 && !set_is_split(sheet, sheet->set)) {
        return;
    }
    if (set_is_split(sheet, sheet->set)) {
        size_t rounds = rounds_of(sheet);
        er_text_appendf(&sheet->text, ", in %zu runs of ", rounds);
        er_append_clock(&sheet->text, at->run_time / (double)rounds);
        er_text_append(&sheet->text, " spread over the day, or water passes the roots");
        return;
    }
    struct er_room room = er_room_for(at->flow * at->run_time, every, at->run_time, at->holding);
    er_text_append(&sheet->text, ". The root zone does not hold that much at once: better run ");
    er_append_clock(&sheet->text, room.run_time);
    if (room.runs > 1) {
        er_text_appendf(&sheet->text, " %zu times a day", room.runs);
    } else if (room.every > 1.0) {
        er_text_appendf(&sheet->text, " every %.0f days", room.every);
    } else {
        er_text_append(&sheet->text, " every day");
    }
}
