/* Writes small random fields as JSON, and cuts them into pieces by a pattern of bits. */
#include "split_fields.h"

#include <setjmp.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/text.h"

static void add_ground(struct dice *dice, struct er_text *text)
{
    if (dice_chance(dice, 0.5)) {
        er_text_appendf(text, ", \"slope\": %.2f", dice_between(dice, -1.5, 1.5));
    } else if (dice_chance(dice, 0.5)) {
        er_text_appendf(text, ", \"profile\": [[0, 100], [%.1f, %.1f], [%.1f, %.1f]]",
                        dice_between(dice, 3, 12), dice_between(dice, 99, 101),
                        dice_between(dice, 14, 30), dice_between(dice, 98.5, 101.5));
    }
}

static void add_beds(struct dice *dice, struct er_text *text, size_t count)
{
    er_text_appendf(text, "{\"count\": %zu, \"length\": %.0f, \"spacing\": %.1f, \"tape\": \"t\"",
                    count, dice_between(dice, 40, 250), dice_between(dice, 4, 7));
    if (dice_chance(dice, 0.4)) {
        er_text_appendf(text, ", \"last_length\": %.0f", dice_between(dice, 30, 250));
    }
    if (dice_chance(dice, 0.2)) {
        er_text_appendf(text, ", \"gap\": %.0f", dice_between(dice, 2, 12));
    }
    if (dice_chance(dice, 0.2)) {
        er_text_appendf(text, ", \"sides\": \"both\", \"other_length\": %.0f",
                        dice_between(dice, 30, 120));
    }
    if (dice_chance(dice, 0.2)) {
        er_text_append(text, ", \"tapes\": 2");
    }
    er_text_appendf(text, ", \"slope\": %.2f}", dice_between(dice, -1.5, 1.5));
}

static void add_zone(struct dice *dice, struct er_text *text, size_t number, size_t beds)
{
    static const char *const feeds[] = {"\"first\"", "\"last\"", "\"middle\"", "1.5"};
    er_text_appendf(text, "%s{\"name\": \"%c\",\"rise\": %.1f", number > 0 ? ", " : "",
                    (char)('a' + number), dice_between(dice, -3, 3));
    if (dice_chance(dice, 0.3)) {
        er_text_append(text, ", \"regulator\": {\"holds\": 12, \"loss\": 0.5}");
    }
    er_text_appendf(text, ", \"header\": {\"pipe\": \"poly-%s\", \"feed\": %s, \"lead\": %.0f",
                    dice_chance(dice, 0.5) ? "1in" : "1.5in",
                    feeds[dice_whole(dice, 0, beds > 1 ? 3 : 2)], dice_between(dice, 0, 20));
    add_ground(dice, text);
    er_text_append(text, "}, \"beds\": [");
    size_t most = dice_chance(dice, 0.5) ? beds : 1 + beds / 2; /* to a group */
    for (size_t left = beds; left > 0;) {
        size_t group = dice_whole(dice, 1, left < most ? left : most);
        add_beds(dice, text, group);
        left -= group;
        er_text_append(text, left > 0 ? ", " : "");
    }
    er_text_append(text, "]}");
}

static void add_source(struct dice *dice, struct er_text *text, double beds)
{
    double flow = 0.7 * beds * dice_scaled(dice, 0.25, 1.2); /* gpm */
    double pressure = dice_between(dice, 9, 14);
    switch (dice_whole(dice, 0, 3)) {
    case 0:
        er_text_appendf(text, "{\"test\": {\"static\": %.1f, \"flow\": %.2f, \"pressure\": %.1f}}",
                        pressure + 2, flow * 1.5, pressure * 0.6);
        break;
    case 1:
        er_text_appendf(text, "{\"pump\": {\"curve\": [[0, %.0f], [%.2f, %.0f], [%.2f, %.0f]]}",
                        pressure * 2.4, flow * 0.8, pressure * 2.3, flow * 1.3, pressure * 1.6);
        er_text_appendf(text, ", \"flow_limit\": %.2f}", flow);
        break;
    case 2:
        er_text_appendf(text, "{\"pressure\": %.1f, \"flow_limit\": %.2f, \"storage\": %.0f}",
                        pressure, flow, 138 * beds * dice_scaled(dice, 0.7, 1.5));
        break;
    default:
        er_text_appendf(text, "{\"pressure\": %.1f, \"flow_limit\": %.2f}", pressure, flow);
    }
}

char *split_field_text(uint64_t seed)
{
    struct dice dice = {seed};
    struct er_text text;
    size_t beds[3], zones = dice_whole(&dice, 1, 3), all = 0;
    for (size_t z = 0; z < zones; z++) {
        beds[z] = dice_whole(&dice, 1, zones == 1 ? MOST_BEDS : MOST_BEDS / zones);
        all += beds[z];
    }
    er_text_init(&text);
    er_text_append(&text, "{\"units\": \"us\", \"source\": ");
    add_source(&dice, &text, (double)all);
    er_text_append(&text, ", \"tapes\": {\"t\": {\"flow\": 0.5, \"at_pressure\": 8, \"cv\": 0.03, "
                          "\"exponent\": 0.5, \"emitter_spacing\": 12, \"inside_diameter\": 0.625, "
                          "\"min_pressure\": 4, \"max_pressure\": 15}}");
    if (dice_chance(&dice, 0.7)) {
        er_text_appendf(&text,
                        ", \"mainline\": [{\"name\": \"A\", \"pipe\": \"poly-1in\", \"length\": "
                        "%.0f, \"rise\": %.1f, \"fittings\": %.0f}]",
                        dice_between(&dice, 20, 300), dice_between(&dice, -3, 3),
                        dice_between(&dice, 0, 20));
    }
    er_text_append(&text, ", \"zones\": [");
    for (size_t z = 0; z < zones; z++) {
        add_zone(&dice, &text, z, beds[z]);
    }
    er_text_append(&text, "]");
    if (dice_chance(&dice, 0.7)) {
        er_text_appendf(&text, ", \"water\": {\"need\": 0.25, \"hours\": %.1f}",
                        dice_scaled(&dice, 8, 24));
    }
    er_text_appendf(&text, ", \"limits\": {\"uniformity\": %.0f, \"flow_variation\": %.0f}}",
                    dice_between(&dice, 70, 90), dice_between(&dice, 15, 40));
    char *taken = er_text_take(&text);
    assert_non_null(taken);
    return taken;
}

void split_field_open(const char *text, struct er_document **document, struct er_field *field)
{
    struct er_problems problems;
    er_problems_init(&problems);
    enum er_status status = er_document_open("field.json", text, strlen(text), document, &problems);
    if (status == ER_OK) {
        status = er_field_read(*document, field, &problems);
    }
    for (size_t p = 0; p < problems.count && p < ER_PROBLEMS_KEPT; p++) {
        print_error("%s: %s\n%s\n", problems.kept[p].pointer ? problems.kept[p].pointer : "",
                    problems.kept[p].text, text);
    }
    er_problems_release(&problems);
    assert_int_equal(status, ER_OK);
}

size_t split_pieces(const struct er_field *field, unsigned cuts, struct er_piece *pieces)
{
    size_t count = 0, bed = 0;
    for (size_t z = 0; z < field->zone_count; z++) {
        for (size_t b = 0; b < er_zone_beds(&field->zones[z]); b++, bed++) {
            bool begins = bed == 0 || (cuts & 1U << (bed - 1)) != 0;
            if (b == 0 && !begins) {
                return 0;
            }
            if (begins) {
                pieces[count++] = (struct er_piece){z, b, 0};
            }
            pieces[count - 1].bed_count++;
        }
    }
    return count;
}
