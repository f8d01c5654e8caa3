/* The arithmetic that is shown: every line worked again from the numbers on the page. */
#include <dirent.h>
#include <stdio.h>

#include "board_check.h"
#include "explain/explain.h"
#include "field_texts.h"
#include "report_pages.h"

#define SYSTEMS 2

/* A page of text, and what came out of working it again. */
struct page {
    struct er_text text;
    struct board_report board;
};

/* Writes the arithmetic alone. */
static enum er_status explained(enum er_status (*explain)(const void *result, struct er_page *page),
                                const void *result, enum er_system system, struct page *out)
{
    struct er_page page;
    er_page_init(&page, system);
    enum er_status status = explain(result, &page);
    if (status == ER_OK) {
        status = er_page_as_text(&page, &out->text);
    }
    er_page_release(&page);
    return status;
}

static void check_page(struct page *page, size_t least)
{
    assert_fits_page(er_text_string(&page->text));
    board_check(er_text_string(&page->text), &page->board);
    if (page->board.faults > 0) {
        print_error("%zu faults; the first: %s\n", page->board.faults, page->board.first_fault);
    }
    assert_int_equal(page->board.faults, 0);
    assert_true(page->board.checked >= least);
}

static size_t faults_with(struct page *page, size_t place, int steps)
{
    char *text = page->text.data;
    char kept = text[place];
    text[place] = (char)('0' + (kept - '0' + steps) % 10);
    struct board_report changed;
    board_check(text, &changed);
    text[place] = kept;
    return changed.faults;
}

/* A result whose last digit is wrong is noticed, and so is an input whose first one is. */
static void each_digit_counts(struct page *page)
{
    const struct board_places *results = &page->board.results;
    const struct board_places *inputs = &page->board.inputs;
    for (size_t i = 0; i < results->count; i++) {
        assert_true(faults_with(page, results->at[i], 5) > 0);
    }
    assert_true(inputs->count > 0);
    /* Where an emitter gives nothing, EU is 0 and flow variation 100, whatever the others do. */
    bool dry = strstr(er_text_string(&page->text), "    qmin = 0") != NULL &&
               strstr(er_text_string(&page->text), "    EU = 0.0") != NULL;
    for (size_t i = 0; !dry && i < inputs->count; i++) {
        if (faults_with(page, inputs->at[i], 1) == 0) {
            const char *text = er_text_string(&page->text);
            size_t start = inputs->at[i] > 300 ? inputs->at[i] - 300 : 0;
            print_error("no matter whether it is right: %.*s>>%.100s\n",
                        (int)(inputs->at[i] - start), text + start, text + inputs->at[i]);
            fail();
        }
    }
}

/* ---- the evaluator itself ---- */

static size_t faults_of(const char *page)
{
    struct board_report report;
    board_check(page, &report);
    return report.faults;
}

static void evaluator_works(void **state)
{
    (void)state;
    assert_int_equal(faults_of("  a = 1 + 2 * 3^2 - 4 / 8 = 18.5 m, words = none\n"), 0);
    assert_int_equal(faults_of("  a = 2^3 - -1 = 9 m\n"), 0);
    assert_int_equal(faults_of("  a = min(7, 3 + 1) * max(1, sqrt(9)) = 12\n"), 0);
    assert_int_equal(faults_of("  a = 10 / 3 = 3.33\n"), 0);
    assert_int_equal(faults_of("  a = 10 / 3 = 3.34\n"), 0); /* one in the last digit */
    assert_int_equal(faults_of("  a = 10 / 3 = 3.35\n"), 1);
    assert_int_equal(faults_of("  a = b * c\n    b = 2 ft * 0.3048 = 0.6096 m\n    c = 3\n"
                               "    a = 1.8288 m\n    a = 1.8288 m * 3.28084 = 6.0000 ft\n"),
                     0);
    assert_int_equal(faults_of("  a = b * c\n    b = 2\n    a = 6\n"), 1); /* no c */
    assert_int_equal(faults_of("  a = b * c\n    b = 2\n    c = 3\n"), 1); /* no a */
    assert_int_equal(faults_of("  a = b\n    b = 2 ft * 0.3 = 0.7 m\n    a = 0.7\n"), 0);
    assert_int_equal(faults_of("  a = b\n    b = 2 ft * 0.3 = 0.8 m\n    a = 0.8\n"), 1);
    assert_int_equal(faults_of("  a = 1 +\n"), 1);
}

/* ---- pages ---- */

typedef void look_at(const struct er_field *field, enum er_system system);

/* Reads a field file, if there is one, and it is good. */
static bool read_file(const char *path, struct er_field *field)
{
    static char text[1 << 18];
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        return false;
    }
    size_t length = fread(text, 1, sizeof text - 1, file);
    fclose(file);
    text[length] = '\0';
    struct er_problems problems;
    er_problems_init(&problems);
    bool good = strlen(text) == length && read_text(text, field, &problems) == ER_OK;
    er_problems_release(&problems);
    return good;
}

/* Looks at every good field file FOLDER/NAMEsuffix in both systems; returns how many there are. */
static size_t for_each_field(const char *folder, const char *suffix, look_at *look)
{
    DIR *open = opendir(folder);
    size_t count = 0;
    assert_non_null(open);
    for (struct dirent *entry = readdir(open); entry != NULL; entry = readdir(open)) {
        char path[2048];
        struct er_field field;
        snprintf(path, sizeof path, "%s/%s%s", folder, entry->d_name, suffix);
        if (entry->d_name[0] != '.' && read_file(path, &field)) {
            look(&field, ER_US);
            look(&field, ER_METRIC);
            er_field_release(&field);
            count++;
        }
    }
    closedir(open);
    return count;
}

#define EXAMPLES EVENROW_SOURCE_DIR "/examples"
#define CASES EVENROW_SOURCE_DIR "/tests/cli/cases"

/* The same for the cases of the program, which lie in rooms. */
static size_t for_each_case(look_at *look)
{
    DIR *open = opendir(CASES);
    size_t count = 0;
    assert_non_null(open);
    for (struct dirent *entry = readdir(open); entry != NULL; entry = readdir(open)) {
        char room[1024];
        snprintf(room, sizeof room, "%s/%s", CASES, entry->d_name);
        count += entry->d_name[0] != '.' ? for_each_field(room, "/field.json", look) : 0;
    }
    closedir(open);
    return count;
}

static bool explain_check(const struct er_field *field, enum er_system system, struct page *page)
{
    struct er_result result;
    struct er_failure failure;
    er_text_init(&page->text);
    if (er_check(field, system, &result, &failure) != ER_OK) {
        return false;
    }
    assert_int_equal(explained(er_explain_check, &result, system, page), ER_OK);
    er_result_release(&result);
    return true;
}

/* The last number before `end`. */
static double last_result_before(const char *page, const char *end)
{
    double last = (double)NAN;
    for (const char *at = strstr(page, "  p = "); at != NULL && at < end;
         at = strstr(at + 1, "  p = ")) {
        const char *line_end = at + strcspn(at, "\n");
        const char *equals = at;
        for (const char *next = at; next != NULL && next < line_end;
             next = strstr(next + 1, " = ")) {
            equals = next;
        }
        last = strtod(equals + 3, NULL);
    }
    return last;
}

/* The pressures that are written down step by step end where the solver has the header's. */
static void supply_meets_header(const struct page *page, enum er_system system)
{
    const char *text = er_text_string(&page->text);
    const char *feed = strstr(text, "    pf = ");
    assert_non_null(feed);
    double near = er_from_si(ER_PRESSURE, system, er_to_si(ER_PRESSURE, ER_US, 0.005));
    assert_true(fabs(last_result_before(text, feed) - strtod(feed + 9, NULL)) < near);
}

static void look_at_check(const struct er_field *field, enum er_system system)
{
    struct page page;
    assert_true(explain_check(field, system, &page));
    check_page(&page, 15);
    each_digit_counts(&page);
    supply_meets_header(&page, system);
    er_text_release(&page.text);
}

static void check_of_every_example(void **state)
{
    (void)state;
    assert_true(for_each_field(EXAMPLES, "", look_at_check) >= 6);
}

static void look_at_case(const struct er_field *field, enum er_system system)
{
    struct page page;
    if (explain_check(field, system, &page)) {
        check_page(&page, 0);
    }
    er_text_release(&page.text);
}

/* Sources of every kind, compensating tapes, dry rows, unlike tapes, faults. */
static void check_of_every_case(void **state)
{
    (void)state;
    assert_true(for_each_case(look_at_case) >= 50);
}

/* Ways that a day's reference evapotranspiration was seen to come about. */
static bool seen_monthly, seen_penman_monteith, seen_hargreaves;

static void look_at_season(const struct er_field *field, enum er_system system)
{
    struct er_result result;
    struct er_failure failure;
    struct er_season_plan plan;
    struct er_season_fault fault;
    struct page page;
    er_text_init(&page.text);
    if (er_check(field, system, &result, &failure) != ER_OK) {
        return;
    }
    if (er_season_plan_make(&result, &plan, &fault) == ER_OK) {
        assert_int_equal(explained(er_explain_season, &plan, system, &page), ER_OK);
        check_page(&page, 6);
        each_digit_counts(&page);
        const char *text = er_text_string(&page.text);
        seen_monthly = seen_monthly || strstr(text, "means of two months") != NULL;
        seen_penman_monteith = seen_penman_monteith || strstr(text, "equation 6.") != NULL;
        seen_hargreaves = seen_hargreaves || strstr(text, "equation 52.") != NULL;
        er_season_plan_release(&plan);
    }
    er_text_release(&page.text);
    er_result_release(&result);
}

/* The pond's season under weather that was measured, in full and as temperatures alone. */
static void look_at_weather(void)
{
    struct er_field field;
    assert_true(read_file(EXAMPLES "/season-pond.json", &field));
    struct er_weather_record record = {.date = field.zones[0].water.season->planting - 60,
                                       .days = 400,
                                       .t_max = 29.5,
                                       .t_min = 14.2,
                                       .humidity_max = 0.84,
                                       .humidity_min = 0.41,
                                       .humidity = (double)NAN,
                                       .dew_point = (double)NAN,
                                       .wind = 2.4,
                                       .radiation = 22.1,
                                       .sunshine = (double)NAN,
                                       .rain = (double)NAN};
    const struct er_weather weather = {.latitude = 42.0,
                                       .altitude = 130.0,
                                       .wind_height = 3.0,
                                       .record_count = 1,
                                       .records = &record};
    field.weather = &weather;
    look_at_season(&field, ER_US);
    look_at_season(&field, ER_METRIC);
    record.humidity_max = record.humidity_min = record.wind = record.radiation = (double)NAN;
    look_at_season(&field, ER_US);
    look_at_season(&field, ER_METRIC);
    er_field_release(&field);
}

static void season_of_every_field(void **state)
{
    (void)state;
    (void)for_each_field(EXAMPLES, "", look_at_season);
    (void)for_each_case(look_at_season);
    look_at_weather();
    assert_true(seen_monthly);
    assert_true(seen_penman_monteith);
    assert_true(seen_hargreaves);
}

static size_t injections;

static void look_at_injection(const struct er_field *field, enum er_system system)
{
    struct er_injection injection;
    struct er_failure failure;
    struct page page;
    if (field->inject == NULL || er_injection_find(field, system, &injection, &failure) != ER_OK) {
        return;
    }
    er_text_init(&page.text);
    assert_int_equal(explained(er_explain_injection, &injection, system, &page), ER_OK);
    check_page(&page, 0);
    if (page.board.checked > 0) {
        each_digit_counts(&page);
        injections++;
    }
    er_text_release(&page.text);
    er_injection_release(&injection);
}

/* What of the stock is settled, and what the dose is of. */
static void injection_of_every_kind(void **state)
{
    (void)state;
    (void)for_each_case(look_at_injection);
    injections = 0;
    assert_true(for_each_field(EXAMPLES, "", look_at_injection) > 0);
    assert_true(injections >= 2);
    struct er_field field;
    assert_true(read_file(EXAMPLES "/feed-the-tape.json", &field));
    static const struct {
        enum er_stock_kind kind;
        double stock;
    } stocks[] = {{ER_STOCK_FREE, (double)NAN},
                  {ER_STOCK_STRENGTH, 120.0},
                  {ER_STOCK_TANK, 0.05},
                  {ER_STOCK_RATIO, 100.0},
                  {ER_STOCK_FLOW, 1e-5}};
    static const struct er_dose doses[] = {
        {ER_DOSE_PER_AREA, 7e-4}, {ER_DOSE_PER_LENGTH, 3e-4}, {ER_DOSE_CONCENTRATION, 0.12}};
    for (size_t i = 0; i < sizeof stocks / sizeof stocks[0]; i++) {
        for (size_t d = 0; d < sizeof doses / sizeof doses[0]; d++) {
            struct er_inject inject = *field.inject;
            struct er_zone zones[3];
            struct er_field changed = field;
            inject.stock_kind = stocks[i].kind;
            inject.stock = stocks[i].stock;
            assert_int_equal(field.zone_count, 3);
            for (size_t z = 0; z < 3; z++) {
                zones[z] = field.zones[z];
                zones[z].dose = doses[d];
            }
            changed.inject = &inject;
            changed.zones = zones;
            look_at_injection(&changed, ER_US);
            look_at_injection(&changed, ER_METRIC);
        }
    }
    assert_int_equal(injections, 2 + 2 * 15);
    er_field_release(&field);
}

static size_t reaches;

/* The rows of a tape on one slope, with one pressure at the inlet. */
static void explain_reach(const struct er_tape *tape, double slope, enum er_system system)
{
    const struct er_reach_limits limits = {
        .uniformity = 0.85, .flow_variation = 0.2, .emitters_per_plant = 1.5, .longest = 400.0};
    double inlet = 1.25 * (er_given(tape->at_pressure) ? tape->at_pressure : tape->holds_from);
    struct er_reach cell;
    struct page page;
    er_text_init(&page.text);
    assert_int_equal(er_reach_find(tape, slope, inlet, &limits, &cell), ER_OK);
    const struct er_reach_table table = {.tape = tape,
                                         .emitters_per_plant = limits.emitters_per_plant,
                                         .inlet_count = 1,
                                         .inlets = &inlet,
                                         .cells = &cell};
    const struct er_reach_answer answer = {.system = system,
                                           .uniformity = limits.uniformity,
                                           .flow_variation = limits.flow_variation,
                                           .longest = limits.longest,
                                           .slope_count = 1,
                                           .slopes = &slope,
                                           .table_count = 1,
                                           .tables = &table};
    assert_int_equal(explained(er_explain_reach, &answer, system, &page), ER_OK);
    check_page(&page, 6);
    each_digit_counts(&page);
    /* The last row that passes, and the first that does not. */
    const char *text = er_text_string(&page.text);
    assert_true((cell.emitters > 0) == (strstr(text, "It keeps every limit.") != NULL));
    assert_true((cell.bound != ER_REACH_LONGEST) == (strstr(text, "one emitter more") != NULL));
    er_text_release(&page.text);
    reaches++;
}

static void look_at_tapes(const struct er_field *field, enum er_system system)
{
    for (size_t t = 0; t < field->own_tape_count; t++) {
        explain_reach(&field->own_tapes[t], 0.0, system);
        explain_reach(&field->own_tapes[t], 0.03, system);
        explain_reach(&field->own_tapes[t], -0.02, system);
    }
}

static void reach_of_every_tape(void **state)
{
    (void)state;
    (void)for_each_field(EXAMPLES, "", look_at_tapes);
    assert_true(reaches >= 30);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(evaluator_works),         cmocka_unit_test(check_of_every_example),
        cmocka_unit_test(check_of_every_case),     cmocka_unit_test(season_of_every_field),
        cmocka_unit_test(injection_of_every_kind), cmocka_unit_test(reach_of_every_tape),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
