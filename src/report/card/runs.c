/* Irrigations that the root zone cannot take at once: in how many runs, and when each begins. */
#include <math.h>

#include "report/card/words.h"
#include "water/need.h"

#define MOST_STARTS 6 /* more are told by their distance */

/* Runs a day of a zone that is watered daily; what is watered less often is not helped by runs on
 * one day, for the crop makes no room in it. */
static size_t runs_of(const struct er_card_sheet *sheet, size_t zone)
{
    const struct er_result *result = sheet->card->result;
    double every = sheet->field->zones[zone].water.every;
    return every < 1.0 || every > 1.0 ? 1 : result->zones[zone].pulses;
}

static bool set_is_split(const struct er_card_sheet *sheet, size_t set)
{
    const struct er_set *at = &sheet->field->sets[set];
    bool split = false;
    for (size_t z = 0; z < at->zone_count; z++) {
        split = split || runs_of(sheet, at->zones[z]) > 1;
    }
    return split;
}

/* All that is split is run in so many rounds over the day. */
static size_t rounds_of(const struct er_card_sheet *sheet)
{
    size_t rounds = 1;
    for (size_t z = 0; z < sheet->field->zone_count; z++) {
        size_t runs = runs_of(sheet, z);
        rounds = runs > rounds ? runs : rounds;
    }
    return rounds;
}

/* When the sheet's set starts its `run`-th (from 0), counted from the day's first start: the rounds
 * spread evenly over the hours that what is not split leaves them; that follows. */
static double start_of(const struct er_card_sheet *sheet, size_t run, size_t rounds)
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

const char *er_card_starts(const struct er_card_sheet *sheet)
{
    struct er_pen *pen = &sheet->page->pen;
    size_t rounds = rounds_of(sheet);
    if (rounds < 2 || !isfinite(sheet->card->result->sets[sheet->set].run_time)) {
        return NULL;
    }
    size_t runs = set_is_split(sheet, sheet->set) ? rounds : 1;
    size_t told = runs > MOST_STARTS ? 2 : runs;
    const char *starts = "";
    for (size_t run = 0; run < told; run++) {
        starts = er_pen_joined(pen, starts, run + 1 < runs ? ", " : " and ",
                               er_pen_clock(pen, start_of(sheet, run, rounds)));
    }
    return er_pen_text(pen, "Start at " ER_BLANK ": %s (h:min) after the day's first start%s.",
                       starts, told < runs ? er_pen_text(pen, ", and so on, %zu times", runs) : "");
}

const char *er_card_runs(const struct er_card_sheet *sheet, size_t zone)
{
    struct er_pen *pen = &sheet->page->pen;
    const struct er_zone_result *at = &sheet->card->result->zones[zone];
    if (set_is_split(sheet, sheet->set)) {
        size_t rounds = rounds_of(sheet);
        return er_pen_text(pen,
                           ", in %zu runs of %s spread over the day, or water passes the roots",
                           rounds, er_pen_clock(pen, at->run_time / (double)rounds));
    }
    if (at->pulses < 2) {
        return "";
    }
    struct er_room room = er_room_for(
        at->flow * at->run_time, sheet->field->zones[zone].water.every, at->run_time, at->holding);
    const char *often = room.runs > 1      ? er_pen_text(pen, "%zu times a day", room.runs)
                        : room.every > 1.0 ? er_pen_text(pen, "every %.0f days", room.every)
                                           : "every day";
    return er_pen_text(pen, ". The root zone does not hold that much at once: better run %s %s",
                       er_pen_clock(pen, room.run_time), often);
}
