/* Every key of the field file is read to its SI value, and every default in both systems. */
#include "field_texts.h"

/* Exact definitions: NIST Special Publication 811 (2008), appendix B (printed); water of
 * 998.2 kg/m3. */
#define PSI (4.4482216152605 / (0.0254 * 0.0254) / (998.2 * 9.80665))
#define KPA (1000.0 / (998.2 * 9.80665))
#define GPM (3.785411784e-3 / 60.0)
#define FOOT 0.3048
#define INCH 0.0254

/* Every key but those that exclude each other. */
static const char full_text[] =
    "{\"$schema\": 5, \"version\": 1.0, \"title\": \"Lower field\", \"units\": \"us\", \"note\": "
    "[1],\n"
    "\"source\": {\"pump\": {\"curve\": [[0, 120], [40, \"30 m\"]], \"lift\": 7},\n"
    "  \"flow_limit\": 60, \"storage\": \"2 acre-ft\", \"refill\": \"3 gph\",\n"
    "  \"suction\": {\"pipe\": \"three\", \"length\": 12, \"height\": 5, \"altitude\": 1500,\n"
    "    \"temperature\": \"25 C\", \"npsh_required\": 9}},\n"
    "\"headworks\": [{\"part\": \"screen filter\", \"loss\": 3, \"at_flow\": 40, \"holds\": 30,\n"
    "  \"min_flow\": 2, \"max_flow\": 80, \"max_pressure\": 100, \"dirty_loss\": 5}],\n"
    "\"mainline\": [\n"
    "  {\"name\": \"A\", \"pipe\": \"three\", \"length\": 200, \"rise\": -3, \"fittings\": 10},\n"
    "  {\"name\": \"B\", \"pipe\": {\"inside_diameter\": \"1 1/2 in\"}, \"length\": 10},\n"
    "  {\"name\": \"C\", \"pipe\": \"three\", \"length\": 10, \"from\": \"A\"},\n"
    "  {\"name\": \"D\", \"pipe\": \"three\", \"length\": 10, \"from\": \"headworks\"}],\n"
    "\"pipes\": {\"note\": {}, \"three\": {\"inside_diameter\": 3.2, \"c\": 145,\n"
    "  \"max_pressure\": 160, \"price\": 2, \"kind\": \"layflat\"}},\n"
    "\"tapes\": {\"note\": 0,\n"
    "  \"t\": {\"flow\": 0.45, \"at_pressure\": 8, \"exponent\": 0.48, \"emitter_spacing\": 12,\n"
    "    \"inside_diameter\": \"5/8 in\", \"c\": 138, \"emitter_loss\": 4, \"cv\": 0.02,\n"
    "    \"min_pressure\": 5, \"max_pressure\": 14, \"wall\": \"8 mil\",\n"
    "    \"connector\": {\"loss\": 0.2, \"at_flow\": 1}, \"roll_length\": 7500,\n"
    "    \"roll_price\": 180},\n"
    "  \"pc\": {\"emitter_flow\": 0.25, \"holds_from\": 7, \"holds_to\": \"2.5 bar\",\n"
    "    \"at_pressure\": 10, \"emitter_spacing\": 18, \"inside_diameter\": 0.6}},\n"
    "\"zones\": [\n"
    "  {\"name\": \"1\", \"on\": \"C\", \"rise\": 2, \"valve\": {\"part\": \"gate\", \"loss\": "
    "1},\n"
    "   \"regulator\": {\"holds\": 12, \"place\": \"header\"},\n"
    "   \"header\": {\"sections\": [{\"pipe\": \"three\", \"length\": 30}, {\"pipe\": "
    "\"three\"}],\n"
    "     \"feed\": 20, \"slope\": 1.5, \"lead\": 40},\n"
    "   \"beds\": [{\"count\": 16, \"length\": 300, \"last_length\": 200, \"spacing\": 6,\n"
    "     \"gap\": 3, \"tape\": \"t\", \"tapes\": 2, \"rows\": 2, \"slope\": -2,\n"
    "     \"bed_width\": 32, \"plant_spacing\": 18},\n"
    "    {\"count\": 2, \"length\": 100, \"spacing\": 5, \"tape\": \"pc\", \"sides\": \"both\",\n"
    "     \"profile\": [[0, 10], [50, 11], [80, 9]], \"other_length\": 150,\n"
    "     \"other_slope\": 3}],\n"
    "   \"water\": {\"note\": 1, \"need\": \"1.4 in/week\", \"area\": \"bed\", \"efficiency\": "
    "80,\n"
    "     \"leaching\": 10, \"every\": 2, \"soil\": \"sandy loam\", \"root_depth\": 10,\n"
    "     \"allowed_depletion\": 40, \"wetted_width\": 20, \"season\": {\"planting\": "
    "\"2026-05-01\", \"crop\": \"tomato\"}}},\n"
    "  {\"name\": \"2\", \"header\": {\"pipe\": \"three\",\n"
    "     \"profile\": [[0, 0], [\"10 ft\", \"-6 in\"]], \"feed\": \"middle\"},\n"
    "   \"beds\": [{\"count\": 3, \"length\": 100, \"spacing\": 5, \"tape\": \"t\",\n"
    "     \"sides\": \"both\", \"other_profile\": [[0, 5], [50, 6]]}]}],\n"
    "\"sets\": [[\"2\", \"1\"]],\n"
    "\"water\": {\"need_per_length\": 60, \"hours\": 16},\n"
    "\"limits\": {\"uniformity\": 80, \"flow_variation\": 15, \"velocity\": 6,\n"
    "  \"flush_velocity\": 0.5},\n"
    "\"prices\": {\"note\": 1, \"currency\": \"USD\", \"valve\": 45, \"tee\": 0,\n"
    "  \"pipes\": {\"note\": 2, \"three\": {\"price\": 1.5, \"length\": 20},\n"
    "    \"pvc40-2in\": {\"length\": \"6 m\"}},\n"
    "  \"tapes\": {\"pc\": {\"roll_price\": 300, \"roll_length\": 3000}},\n"
    "  \"film\": {\"roll_price\": 110, \"roll_length\": 4000, \"width\": 48,\n"
    "    \"thickness\": \"1 mil\"}}}\n";

/* The least that a field file needs. */
static const char least_us[] =
    "{\"units\": \"us\", \"source\": {\"pressure\": 20},\n"
    "\"tapes\": {\"t\": {\"emitter_flow\": 0.3, \"at_pressure\": 8, \"emitter_spacing\": 12,\n"
    "  \"inside_diameter\": 0.6}},\n"
    "\"zones\": [{\"name\": \"a\", \"header\": {\"pipe\": {\"inside_diameter\": 2}},\n"
    "  \"beds\": [{\"count\": 4, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]},\n"
    " {\"name\": \"b\", \"header\": {\"pipe\": \"pvc40-2in\"},\n"
    "  \"beds\": [{\"count\": 1, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"}]}]}\n";

static void test_source(void **state)
{
    (void)state;
    struct er_field field;
    read_good(full_text, &field);
    const struct er_source *source = &field.source;
    assert_string_equal(field.title, "Lower field");
    assert_int_equal(field.system, ER_US);
    assert_int_equal(source->kind, ER_SOURCE_PUMP);
    assert_int_equal(source->curve_count, 2);
    assert_near(source->curve[0].at, 0.0);
    assert_near(source->curve[0].value, 120.0 * FOOT);
    assert_near(source->curve[1].at, 40.0 * GPM);
    assert_near(source->curve[1].value, 30.0);
    assert_near(source->lift, 7.0 * FOOT);
    assert_near(source->flow_limit, 60.0 * GPM);
    assert_near(source->storage, 2.0 * 43560.0 * FOOT * FOOT * FOOT);
    assert_near(source->refill, 3.0 * GPM / 60.0);
    assert_true(source->suction.given);
    assert_ptr_equal(source->suction.pipe, field.mainline[0].pipe);
    assert_near(source->suction.length, 12.0 * FOOT);
    assert_near(source->suction.height, 5.0 * FOOT);
    assert_near(source->suction.altitude, 1500.0 * FOOT);
    assert_near(source->suction.temperature, 25.0);
    assert_near(source->suction.npsh_required, 9.0 * FOOT);
    er_field_release(&field);
}

static void test_headworks_and_mainline(void **state)
{
    (void)state;
    struct er_field field;
    read_good(full_text, &field);
    assert_int_equal(field.headworks_count, 1);
    const struct er_part *part = &field.headworks[0];
    assert_string_equal(part->name, "screen filter");
    assert_near(part->loss, 3.0 * PSI);
    assert_near(part->at_flow, 40.0 * GPM);
    assert_near(part->holds, 30.0 * PSI);
    assert_near(part->min_flow, 2.0 * GPM);
    assert_near(part->max_flow, 80.0 * GPM);
    assert_near(part->max_pressure, 100.0 * PSI);
    assert_near(part->dirty_loss, 5.0 * PSI);
    assert_int_equal(field.section_count, 4);
    const struct er_section *section = field.mainline;
    assert_string_equal(section[0].name, "A");
    assert_near(section[0].length, 200.0 * FOOT);
    assert_near(section[0].rise, -3.0 * FOOT);
    assert_near(section[0].fittings, 0.1);
    assert_true(section[0].from == ER_HEADWORKS);
    assert_int_equal(section[1].from, 0);
    assert_near(section[1].pipe->inside_diameter, 1.5 * INCH);
    assert_near(section[1].pipe->c, 150.0);
    assert_null(section[1].pipe->name);
    assert_int_equal(section[2].from, 0);
    assert_true(section[3].from == ER_HEADWORKS);
    const struct er_pipe *pipe = section[0].pipe;
    assert_string_equal(pipe->name, "three");
    assert_near(pipe->inside_diameter, 3.2 * INCH);
    assert_near(pipe->c, 145.0);
    assert_near(pipe->max_pressure, 160.0 * PSI);
    assert_int_equal(pipe->kind, ER_PIPE_LAYFLAT);
    assert_near(pipe->price, 2.0 / FOOT);
    er_field_release(&field);
}

static void test_tapes(void **state)
{
    (void)state;
    struct er_field field;
    read_good(full_text, &field);
    const struct er_tape *tape = field.zones[0].groups[0].tape;
    assert_string_equal(tape->name, "t");
    assert_near(tape->emitter_flow, 0.45 * GPM / 100.0); /* 12 in of 0.45 gpm per 100 ft */
    assert_near(tape->at_pressure, 8.0 * PSI);
    assert_near(tape->exponent, 0.48);
    assert_near(tape->holds_from, (double)NAN);
    assert_near(tape->emitter_spacing, FOOT);
    assert_near(tape->inside_diameter, 0.625 * INCH);
    assert_near(tape->c, 138.0);
    assert_near(tape->emitter_loss, 4.0 * INCH);
    assert_near(tape->cv, 0.02);
    assert_near(tape->min_pressure, 5.0 * PSI);
    assert_near(tape->max_pressure, 14.0 * PSI);
    assert_near(tape->wall, 0.008 * INCH);
    assert_non_null(tape->connector);
    assert_near(tape->connector->loss, 0.2 * PSI);
    assert_near(tape->connector->at_flow, GPM);
    assert_near(tape->roll_length, 7500.0 * FOOT);
    assert_near(tape->roll_price, 180.0);
    const struct er_tape *holding = field.zones[0].groups[1].tape;
    assert_near(holding->emitter_flow, 0.25 * GPM / 60.0);
    assert_near(holding->exponent, (double)NAN);
    assert_near(holding->holds_from, 7.0 * PSI);
    assert_near(holding->holds_to, 250.0 * KPA);
    assert_near(holding->at_pressure, 10.0 * PSI);
    assert_null(holding->connector);
    er_field_release(&field);
}

static void test_zones(void **state)
{
    (void)state;
    struct er_field field;
    read_good(full_text, &field);
    const struct er_zone *zone = &field.zones[0];
    assert_int_equal(field.zone_count, 2);
    assert_string_equal(zone->name, "1");
    assert_int_equal(zone->on, 2);
    assert_int_equal(field.zones[1].on, 3);
    assert_near(zone->rise, 2.0 * FOOT);
    assert_string_equal(zone->valve->name, "gate");
    assert_near(zone->valve->at_flow, (double)NAN);
    assert_near(zone->regulator->holds, 12.0 * PSI);
    assert_true(zone->regulator_at_header);
    assert_int_equal(zone->header.piece_count, 2);
    assert_near(zone->header.pieces[0].length, 30.0 * FOOT);
    assert_true(isinf(zone->header.pieces[1].length));
    assert_int_equal(zone->header.feed, ER_FEED_AT);
    assert_near(zone->header.feed_distance, 20.0 * FOOT);
    assert_near(zone->header.ground.slope, 0.015);
    assert_near(zone->header.lead, 40.0 * FOOT);
    assert_int_equal(field.zones[1].header.feed, ER_FEED_MIDDLE);
    assert_int_equal(field.zones[1].header.piece_count, 1);
    assert_near(er_ground_elevation(&field.zones[1].header.ground, 20.0 * FOOT), -FOOT);
    assert_int_equal(field.set_count, 1);
    assert_int_equal(field.sets[0].zone_count, 2);
    assert_int_equal(field.sets[0].zones[0], 1);
    assert_int_equal(field.sets[0].zones[1], 0);
    er_field_release(&field);
}

static void test_beds(void **state)
{
    (void)state;
    struct er_field field;
    read_good(full_text, &field);
    const struct er_bed_group *group = field.zones[0].groups;
    assert_int_equal(field.zones[0].group_count, 2);
    assert_int_equal(group->count, 16);
    assert_near(group->length, 300.0 * FOOT);
    assert_near(group->last_length, 200.0 * FOOT);
    assert_near(group->spacing, 6.0 * FOOT);
    assert_near(group->gap, 3.0 * FOOT);
    assert_int_equal(group->tapes, 2);
    assert_int_equal(group->rows, 2);
    assert_near(group->ground.slope, -0.02);
    assert_near(group->bed_width, 32.0 * INCH);
    assert_near(group->plant_spacing, 18.0 * INCH);
    assert_false(group->both_sides);
    const struct er_bed_group *both = &group[1];
    assert_true(both->both_sides);
    assert_near(both->last_length, 100.0 * FOOT);
    assert_near(both->other_length, 150.0 * FOOT);
    assert_near(both->other_ground.slope, 0.03);
    assert_int_equal(both->other_ground.count, 0);
    assert_int_equal(both->ground.count, 3);
    assert_near(er_ground_elevation(&both->ground, 25.0 * FOOT), 0.5 * FOOT);
    assert_near(er_ground_elevation(&both->ground, 95.0 * FOOT), -2.0 * FOOT);
    const struct er_bed_group *third = field.zones[1].groups;
    assert_near(third->other_length, 100.0 * FOOT);
    assert_near(er_ground_elevation(&third->other_ground, 100.0 * FOOT), 2.0 * FOOT);
    er_field_release(&field);
}

static void test_water_and_limits(void **state)
{
    (void)state;
    struct er_field field;
    read_good(full_text, &field);
    const struct er_water *water = &field.zones[0].water;
    assert_true(field.has_water);
    assert_near(field.hours, 16.0 * 3600.0);
    assert_int_equal(water->need_kind, ER_NEED_DEPTH);
    assert_near(water->need, 0.2 * INCH);
    assert_true(water->area_is_bed);
    assert_near(water->efficiency, 0.8);
    assert_near(water->leaching, 0.1);
    assert_near(water->every, 2.0);
    assert_string_equal(water->soil->name, "sandy loam");
    assert_near(water->root_depth, 10.0 * INCH);
    assert_near(water->allowed_depletion, 0.4);
    assert_near(water->wetted_width, 20.0 * INCH);
    const struct er_water *farm = &field.zones[1].water;
    assert_int_equal(farm->need_kind, ER_NEED_PER_LENGTH);
    assert_near(farm->need, 60.0 * 3.785411784e-3 / (100.0 * FOOT));
    assert_null(farm->soil);
    assert_near(field.limits.uniformity, 0.8);
    assert_near(field.limits.flow_variation, 0.15);
    assert_near(field.limits.velocity, 6.0 * FOOT);
    assert_near(field.limits.flush_velocity, 0.5 * FOOT);
    er_field_release(&field);
}

/* The defaults that field-wide keys and one zone have. */
static void check_defaults(const struct er_field *field)
{
    const bool us = field->system == ER_US;
    const struct er_zone *zone = &field->zones[0];
    const struct er_bed_group *group = zone->groups;
    const struct er_tape *tape = group->tape;
    assert_near(tape->exponent, 0.5);
    assert_near(tape->c, 140.0);
    assert_near(tape->emitter_loss, 0.0);
    assert_near(tape->cv, 0.03);
    assert_near(tape->min_pressure, us ? 4.0 * PSI : 28.0 * KPA);
    assert_near(tape->max_pressure, us ? 15.0 * PSI : 100.0 * KPA);
    assert_near(tape->wall, (double)NAN);
    assert_near(zone->header.pieces[0].pipe->c, 150.0);
    assert_near(zone->header.pieces[0].pipe->max_pressure, (double)NAN);
    assert_int_equal(zone->header.pieces[0].pipe->kind, ER_PIPE_KIND_UNKNOWN);
    assert_true(isinf(zone->header.pieces[0].length));
    assert_int_equal(zone->header.feed, ER_FEED_FIRST);
    assert_near(zone->header.lead, 0.0);
    assert_near(zone->rise, 0.0);
    assert_true(zone->on == ER_HEADWORKS);
    assert_null(zone->valve);
    assert_null(zone->regulator);
    assert_int_equal(group->tapes, 1);
    assert_int_equal(group->rows, 1);
    assert_near(group->gap, 0.0);
    assert_near(group->last_length, group->length);
    assert_near(group->ground.slope, 0.0);
    assert_false(group->both_sides);
    assert_near(group->bed_width, us ? 30.0 * INCH : 0.76);
    assert_near(group->plant_spacing, (double)NAN);
    assert_int_equal(zone->water.need_kind, ER_NEED_NONE);
    assert_near(zone->water.efficiency, (double)NAN);
    assert_near(zone->water.leaching, 0.0);
    assert_near(zone->water.every, 1.0);
    assert_near(zone->water.root_depth, us ? 12.0 * INCH : 0.3);
    assert_near(zone->water.allowed_depletion, 0.5);
    assert_near(zone->water.wetted_width, (double)NAN);
    assert_false(zone->water.area_is_bed);
    assert_near(field->limits.uniformity, 0.85);
    assert_near(field->limits.flow_variation, 0.2);
    assert_near(field->limits.velocity, us ? 5.0 * FOOT : 1.5);
    assert_near(field->limits.flush_velocity, us ? FOOT : 0.3);
    assert_false(field->has_water);
    assert_near(field->source.flow_limit, (double)NAN);
    assert_near(field->source.storage, (double)NAN);
    assert_near(field->source.refill, (double)NAN);
    assert_false(field->source.suction.given);
}

static void test_defaults(void **state)
{
    (void)state;
    struct er_field field;
    read_good(least_us, &field);
    check_defaults(&field);
    assert_null(field.title);
    assert_near(field.source.pressure, 20.0 * PSI);
    assert_int_equal(field.set_count, 2);
    assert_int_equal(field.sets[1].zones[0], 1);
    assert_string_equal(field.zones[1].header.pieces[0].pipe->name, "pvc40-2in");
    assert_near(field.zones[1].header.pieces[0].pipe->inside_diameter, 2.058 * INCH);
    er_field_release(&field);
    char *metric = changed(least_us, "\"us\"", "\"metric\"");
    read_good(metric, &field);
    check_defaults(&field);
    assert_near(field.source.pressure, 20.0 * KPA);
    assert_near(field.zones[0].groups[0].spacing, 6.0);
    er_field_release(&field);
    free(metric);
}

static void read_with_source(const char *source, struct er_field *field)
{
    char *text = changed(least_us, "{\"pressure\": 20}", source);
    read_good(text, field);
    free(text);
}

static void test_source_kinds(void **state)
{
    (void)state;
    struct er_field field;
    read_with_source("{\"curve\": [[0, 50], [10, 40], [30, 40]]}", &field);
    assert_int_equal(field.source.kind, ER_SOURCE_CURVE);
    assert_near(field.source.curve[2].value, 40.0 * PSI);
    er_field_release(&field);
    read_with_source("{\"test\": {\"static\": 50, \"volume\": 5, \"time\": \"30 s\"}}", &field);
    assert_int_equal(field.source.kind, ER_SOURCE_TEST);
    assert_near(field.source.static_pressure, 50.0 * PSI);
    assert_near(field.source.test_flow, 10.0 * GPM);
    assert_near(field.source.test_pressure, 0.0);
    er_field_release(&field);
    read_with_source("{\"test\": {\"static\": 50, \"flow\": 12, \"pressure\": 20}}", &field);
    assert_near(field.source.test_flow, 12.0 * GPM);
    assert_near(field.source.test_pressure, 20.0 * PSI);
    er_field_release(&field);
    read_with_source("{\"pump\": {\"curve\": [[0, 90], [40, 60]], \"lift\": -4}, \"suction\": {}}",
                     &field);
    assert_near(field.source.suction.height, -4.0 * FOOT);
    assert_near(field.source.suction.altitude, 0.0);
    assert_near(field.source.suction.temperature, 20.0);
    assert_null(field.source.suction.pipe);
    er_field_release(&field);
}

/* Reads the least field with this water at the top and in its first zone; NULL: none. */
static void read_with_water(const char *farm, const char *zone, struct er_field *field)
{
    char member[400];
    snprintf(member, sizeof member, "{\"units\": \"us\"%s%s,",
             farm == NULL ? "" : ", \"water\": ", farm == NULL ? "" : farm);
    char *first = changed(least_us, "{\"units\": \"us\",", member);
    snprintf(member, sizeof member, "\"name\": \"a\"%s%s,",
             zone == NULL ? "" : ", \"water\": ", zone == NULL ? "" : zone);
    char *text = changed(first, "\"name\": \"a\",", member);
    read_good(text, field);
    free(text);
    free(first);
}

/* 60 gal on 100 ft in m3/m, as if it were a depth in inches. */
#define SIXTY_GALLONS (60.0 * ER_GALLON / (100.0 * FOOT) / INCH)

/* A zone's water replaces the farm's key by key, but the need as a whole. */
static void test_water_of_zones(void **state)
{
    (void)state;
    static const struct {
        const char *farm;
        const char *zone;
        double first, second; /* needs of the two zones, in/day */
    } cases[] = {
        {"{\"need\": 0.2}", NULL, 0.2, 0.2},
        {"{\"need\": 0.2}", "{\"every\": 2}", 0.2, 0.2},
        {"{\"need\": 0.2}", "{\"need\": 0.3}", 0.3, 0.2},
        {"{\"need\": 0.2}", "{\"eto\": 0.25, \"kc\": 1.2}", 0.3, 0.2},
        {"{\"need\": 0.2}", "{\"need_per_length\": 60}", SIXTY_GALLONS, 0.2},
        {"{\"need_per_length\": 60}", "{\"eto\": 0.25, \"kc\": 1.2}", 0.3, SIXTY_GALLONS},
        {"{\"eto\": 0.25, \"kc\": 0.8}", "{\"need\": 0.3}", 0.3, 0.2},
        {"{\"eto\": 0.25, \"kc\": 0.8}", "{\"kc\": 1.2}", 0.3, 0.2},
        {"{\"eto\": 0.25, \"kc\": 0.8}", "{\"eto\": 0.5}", 0.4, 0.2},
        {"{\"eto\": 0.2, \"kc\": 0.8}", "{\"crop\": \"tomato\", \"stage\": \"mid\"}", 0.23, 0.16},
        {"{\"eto\": 0.2, \"crop\": \"tomato\", \"stage\": \"mid\"}", "{\"stage\": \"initial\"}",
         0.12, 0.23},
        {"{\"eto\": 0.2, \"crop\": \"tomato\", \"stage\": \"end\"}", "{\"kc\": 1}", 0.2, 0.16},
        {"{\"eto\": 0.2, \"kc\": 1, \"mulch_factor\": 0.7}", "{\"mulch_factor\": 0.9}", 0.18, 0.14},
        {NULL, "{\"need\": 0.2}", 0.2, (double)NAN},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct er_field field;
        read_with_water(cases[i].farm, cases[i].zone, &field);
        assert_near(field.zones[0].water.need, cases[i].first * INCH);
        assert_near(field.zones[1].water.need, cases[i].second * INCH);
        assert_true(field.has_water);
        er_field_release(&field);
    }
}

/* The pointers of all assumptions, each behind a blank. */
static void list_assumptions(const struct er_field *field, char *list, size_t size)
{
    list[0] = '\0';
    for (size_t i = 0; i < field->assumption_count; i++) {
        const size_t used = strlen(list);
        snprintf(list + used, size - used, " %s", field->assumptions[i].pointer);
        assert_non_null(field->assumptions[i].text);
    }
}

static const char least_assumed[] =
    " /tapes/t/exponent /tapes/t/c /tapes/t/emitter_loss /tapes/t/cv"
    " /tapes/t/min_pressure /tapes/t/max_pressure"
    " /zones/0/header/pipe/c";

static void check_assumed(const char *farm, const char *zone, const char *wanted)
{
    struct er_field field;
    char list[800];
    read_with_water(farm, zone, &field);
    list_assumptions(&field, list, sizeof list);
    assert_int_equal(strncmp(list, least_assumed, strlen(least_assumed)), 0);
    assert_string_equal(list + strlen(least_assumed), wanted);
    er_field_release(&field);
}

static void test_assumptions(void **state)
{
    (void)state;
    check_assumed(NULL, NULL, "");
    check_assumed("{\"hours\": 12}", NULL, "");
    check_assumed("{\"need\": 0.2, \"hours\": 12, \"efficiency\": 90}", NULL, "");
    check_assumed("{\"need\": 0.2}", NULL, " /water/efficiency /water/hours");
    check_assumed("{\"need\": 0.2}", "{\"efficiency\": 80}", " /water/efficiency /water/hours");
    check_assumed(NULL, "{\"need\": 0.2}", " /zones/0/water/efficiency /water/hours");
    check_assumed(NULL, "{\"need\": 0.2, \"soil\": \"clay\", \"efficiency\": 90}",
                  " /water/hours /zones/0/water/root_depth /zones/0/water/allowed_depletion"
                  " /zones/0/water/wetted_width");
    check_assumed("{\"need\": 0.2, \"soil\": \"clay\", \"root_depth\": 8}", NULL,
                  " /water/efficiency /water/hours /water/allowed_depletion /water/wetted_width");
    check_assumed(
        "{\"need\": 0.2, \"soil\": {\"name\": \"clay\", \"spread\": 20}, \"root_depth\": 8}", NULL,
        " /water/efficiency /water/hours /water/allowed_depletion");
    check_assumed("{\"soil\": \"clay\"}", NULL, "");
}

/* An assumption's value, and what it belongs to. */
static void test_assumption_values(void **state)
{
    (void)state;
    struct er_field field;
    read_with_water("{\"need\": 0.2, \"soil\": \"clay\"}", NULL, &field);
    const struct er_assumption *assumed = field.assumptions;
    assert_ptr_equal(assumed[0].of, field.zones[0].groups[0].tape);
    assert_near(assumed[0].value, 0.5);
    assert_int_equal(assumed[0].quantity, ER_QUANTITY_COUNT);
    assert_string_equal(assumed[0].unit, "");
    assert_near(assumed[4].value, 4.0 * PSI);
    assert_int_equal(assumed[4].quantity, ER_PRESSURE);
    assert_null(assumed[4].unit);
    assert_ptr_equal(assumed[6].of, field.zones[0].header.pieces[0].pipe);
    assert_near(assumed[6].value, 150.0);
    assert_near(assumed[7].value, 90.0);
    assert_string_equal(assumed[7].unit, "percent");
    assert_null(assumed[7].of);
    assert_near(assumed[8].value, 20.0 * 3600.0);
    assert_near(assumed[9].value, 12.0 * INCH);
    assert_near(assumed[10].value, 50.0);
    assert_string_equal(assumed[10].unit, "percent");
    assert_near(assumed[11].value, 24.0 * INCH);
    er_field_release(&field);
}

/* Names with the two characters that a JSON Pointer must escape. */
static void test_escaped_pointer(void **state)
{
    (void)state;
    struct er_field field;
    char *first = changed(least_us, "{\"t\": ", "{\"5/8 ~ in\": ");
    char *second = changed(first, "\"count\": 4, \"length\": 100, \"spacing\": 6, \"tape\": \"t\"",
                           "\"count\": 4, \"length\": 100, \"spacing\": 6, "
                           "\"tape\": \"5/8 ~ in\"");
    char *third = changed(second, "\"tape\": \"t\"", "\"tape\": \"5/8 ~ in\"");
    read_good(third, &field);
    assert_string_equal(field.assumptions[0].pointer, "/tapes/5~18 ~0 in/exponent");
    er_field_release(&field);
    free(third);
    free(second);
    free(first);
}

/* A file that counts ten thousand zones is read in a moment, names, sets and all. */
static void test_many_zones(void **state)
{
    (void)state;
    enum { ZONES = 10000, ROOM = 200 };
    char *text = malloc((size_t)ZONES * ROOM + 1000);
    assert_non_null(text);
    int used = sprintf(text, "{\"units\": \"metric\", \"source\": {\"pressure\": 200}, "
                             "\"zones\": [");
    for (int i = 0; i < ZONES; i++) {
        used += sprintf(text + used,
                        "%s{\"name\": \"%d\", \"header\": {\"pipe\": \"pvc40-2in\"}, \"beds\": "
                        "[{\"count\": 2, \"length\": 50, \"spacing\": 2, "
                        "\"tape\": \"tape-16mm-12in-0.45\"}]}",
                        i == 0 ? "" : ",", i);
    }
    used += sprintf(text + used, "], \"sets\": [");
    for (int i = ZONES - 1; i >= 0; i--) {
        used += sprintf(text + used, "[\"%d\"]%s", i, i > 0 ? "," : "");
    }
    sprintf(text + used, "]}");
    struct er_field field;
    read_good(text, &field);
    assert_int_equal(field.zone_count, ZONES);
    assert_int_equal(field.sets[0].zones[0], ZONES - 1);
    assert_ptr_equal(field.zones[0].groups[0].tape, field.zones[ZONES - 1].groups[0].tape);
    er_field_release(&field);
    free(text);
}

static void test_bed_lengths_and_emitters(void **state)
{
    (void)state;
    const struct er_tape tape = {.emitter_spacing = FOOT};
    assert_int_equal(er_tape_emitters(&tape, 300.0 * FOOT), 300);
    assert_int_equal(er_tape_emitters(&tape, 299.999 * FOOT), 299);
    assert_int_equal(er_tape_emitters(&tape, 0.9 * FOOT), 0);
    assert_int_equal(er_tape_emitters(&tape, (double)NAN), 0);
    const struct er_tape unread = {.emitter_spacing = 0.0};
    assert_int_equal(er_tape_emitters(&unread, 300.0), 0);
    assert_true(er_tape_emitters(&tape, 1e300) == SIZE_MAX);
    const struct er_bed_group group = {
        .count = 5, .length = 100.0, .last_length = 60.0, .other_length = 50.0};
    assert_near(er_bed_length(&group, 0, false), 100.0);
    assert_near(er_bed_length(&group, 1, false), 90.0);
    assert_near(er_bed_length(&group, 4, false), 60.0);
    assert_near(er_bed_length(&group, 2, true), 40.0);
    assert_near(er_bed_length(&group, 4, true), 30.0);
    assert_near(er_pipe_area(2.0), 3.14159265358979323846);
}

/* Whether a text is read with `to` in the place of `from`. */
static bool reads_with(const char *text, const char *from, const char *to)
{
    struct er_problems problems;
    struct er_field field;
    char *other = changed(text, from, to);
    er_problems_init(&problems);
    const bool good = read_text(other, &field, &problems) == ER_OK;
    er_problems_release(&problems);
    er_field_release(&field);
    free(other);
    return good;
}

/* From below the lowest shore to above the highest fields there are, ends included. */
static void test_altitudes(void **state)
{
    (void)state;
    static const char pump[] = "\"altitude\": 1500";
    assert_true(reads_with(full_text, pump, "\"altitude\": \"9000 m\""));
    assert_false(reads_with(full_text, pump, "\"altitude\": \"9001 m\""));
    assert_true(reads_with(full_text, pump, "\"altitude\": \"-1000 m\""));
    assert_false(reads_with(full_text, pump, "\"altitude\": \"-1001 m\""));
    char *weather = changed(full_text, "\"version\": 1.0,",
                            "\"version\": 1.0, \"weather\": {\"latitude\": 40, \"altitude\": 7, "
                            "\"records\": [{\"date\": \"2026-05-02\", \"t_max\": 77, \"t_min\": "
                            "50}]},");
    static const char station[] = "\"altitude\": 7";
    assert_true(reads_with(weather, station, "\"altitude\": \"9000 m\""));
    assert_false(reads_with(weather, station, "\"altitude\": \"9001 m\""));
    assert_true(reads_with(weather, station, "\"altitude\": \"-500 m\""));
    assert_false(reads_with(weather, station, "\"altitude\": \"-501 m\""));
    free(weather);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_altitudes),
        cmocka_unit_test(test_source),
        cmocka_unit_test(test_headworks_and_mainline),
        cmocka_unit_test(test_tapes),
        cmocka_unit_test(test_zones),
        cmocka_unit_test(test_beds),
        cmocka_unit_test(test_water_and_limits),
        cmocka_unit_test(test_defaults),
        cmocka_unit_test(test_source_kinds),
        cmocka_unit_test(test_water_of_zones),
        cmocka_unit_test(test_assumptions),
        cmocka_unit_test(test_assumption_values),
        cmocka_unit_test(test_escaped_pointer),
        cmocka_unit_test(test_many_zones),
        cmocka_unit_test(test_bed_lengths_and_emitters),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
