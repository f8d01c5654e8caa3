/* Which places to read on a visit. */
#include <math.h>

#include "evenrow/divide.h"
#include "visit/fault.h"
#include "visit/places.h"

#define MOST_BEDS 5

/* A bed that is read, and how many of its emitters. */
struct form_bed {
    size_t bed;
    bool second_side;
    size_t emitters;
};

static void add_bed(struct form_bed *beds, size_t *count, size_t bed, bool second)
{
    if (*count == 0 || beds[*count - 1].bed != bed) {
        beds[(*count)++] = (struct form_bed){bed, second, 0};
    }
}

static bool has_second_side(const struct er_zone *zone, size_t bed)
{
    struct er_run run;
    return er_bed_run(zone, bed, true, &run);
}

/* First, third, middle, two thirds and last; where beds lie on both sides, these by turns. In a
 * big zone four beds have four places each and the middle one two; in a small one each bed has
 * more. */
static size_t choose_beds(const struct er_zone *zone, struct form_bed *beds)
{
    const double shares[MOST_BEDS] = {0.0, 1.0 / 3.0, 0.5, 2.0 / 3.0, 1.0};
    double last = (double)(er_zone_beds(zone) - 1);
    size_t count = 0;
    for (size_t i = 0; i < MOST_BEDS; i++) {
        size_t bed = (size_t)round(shares[i] * last);
        add_bed(beds, &count, bed, i % 2 == 1 && has_second_side(zone, bed));
    }
    for (size_t b = 0; b < count; b++) {
        bool extra = b < ER_PROCEDURE_LEAST % count;
        beds[b].emitters = ER_PROCEDURE_LEAST / count + extra;
        if (count == MOST_BEDS) {
            beds[b].emitters = b == 2 ? 2 : ER_FORM_PLACES;
        }
    }
    return count;
}

static void add(struct er_form *form, enum er_reading_kind kind, const struct form_bed *bed,
                double at)
{
    form->readings[form->reading_count++] =
        (struct er_visit_reading){.kind = kind,
                                  .bed = bed == NULL ? 0 : bed->bed,
                                  .second_side = bed != NULL && bed->second_side,
                                  .at = at,
                                  .value = ER_NONE,
                                  .time = ER_NONE};
}

static void add_emitters(struct er_form *form, const struct er_zone *zone,
                         const struct form_bed *bed)
{
    struct er_run run;
    if (!er_bed_run(zone, bed->bed, bed->second_side, &run)) {
        return;
    }
    double before = ER_NONE; /* on a short tape two places may have the same emitter */
    for (size_t e = 0; e < bed->emitters; e++) {
        double at = er_emitter_at_share(&run, (double)e / (double)(bed->emitters - 1));
        if (!er_given(before) || at > before) {
            add(form, ER_READ_EMITTER, bed, at);
        }
        before = at;
    }
}

static void list_places(struct er_form *form, const struct er_zone *zone)
{
    struct form_bed beds[MOST_BEDS];
    size_t count = choose_beds(zone, beds);
    add(form, ER_READ_SOURCE, NULL, ER_NONE);
    add(form, ER_READ_AFTER_PARTS, NULL, ER_NONE);
    if (zone->valve != NULL) {
        add(form, ER_READ_AFTER_VALVE, NULL, ER_NONE);
    }
    add(form, ER_READ_HEADER, NULL, ER_NONE);
    add(form, ER_READ_METER, NULL, ER_NONE);
    for (size_t b = 0; b < count; b++) {
        add(form, ER_READ_BED_INLET, &beds[b], ER_NONE);
        add(form, ER_READ_BED_FAR_END, &beds[b], ER_NONE);
    }
    for (size_t b = 0; b < count; b++) {
        add_emitters(form, zone, &beds[b]);
    }
}

enum er_status er_form_make(const struct er_field *field, size_t zone, struct er_form *form)
{
    const size_t most = 5 + 2 * MOST_BEDS + ER_PROCEDURE_LEAST;
    *form = (struct er_form){.zone = zone};
    form->readings = er_arena_array(&form->arena, most, sizeof *form->readings);
    double *planned = er_arena_array(&form->arena, most, sizeof *planned);
    if (form->readings == NULL || planned == NULL) {
        return ER_NO_MEMORY;
    }
    list_places(form, &field->zones[zone]);
    const struct er_fault none = {.kind = ER_FAULT_NONE};
    enum er_status status =
        er_visit_predict(field, zone, &none, form->readings, form->reading_count, planned);
    for (size_t i = 0; status == ER_OK && i < form->reading_count; i++) {
        form->readings[i].value = planned[i];
    }
    return status;
}

void er_form_release(struct er_form *form)
{
    er_arena_release(&form->arena);
    *form = (struct er_form){.reading_count = 0};
}
