/* The writers of a result, each on a result filled in by hand. */
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

#include <cmocka.h>

#include <cjson/cJSON.h>

#include "report/csv_text.h"
#include "report/figures.h"
#include "report/json_build.h"
#include "report/report.h"
#include "report/table.h"
#include "report/wrap.h"

/* ---- a result by hand ---- */

static const struct er_finding two_findings[] = {
    {ER_SOURCE_FLOW, ER_PLACE_SET, 0,
     "set 1 needs 47.2 gpm, and the source gives 40 gpm at the most. Split its beds into 2 sets, "
     "or find 7.2 gpm more."},
    {ER_VELOCITY_HIGH, ER_PLACE_ZONE, 1,
     "zone \"=up\" has 5.4 ft/s in its header; the limit is 5 ft/s. Take the next larger pipe."}};

static const struct er_assumption one_assumption[] = {
    {"/tapes/t/min_pressure", 4.0 * 2.3108 * ER_FOOT, ER_PRESSURE, NULL,
     "least pressure of tape t: common practice", NULL},
    {"/tapes/t/exponent", 0.5, ER_QUANTITY_COUNT, "", "exponent of tape t", NULL}};

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
    f->set_results[0] = (struct er_set_result){gpm(47.2), psi(35.0), psi(30.0), 4.0 * 3600.0};
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
    f->result.day = (struct er_day_result){4.0 * 3600.0, 20.0 * 3600.0,
                                           er_to_si(ER_VOLUME, ER_US, 11328.0), (double)NAN};
}

typedef enum er_status report_writer(const struct er_result *, enum er_system, struct er_text *);

static struct er_text write_report(report_writer *writer, struct fixture *f, enum er_system system)
{
    struct er_text out;
    er_text_init(&out);
    assert_int_equal(writer(&f->result, system, &out), ER_OK);
    return out;
}

/* No line over 80 characters, none that ends in a blank, and ASCII alone. */
static void assert_fits_page(const char *text)
{
    size_t lines = 0;
    while (*text != '\0') {
        size_t length = strcspn(text, "\n");
        assert_in_range(length, 0, ER_PAGE);
        assert_true(length == 0 || text[length - 1] != ' ');
        for (size_t i = 0; i < length; i++) {
            assert_in_range(text[i], ' ', '~');
        }
        assert_int_equal(text[length], '\n');
        text += length + 1;
        lines++;
    }
    assert_true(lines > 0);
}

static double number_at(const cJSON *object, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(object, key);
    assert_non_null(item);
    assert_true(cJSON_IsNumber(item));
    return item->valuedouble;
}

static const char *string_at(const cJSON *object, const char *key)
{
    const char *text = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(object, key));
    assert_non_null(text);
    return text;
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

/* ---- wrapping ---- */

static void line_breaks_at_the_last_blank_that_fits(void **state)
{
    (void)state;
    assert_int_equal(er_line_bytes("ab cd ef", 5), 5);
    assert_int_equal(er_line_bytes("ab cd ef", 4), 2);
    assert_int_equal(er_line_bytes("ab  cd", 3), 2);
    assert_int_equal(er_line_bytes("abcdef", 4), 4);
    assert_int_equal(er_line_bytes("ab", 4), 2);
    assert_int_equal(er_line_bytes("", 4), 0);
    assert_int_equal(er_line_bytes("\xc3\xa9\xc3\xa9\xc3\xa9", 2), 4); /* two of three letters */
}

static void paragraph_keeps_to_the_page(void **state)
{
    (void)state;
    struct er_text out;
    er_text_init(&out);
    char word[200];
    memset(word, 'x', sizeof word - 1);
    word[sizeof word - 1] = '\0';
    er_paragraph(&out, "- ", "  ", "one two");
    er_paragraph(&out, "- ", "  ", word);
    er_paragraph(&out, "", "", "a\x1b[2Jb");
    er_paragraph(&out, "", "", "");
    const char *text = er_text_string(&out);
    assert_fits_page(text);
    assert_memory_equal(text, "- one two\n- xxx", 15);
    assert_non_null(strstr(text, "\na\\x1b[2Jb\n\n"));
    er_text_release(&out);
}

/* ---- tables ---- */

static void decimals_follow_the_size(void **state)
{
    (void)state;
    static const struct {
        double size;
        int decimals;
    } cases[] = {{27190.0, 0}, {999.6, 0}, {999.4, 1}, {100.0, 1},           {47.2, 1},
                 {9.996, 1},   {9.99, 2},  {1.0, 2},   {0.9996, 2},          {0.45, 3},
                 {-0.45, 3},   {0.02, 4},  {0.0, 3},   {(double)INFINITY, 0}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        assert_int_equal(er_decimals(cases[i].size), cases[i].decimals);
    }
}

static void number_in_running_text_ends_without_zeros(void **state)
{
    (void)state;
    static const struct {
        double number;
        const char *text;
    } cases[] = {{85.0, "85"},    {0.5, "0.5"},       {0.0, "0"},
                 {-0.0, "0"},     {1200.0, "1200"},   {47.23, "47.2"},
                 {-0.00001, "0"}, {0.0375, "0.0375"}, {1e12, "1e+12"}};
    struct er_text out;
    er_text_init(&out);
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        er_text_clear(&out);
        er_append_number(&out, cases[i].number);
        assert_string_equal(er_text_string(&out), cases[i].text);
    }
    er_text_clear(&out);
    er_append_number(&out, (double)NAN);
    assert_string_equal(er_text_string(&out), "-");
    er_text_release(&out);
}

static void table_lines_up_and_shares_decimals(void **state)
{
    (void)state;
    static const struct er_column columns[] = {{"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
                                               {"beds", ER_COLUMN_WHOLE, ER_NO_UNIT},
                                               {"in", ER_COLUMN_NUMBER, ER_PRESSURE},
                                               {"far\nend", ER_COLUMN_ALIKE, ER_PRESSURE}};
    struct er_table table;
    er_table_init(&table, ER_US, columns, 4, 2);
    er_table_text(&table, 0, 0, "\xc3\xa9t\xc3\xa9");
    er_table_number(&table, 0, 1, 16.0);
    er_table_number(&table, 0, 2, psi(10.25));
    er_table_number(&table, 0, 3, psi(9.0));
    er_table_text(&table, 1, 0, "b\tc");
    er_table_number(&table, 1, 3, psi(-0.01));
    struct er_text out;
    er_text_init(&out);
    er_table_write(&table, &out);
    assert_string_equal(er_text_string(&out), "                  far\n"
                                              "              in  end\n"
                                              "zone  beds   psi  psi\n"
                                              "----  ----  ----  ---\n"
                                              "\xc3\xa9t\xc3\xa9     16  10.2  9.0\n"
                                              "b\\tc     -     -  0.0\n");
    er_table_release(&table);
    er_text_release(&out);
}

static void table_wraps_its_longest_words_and_no_figures(void **state)
{
    (void)state;
    static const struct er_column columns[] = {{"zone", ER_COLUMN_WORDS, ER_NO_UNIT},
                                               {"what", ER_COLUMN_WORDS, ER_NO_UNIT},
                                               {"flow", ER_COLUMN_NUMBER, ER_NO_UNIT}};
    struct er_table table;
    er_table_init(&table, ER_US, columns, 3, 1);
    er_table_text(&table, 0, 0,
                  "the long rows behind the old barn, from the lane down to the creek and back");
    er_table_text(&table, 0, 1, "watermelons");
    er_table_number(&table, 0, 2, 123456.0);
    struct er_text out;
    er_text_init(&out);
    er_table_write(&table, &out);
    const char *text = er_text_string(&out);
    assert_fits_page(text);
    assert_non_null(strstr(text, "lane down to     watermelons  123456\nthe creek and back\n"));
    er_table_release(&table);
    er_text_release(&out);
}

static void listed_figures_keep_their_own_decimals(void **state)
{
    (void)state;
    static const struct er_column columns[] = {{"bore", ER_COLUMN_PLAIN, ER_NO_UNIT},
                                               {"C", ER_COLUMN_PLAIN, ER_NO_UNIT},
                                               {"to", ER_COLUMN_PLAIN, ER_NO_UNIT},
                                               {"%", ER_COLUMN_TENTHS, ER_NO_UNIT}};
    static const double figures[2][4] = {{0.615, 150.0, 7.874015748, 0.0517},
                                         {6.065, 140.0, 59.05511811, 100.0}};
    struct er_table table;
    er_table_init(&table, ER_US, columns, 4, 2);
    for (size_t row = 0; row < 2; row++) {
        for (size_t column = 0; column < 4; column++) {
            er_table_number(&table, row, column, figures[row][column]);
        }
    }
    struct er_text out;
    er_text_init(&out);
    er_table_write(&table, &out);
    assert_string_equal(er_text_string(&out), " bore    C    to      %\n"
                                              "-----  ---  ----  -----\n"
                                              "0.615  150   7.9    0.1\n"
                                              "6.065  140  59.1  100.0\n");
    er_table_release(&table);
    er_text_release(&out);
}

static void empty_table_is_nothing(void **state)
{
    (void)state;
    static const struct er_column columns[] = {{"zone", ER_COLUMN_WORDS, ER_NO_UNIT}};
    struct er_table table;
    er_table_init(&table, ER_US, columns, 1, 0);
    struct er_text out;
    er_text_init(&out);
    er_table_write(&table, &out);
    assert_false(out.out_of_memory);
    assert_int_equal(out.length, 0);
    er_table_release(&table);
}

/* ---- the report for a person ---- */

static void text_begins_with_the_verdict_and_its_reason(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    struct er_text out = write_report(er_report_check_text, &f, ER_US);
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
        struct er_text out = write_report(er_report_check_text, &f, system);
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
    assert_int_equal(er_report_verdict(&f.result, &out), ER_OK);
    assert_string_equal(er_text_string(&out),
                        "HOLDS: every row gets its water and the source keeps up; EU is 88 % in "
                        "the least even zone, =up.\n");
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
    struct er_text out = write_report(er_report_check_text, &f, ER_US);
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
    struct er_text out = write_report(er_report_check_json, &f, ER_US);
    cJSON *root = cJSON_Parse(er_text_string(&out));
    assert_non_null(root);
    ASSERT_KEYS(root, "evenrow", "title", "verdict", "units", "sets", "zones", "mainline", "day",
                "assumed", "findings");
    ASSERT_KEYS(cJSON_GetObjectItem(root, "units"), "length", "pressure", "flow", "emitter_flow",
                "depth", "volume", "volume_per_length", "velocity", "area");
    const cJSON *zone = cJSON_GetObjectItem(root, "zones")->child;
    ASSERT_KEYS(zone, "name", "set", "beds", "tape_length", "emitters", "area", "bed_area", "flow",
                "join_pressure", "inlet_pressure", "tape_inlet_pressure", "far_end_pressure",
                "emitter_pressure", "emitter_flow", "emission_uniformity", "flow_variation",
                "christiansen", "low_quarter", "statistical_uniformity", "header_velocity",
                "gross_depth", "run_time", "gross_per_length", "time_per_depth");
    ASSERT_KEYS(cJSON_GetObjectItem(zone, "tape_inlet_pressure"), "min", "max");
    ASSERT_KEYS(cJSON_GetObjectItem(zone, "emitter_pressure"), "min", "max");
    ASSERT_KEYS(cJSON_GetObjectItem(zone, "emitter_flow"), "min", "mean", "max");
    ASSERT_KEYS(cJSON_GetObjectItem(zone, "time_per_depth"), "spacing", "bed");
    ASSERT_KEYS(cJSON_GetObjectItem(root, "sets")->child, "zones", "flow", "source_pressure",
                "hours");
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

static void json_speaks_the_units_it_names(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    struct er_text out = write_report(er_report_check_json, &f, ER_US);
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

    out = write_report(er_report_check_json, &f, ER_METRIC);
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
    struct er_text out = write_report(er_report_check_json, &f, ER_US);
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
    bool failed = false;
    cJSON *root = cJSON_CreateObject();
    er_build_string(root, "name", "a\x1b\x7f\xc2\x9b\xc3\xa9\tb", &failed);
    er_build_number(root, "none", (double)INFINITY, &failed);
    er_build_number(root, "third", 1.0 / 3.0, &failed);
    assert_false(failed);
    er_build_write(root, &out);
    assert_string_equal(er_text_string(&out),
                        "{\n  \"name\": \"a\\u001b\\u007f\\u009b\xc3\xa9\\tb\",\n"
                        "  \"none\": null,\n  \"third\": 0.333333333333\n}\n");
    cJSON_Delete(root);
    er_text_release(&out);
}

/* ---- CSV ---- */

static size_t count_commas(const char *line)
{
    size_t commas = 0;
    for (; *line != '\n'; line++) {
        commas += *line == ',';
    }
    return commas;
}

static void csv_has_a_row_for_each_zone(void **state)
{
    (void)state;
    struct fixture f;
    fill(&f);
    f.zone_results[0].gross_depth = (double)NAN;
    struct er_text out = write_report(er_report_check_csv, &f, ER_US);
    const char *head = er_text_string(&out);
    size_t figures;
    er_figures(&figures);
    assert_int_equal(count_commas(head), figures + 2);
    assert_non_null(strstr(head, ",flow_gpm,"));
    assert_non_null(strstr(head, ",emission_uniformity_percent,"));
    assert_non_null(strstr(head, ",gross_per_length_gal_per_100ft,"));
    assert_non_null(strstr(head, ",time_per_depth_bed_h_per_1in,findings\n"));
    const char *row = strchr(head, '\n') + 1;
    assert_memory_equal(row, "low,1,20,", 9);
    assert_int_equal(count_commas(row), figures + 2);
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
        er_csv_text(&out, true, cases[i].text);
        assert_string_equal(er_text_string(&out), cases[i].cell);
    }
    er_text_release(&out);
}

/* ---- the catalogue ---- */

typedef enum er_status catalogue_writer(const struct er_catalogue *, enum er_catalogue_kind,
                                        enum er_system, struct er_text *);

static struct er_text write_catalogue(catalogue_writer *writer, enum er_catalogue_kind kind,
                                      enum er_system system)
{
    struct er_catalogue catalogue;
    struct er_text out;
    er_text_init(&out);
    assert_int_equal(er_catalogue_open(&catalogue), ER_OK);
    assert_int_equal(writer(&catalogue, kind, system, &out), ER_OK);
    er_catalogue_release(&catalogue);
    return out;
}

static void catalogue_text_fits_and_numbers_its_sources(void **state)
{
    (void)state;
    for (enum er_system system = ER_US; system <= ER_METRIC; system++) {
        struct er_text out = write_catalogue(er_report_catalogue_text, ER_CATALOGUE_KINDS, system);
        const char *text = er_text_string(&out);
        assert_fits_page(text);
        for (const char *number = strchr(text, '['); number != NULL;
             number = strchr(number + 1, '[')) {
            unsigned place;
            char note[32];
            assert_int_equal(sscanf(number, "[%u]\n", &place), 1);
            snprintf(note, sizeof note, "\n%4u  ", place);
            assert_non_null(strstr(number, note)); /* further down, in the same list or after */
        }
        er_text_release(&out);
    }
}

static void catalogue_data_gives_a_source_for_every_entry(void **state)
{
    (void)state;
    struct er_text out = write_catalogue(er_report_catalogue_json, ER_CATALOGUE_KINDS, ER_US);
    cJSON *root = cJSON_Parse(er_text_string(&out));
    assert_non_null(root);
    size_t entries = 0;
    for (unsigned k = 0; k < ER_CATALOGUE_KINDS; k++) {
        const char *kind = er_catalogue_kind_name((enum er_catalogue_kind)k);
        const cJSON *entry = cJSON_GetObjectItem(root, kind)->child;
        assert_non_null(entry);
        for (; entry != NULL; entry = entry->next, entries++) {
            assert_true(string_at(entry, "name")[0] != '\0');
            assert_true(string_at(entry, "source")[0] != '\0');
        }
    }
    assert_true(entries > 100);
    const cJSON *units = cJSON_GetObjectItem(root, "units");
    assert_string_equal(string_at(cJSON_GetObjectItem(units, "soils"), "available_water"), "in/ft");
    cJSON_Delete(root);
    er_text_release(&out);
}

static void catalogue_csv_is_even(void **state)
{
    (void)state;
    for (unsigned k = 0; k < ER_CATALOGUE_KINDS; k++) {
        struct er_text out =
            write_catalogue(er_report_catalogue_csv, (enum er_catalogue_kind)k, ER_METRIC);
        const char *line = er_text_string(&out);
        size_t columns = count_commas(line);
        size_t lines = 0;
        for (; *line != '\0'; line = strchr(line, '\n') + 1, lines++) {
            size_t commas = 0;
            bool quoted = false;
            for (const char *at = line; *at != '\n'; at++) {
                quoted = *at == '"' ? !quoted : quoted;
                commas += *at == ',' && !quoted;
            }
            assert_int_equal(commas, columns);
        }
        assert_true(lines > 1);
        er_text_release(&out);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(line_breaks_at_the_last_blank_that_fits),
        cmocka_unit_test(paragraph_keeps_to_the_page),
        cmocka_unit_test(decimals_follow_the_size),
        cmocka_unit_test(number_in_running_text_ends_without_zeros),
        cmocka_unit_test(table_lines_up_and_shares_decimals),
        cmocka_unit_test(table_wraps_its_longest_words_and_no_figures),
        cmocka_unit_test(listed_figures_keep_their_own_decimals),
        cmocka_unit_test(empty_table_is_nothing),
        cmocka_unit_test(text_begins_with_the_verdict_and_its_reason),
        cmocka_unit_test(text_answers_each_question_in_both_systems),
        cmocka_unit_test(text_tells_why_a_plan_holds),
        cmocka_unit_test(text_without_a_need_says_so),
        cmocka_unit_test(json_has_every_key_in_order),
        cmocka_unit_test(json_speaks_the_units_it_names),
        cmocka_unit_test(json_findings_name_zones_alone),
        cmocka_unit_test(json_escapes_what_a_terminal_obeys),
        cmocka_unit_test(csv_has_a_row_for_each_zone),
        cmocka_unit_test(csv_cells_are_quoted_and_harmless),
        cmocka_unit_test(catalogue_text_fits_and_numbers_its_sources),
        cmocka_unit_test(catalogue_data_gives_a_source_for_every_entry),
        cmocka_unit_test(catalogue_csv_is_even),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
