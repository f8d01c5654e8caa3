/* The writers of a result, each on a result filled in by hand. */
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "report/check/report.h"
#include "report/report.h"
#include "report_pages.h"
#include "say/csv.h"
#include "say/json.h"

/* ---- a result by hand ---- */

static const struct er_finding two_findings[] = {
    {ER_SOURCE_FLOW, ER_PLACE_SET, 0,
     "set 1 needs 47.2 gpm, and the source gives 40 gpm at the most. Split its beds into 2 sets, "
     "or find 7.2 gpm more."},
    {ER_VELOCITY_HIGH, ER_PLACE_ZONE, 1,
     "zone \"=up\" has 5.4 ft/s in its header; the limit is 5 ft/s. Take the next larger pipe."}};

static const struct er_assumption one_assumption[] = {
    {"/tapes/t/min_pressure", 4.0 * 2.3108 * ER_FOOT, ER_PRESSURE, NULL,
     "least pressure of tape t: common practice", NULL, false},
    {"/tapes/t/exponent", 0.5, ER_QUANTITY_COUNT, "", "exponent of tape t", NULL, false}};

struct fixture {
    struct er_zone zones[2];
    size_t set_zones[2];
    struct er_set sets[1];
    struct er_section sections[1];
    struct er_field field;
    struct er_zone_result zone_results[2];
    struct er_set_result set_results[1];
    struct er_section_result section_results[1];
    struct er_result result;
};

static double psi(double value) { return er_to_si(ER_PRESSURE, ER_US, value); }
static double gpm(double value) { return er_to_si(ER_FLOW, ER_US, value); }

static struct er_zone_result make_zone(size_t place)
{
    double area = 40000.0 * ER_FOOT * ER_FOOT;
    return (struct er_zone_result){.zone = place,
                                   .set = 0,
                                   .beds = 20,
                                   .tape_length = 6000.0 * ER_FOOT,
                                   .emitters = 6000.0,
                                   .area = area,
                                   .bed_area = area / 2.0,
                                   .bed_length = 6000.0 * ER_FOOT,
                                   .flow = gpm(23.6),
                                   .join_pressure = psi(20.0),
                                   .inlet_pressure = psi(10.0),
                                   .tape_inlet_pressure = {psi(9.25), psi(9.95)},
                                   .far_end_pressure = psi(8.0),
                                   .emitter_pressure = {psi(8.0), psi(9.9)},
                                   .emitter_flow = {er_to_si(ER_EMITTER_FLOW, ER_US, 0.22),
                                                    er_to_si(ER_EMITTER_FLOW, ER_US, 0.26)},
                                   .mean_emitter_flow = er_to_si(ER_EMITTER_FLOW, ER_US, 0.24),
                                   .emission_uniformity = 0.9125,
                                   .flow_variation = 0.15384,
                                   .christiansen = 0.97,
                                   .low_quarter = 0.95,
                                   .statistical_uniformity = 0.96,
                                   .header_velocity = er_to_si(ER_VELOCITY, ER_US, 3.5),
                                   .gross_depth = 0.25 * ER_INCH,
                                   .run_time = 4.0 * 3600.0,
                                   .gross_per_length = er_to_si(ER_VOLUME_PER_LENGTH, ER_US, 94.4),
                                   .time_per_depth_spacing = 3600.0 / ER_INCH,
                                   .time_per_depth_bed = 0.5 * 3600.0 / ER_INCH,
                                   .efficiency = 0.9,
                                   .holding = (double)NAN,
                                   .pulses = 1,
                                   .flush_velocity = (double)NAN};
}

/* Two zones in one set, one mainline section, two findings, two assumptions. */
static void fill(struct fixture *f)
{
    memset(f, 0, sizeof *f);
    f->zones[0].name = "low";
    f->zones[1].name = "=up";
    f->zones[0].water.every = f->zones[1].water.every = 1.0;
    f->set_zones[1] = 1;
    f->sets[0] = (struct er_set){2, f->set_zones};
    f->sections[0].name = "A";
    f->field = (struct er_field){.title = "Alder Bend Farm, lower field",
                                 .system = ER_US,
                                 .section_count = 1,
                                 .mainline = f->sections,
                                 .zone_count = 2,
                                 .zones = f->zones,
                                 .set_count = 1,
                                 .sets = f->sets,
                                 .has_water = true,
                                 .hours = 20.0 * 3600.0};
    f->field.source.flow_limit = gpm(40.0);
    f->field.source.storage = f->field.source.refill = (double)NAN;
    f->field.limits.uniformity = 0.85;
    f->field.limits.flow_variation = 0.2;
    f->zone_results[0] = make_zone(0);
    f->zone_results[1] = make_zone(1);
    f->set_results[0] =
        (struct er_set_result){gpm(47.2), psi(35.0), psi(30.0), gpm(40.0), 4.0 * 3600.0, 1};
    f->section_results[0] =
        (struct er_section_result){gpm(47.2), er_to_si(ER_VELOCITY, ER_US, 4.0), psi(27.0), 0};
    f->result = (struct er_result){.field = &f->field,
                                   .speaks = ER_US,
                                   .verdict = ER_FAILS,
                                   .sets = f->set_results,
                                   .zones = f->zone_results,
                                   .sections = f->section_results,
                                   .assumption_count = 2,
                                   .assumptions = one_assumption,
                                   .finding_count = 2,
                                   .findings = two_findings};
    f->result.day =
        (struct er_day_result){4.0 * 3600.0, 20.0 * 3600.0, er_to_si(ER_VOLUME, ER_US, 11328.0),
                               (double)NAN,  1.0,           4.0 * 3600.0};
}

static struct er_text write_report(enum er_told_as form, struct fixture *f, enum er_system system)
{
    struct er_text out;
    er_text_init(&out);
    assert_int_equal(er_report_as(&er_check_report, form, &f->result, system, &out), ER_OK);
    return out;
}

static double number_at(const cJSON *object, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    assert_non_null(item);
    assert_true(cJSON_IsNumber(item));
    return item->valuedouble;
}

static void assert_keys(const cJSON *object, const char *const *keys, size_t count)
{
    assert_int_equal(cJSON_GetArraySize(object), count);
    const cJSON *member = object->child;
    for (size_t i = 0; i < count; i++, member = member->next) {
        assert_string_equal(member->string, keys[i]);
    }
}

#define ASSERT_KEYS(object, ...)                                                                   \
    do {                                                                                           \
        static const char *const wanted[] = {__VA_ARGS__};                                         \
        assert_keys((object), wanted, sizeof wanted / sizeof wanted[0]);                           \
    } while (0)

/* ---- the report for a person ---- */

static void text_begins_with_the_verdict_and_its_reason(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    struct er_text out = write_report(ER_AS_TEXT, &f, ER_US);
    const char *text = er_text_string(&out);
    const char *first = "FAILS: set 1 needs 47.2 gpm, and the source gives 40 gpm at the most.\n";
    assert_memory_equal(text, first, strlen(first));
    assert_fits_page(text);
    assert_non_null(strstr(text, "1 fail and 1 caution"));
    assert_non_null(strstr(text, "Alder Bend Farm, lower field\n"));
    assert_non_null(strstr(text, "backflow"));
    er_text_release(&out);
}

static void text_answers_each_question_in_both_systems(void **state)
{
    (void)state;
    static const char *const headings[] = {"\nDoes every row get its water?\n",
                                           "\nDoes the source keep up?\n", "\nThe mainline\n",
                                           "\nHow long to run?\n", "\nThe day\n"};
    struct fixture f;
    fill(&f);
    for (enum er_system system = ER_US; system <= ER_METRIC; system++) {
        struct er_text out = write_report(ER_AS_TEXT, &f, system);
        const char *text = er_text_string(&out);
        assert_fits_page(text);
        for (size_t i = 0; i < sizeof headings / sizeof headings[0]; i++) {
            text = strstr(text, headings[i]);
            assert_non_null(text);
        }
        assert_non_null(strstr(er_text_string(&out), system == ER_US ? " psi" : " kPa"));
        assert_non_null(strstr(er_text_string(&out), "4:00"));
        er_text_release(&out);
    }
}

static void text_tells_why_a_plan_holds(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    f.result.finding_count = 0;
    f.result.verdict = ER_HOLDS;
    f.zone_results[1].emission_uniformity = 0.88;
    struct er_text out;
    er_text_init(&out);
    assert_int_equal(er_report_as(&er_verdict_report, ER_AS_TEXT, &f.result, ER_US, &out), ER_OK);
    assert_string_equal(er_text_string(&out),
                        "HOLDS: every row gets its water and the source keeps up; EU is 88 % in "
                        "the least even zone, =up.\n");
    er_text_release(&out);
}

/* The verdict and the table of zones tell the same uniformity by the same words, near its limit
 * too. */
static void verdict_and_table_agree_on_the_uniformity(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    f.result.finding_count = 0;
    f.result.verdict = ER_HOLDS;
    f.zone_results[1].emission_uniformity = 0.85004;
    struct er_text out;
    er_text_init(&out);
    assert_int_equal(er_report_as(&er_check_report, ER_AS_TEXT, &f.result, ER_US, &out), ER_OK);
    const char *verdict = strstr(er_text_string(&out), "EU is 85.004 %");
    assert_non_null(verdict);
    assert_non_null(strstr(verdict + 1, " 85.004 "));
    er_text_release(&out);
}

static void text_without_a_need_says_so(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    f.field.has_water = false;
    f.zone_results[0].run_time = f.zone_results[0].gross_depth = (double)NAN;
    f.set_results[0].run_time = (double)NAN;
    struct er_text out = write_report(ER_AS_TEXT, &f, ER_US);
    assert_non_null(strstr(er_text_string(&out), "gives no need"));
    assert_null(strstr(er_text_string(&out), "The day"));
    assert_null(strstr(er_text_string(&out), "nan"));
    er_text_release(&out);
}

/* ---- JSON ---- */

static void json_has_every_key_in_order(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    struct er_text out = write_report(ER_AS_JSON, &f, ER_US);
    cJSON *root = cJSON_Parse(er_text_string(&out));
    assert_non_null(root);
    ASSERT_KEYS(root, "evenrow", "title", "verdict", "units", "sets", "zones", "mainline",
                "suction", "day", "assumed", "findings");
    ASSERT_KEYS(cJSON_GetObjectItem(root, "units"), "length", "pressure", "flow", "emitter_flow",
                "depth", "volume", "volume_per_length", "velocity", "area");
    const cJSON *zone = cJSON_GetObjectItem(root, "zones")->child;
    ASSERT_KEYS(zone, "name", "set", "beds", "tape_length", "emitters", "area", "bed_area", "flow",
                "join_pressure", "inlet_pressure", "tape_inlet_pressure", "far_end_pressure",
                "emitter_pressure", "emitter_flow", "emission_uniformity", "flow_variation",
                "christiansen", "low_quarter", "statistical_uniformity", "header_velocity",
                "gross_depth", "run_time", "gross_per_length", "time_per_depth", "weekly_depth",
                "pulses");
    ASSERT_KEYS(cJSON_GetObjectItem(zone, "tape_inlet_pressure"), "min", "max");
    ASSERT_KEYS(cJSON_GetObjectItem(zone, "emitter_pressure"), "min", "max");
    ASSERT_KEYS(cJSON_GetObjectItem(zone, "emitter_flow"), "min", "mean", "max");
    ASSERT_KEYS(cJSON_GetObjectItem(zone, "time_per_depth"), "spacing", "bed");
    ASSERT_KEYS(cJSON_GetObjectItem(zone, "weekly_depth"), "spacing", "bed");
    ASSERT_KEYS(cJSON_GetObjectItem(root, "sets")->child, "zones", "flow", "source_pressure",
                "headworks_pressure", "source_limit", "hours");
    ASSERT_KEYS(cJSON_GetObjectItem(root, "mainline")->child, "name", "flow", "velocity",
                "end_pressure");
    ASSERT_KEYS(cJSON_GetObjectItem(root, "day"), "hours_needed", "hours_available", "volume",
                "days_of_supply");
    ASSERT_KEYS(cJSON_GetObjectItem(root, "assumed")->child, "path", "value", "unit", "text");
    ASSERT_KEYS(cJSON_GetObjectItem(root, "findings")->child, "code", "level", "zone", "text");
    assert_null(strchr(er_text_string(&out), '\t'));
    cJSON_Delete(root);
    er_text_release(&out);
}

/* What the text's tables say of source and weeks, and the pump's suction. */
static void json_has_the_figures_of_the_text(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    f.result.suction = (struct er_suction_result){
        .judged = true, .height = 2.0, .friction = 0.5, .npsh_available = 6.4};
    f.field.source.suction.npsh_required = 3.0;
    f.zone_results[0].pulses = 3;
    f.zone_results[0].weekly_depth_spacing = 0.030;
    f.zone_results[0].weekly_depth_bed = 0.072;
    struct er_text out = write_report(ER_AS_JSON, &f, ER_METRIC);
    cJSON *root = cJSON_Parse(er_text_string(&out));
    const cJSON *suction = cJSON_GetObjectItem(root, "suction");
    ASSERT_KEYS(suction, "lift", "friction", "npsh_available", "npsh_required");
    assert_true(number_at(suction, "lift") == 2.0);
    assert_true(number_at(suction, "friction") == 0.5);
    assert_true(number_at(suction, "npsh_available") == 6.4);
    assert_true(number_at(suction, "npsh_required") == 3.0);
    const cJSON *zone = cJSON_GetObjectItem(root, "zones")->child;
    assert_true(number_at(zone, "pulses") == 3.0);
    assert_true(number_at(cJSON_GetObjectItem(zone, "weekly_depth"), "spacing") == 30.0);
    assert_true(number_at(cJSON_GetObjectItem(zone, "weekly_depth"), "bed") == 72.0);
    cJSON_Delete(root);
    er_text_release(&out);

    out = write_report(ER_AS_JSON, &f, ER_US);
    root = cJSON_Parse(er_text_string(&out));
    const cJSON *set = cJSON_GetObjectItem(root, "sets")->child;
    assert_true(fabs(number_at(set, "headworks_pressure") - 30.0) < 1e-9);
    assert_true(number_at(set, "source_limit") == 40.0);
    cJSON_Delete(root);
    er_text_release(&out);
}

static void json_speaks_the_units_it_names(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    struct er_text out = write_report(ER_AS_JSON, &f, ER_US);
    cJSON *root = cJSON_Parse(er_text_string(&out));
    const cJSON *zone = cJSON_GetObjectItem(root, "zones")->child;
    assert_true(number_at(zone, "flow") == 23.6);
    assert_true(number_at(zone, "emission_uniformity") == 91.25);
    assert_true(number_at(zone, "run_time") == 4.0);
    assert_true(number_at(zone, "gross_depth") == 0.25);
    assert_true(number_at(cJSON_GetObjectItem(zone, "time_per_depth"), "spacing") == 1.0);
    assert_true(number_at(cJSON_GetObjectItem(root, "day"), "hours_available") == 20.0);
    assert_string_equal(string_at(cJSON_GetObjectItem(root, "units"), "volume_per_length"),
                        er_unit_name(ER_VOLUME_PER_LENGTH, ER_US));
    assert_true(
        cJSON_IsNull(cJSON_GetObjectItem(cJSON_GetObjectItem(root, "day"), "days_of_supply")));
    cJSON_Delete(root);
    er_text_release(&out);

    out = write_report(ER_AS_JSON, &f, ER_METRIC);
    root = cJSON_Parse(er_text_string(&out));
    zone = cJSON_GetObjectItem(root, "zones")->child;
    assert_true(number_at(zone, "gross_depth") == 6.35);
    assert_true(fabs(number_at(cJSON_GetObjectItem(zone, "time_per_depth"), "spacing") -
                     10.0 / 25.4) < 1e-11);
    cJSON_Delete(root);
    er_text_release(&out);
}

static void json_findings_name_zones_alone(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    f.field.title = NULL;
    struct er_text out = write_report(ER_AS_JSON, &f, ER_US);
    cJSON *root = cJSON_Parse(er_text_string(&out));
    assert_true(cJSON_IsNull(cJSON_GetObjectItem(root, "title")));
    const cJSON *finding = cJSON_GetObjectItem(root, "findings")->child;
    assert_string_equal(string_at(finding, "code"), "source-flow");
    assert_string_equal(string_at(finding, "level"), "fail");
    assert_true(cJSON_IsNull(cJSON_GetObjectItem(finding, "zone")));
    assert_string_equal(string_at(finding->next, "level"), "caution");
    assert_string_equal(string_at(finding->next, "zone"), "=up");
    const cJSON *assumed = cJSON_GetObjectItem(root, "assumed")->child;
    assert_string_equal(string_at(assumed, "unit"), "psi");
    assert_true(fabs(number_at(assumed, "value") - 4.0) < 1e-3);
    assert_true(cJSON_IsNull(cJSON_GetObjectItem(assumed->next, "unit")));
    cJSON_Delete(root);
    er_text_release(&out);
}

static void json_escapes_what_a_terminal_obeys(void **state)
{
    (void)state;
    struct er_text out;
    er_text_init(&out);
    struct er_json json = {.system = ER_US};
    cJSON *root = cJSON_CreateObject();
    er_json_text(&json, root, "name", "a\x1b\x7f\xc2\x9b\xc3\xa9\tb");
    er_json_number(&json, root, "none", (double)INFINITY);
    er_json_number(&json, root, "third", 1.0 / 3.0);
    assert_int_equal(er_json_end(&json, root, &out), ER_OK);
    assert_string_equal(er_text_string(&out),
                        "{\n  \"name\": \"a\\u001b\\u007f\\u009b\xc3\xa9\\tb\",\n"
                        "  \"none\": null,\n  \"third\": 0.333333333333\n}\n");
    er_text_release(&out);
}

/* ---- CSV ---- */

static void csv_has_a_row_for_each_zone(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    f.zone_results[0].gross_depth = (double)NAN;
    struct er_text out = write_report(ER_AS_CSV, &f, ER_US);
    const char *head = er_text_string(&out);
    const size_t columns = 33;
    assert_int_equal(count_commas(head), columns - 1);
    assert_non_null(strstr(head, ",flow_gpm,"));
    assert_non_null(strstr(head, ",emission_uniformity_percent,"));
    assert_non_null(strstr(head, ",gross_per_length_gal_per_100ft,"));
    assert_non_null(strstr(head, ",weekly_depth_bed_in,pulses,findings\n"));
    const char *row = strchr(head, '\n') + 1;
    assert_memory_equal(row, "low,1,20,", 9);
    assert_int_equal(count_commas(row), columns - 1);
    assert_non_null(strstr(row, ",3.5,,4,")); /* no depth where there is none */
    row = strchr(row, '\n') + 1;
    assert_memory_equal(row, "'=up,1,20,", 10);
    assert_non_null(strstr(row, ",velocity-high\n"));
    assert_int_equal(strchr(row, '\n')[1], '\0');
    er_text_release(&out);
}

static void csv_cells_are_quoted_and_harmless(void **state)
{
    (void)state;
    static const struct {
        const char *text, *cell;
    } cases[] = {{"low", "low"},         {"a,b", "\"a,b\""}, {"12\" pipe", "\"12\"\" pipe\""},
                 {"=1+1", "'=1+1"},      {"+1", "'+1"},      {"-1", "'-1"},
                 {"@x", "'@x"},          {"\tx", "'\\tx"},   {"a\nb", "a\\nb"},
                 {" pad ", "\" pad \""}, {"", ""},           {"=a,\"b\"", "\"'=a,\"\"b\"\"\""}};
    struct er_text out;
    er_text_init(&out);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        er_text_clear(&out);
        er_csv_text(&out, cases[i].text);
        assert_string_equal(er_text_string(&out), cases[i].cell);
    }
    er_text_release(&out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_begins_with_the_verdict_and_its_reason),
        cmocka_unit_test(text_answers_each_question_in_both_systems),
        cmocka_unit_test(text_tells_why_a_plan_holds),
        cmocka_unit_test(verdict_and_table_agree_on_the_uniformity),
        cmocka_unit_test(text_without_a_need_says_so),
        cmocka_unit_test(json_has_every_key_in_order),
        cmocka_unit_test(json_has_the_figures_of_the_text),
        cmocka_unit_test(json_speaks_the_units_it_names),
        cmocka_unit_test(json_findings_name_zones_alone),
        cmocka_unit_test(json_escapes_what_a_terminal_obeys),
        cmocka_unit_test(csv_has_a_row_for_each_zone),
        cmocka_unit_test(csv_cells_are_quoted_and_harmless),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
