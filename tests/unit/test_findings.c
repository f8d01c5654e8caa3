/* Every finding: one change to a sound plan that raises it, and one a little smaller that does
 * not; what it says; and that a figure just at its limit is not over it. */
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include "evenrow/reading.h"
#include "field_text.h"

/* Two alike zones, each alone in its set. The tape compensates, so that all is known: 1,000
 * emitters of 1 L/h are 1 m3/h, the filter takes 1 m of the 12, the regulator holds 8; 4 mm
 * with 90 percent on 450 m2 are 2 m3, 2 h a zone and 4 h and 4 m3 a day. */
static const char sound[] =
    "{'units': 'metric', 'source': {'curve': [[0, '12 m'], [4, '12 m']]},"
    "'headworks': [{'part': 'filter', 'loss': '1 m', 'at_flow': 1}],"
    "'pipes': {'main': {'inside_diameter': 50}, 'header': {'inside_diameter': 40}},"
    "'tapes': {'pc': {'emitter_flow': 1, 'holds_from': '4 m', 'emitter_spacing': 300,"
    " 'inside_diameter': 16, 'min_pressure': '3 m', 'max_pressure': '20 m'}},"
    "'mainline': [{'name': 'A', 'pipe': 'main', 'length': 10}],"
    "'zones': [{'name': 'low field', 'regulator': {'holds': '8 m'}, 'header': {'pipe': 'header'},"
    " 'beds': [{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 'pc'}]},"
    "{'name': 'top field', 'regulator': {'holds': '8 m'}, 'header': {'pipe': 'header'},"
    " 'beds': [{'count': 10, 'length': 30, 'spacing': 1.5, 'tape': 'pc'}]}],"
    "'water': {'need': 4, 'efficiency': 90, 'soil': 'loam'}, 'limits': {}}";

static void to_quotes(char *text)
{
    for (; *text; text++)
        if (*text == '\'')
            *text = '"';
}

static void assign(struct er_document *document, const char *assignment,
                   struct er_problems *problems)
{
    char text[300];
    assert_true(strlen(assignment) < sizeof text);
    strcpy(text, assignment);
    to_quotes(text);
    assert_int_equal(er_document_set(document, text, problems), ER_OK);
}

static void show(const struct er_problems *problems)
{
    for (size_t p = 0; p < problems->count && p < ER_PROBLEMS_KEPT; p++)
        print_error("%s: %s\n", problems->kept[p].pointer, problems->kept[p].text);
}

static void check_again(struct trial *trial)
{
    struct er_failure failure;
    assert_int_equal(er_check(&trial->field, ER_METRIC, &trial->result, &failure), ER_OK);
}

/* The sound plan with up to four changes, as POINTER=VALUE. */
static void change(struct trial *trial, const char *const *changes)
{
    char text[sizeof sound];
    struct er_problems problems;
    struct er_document *document = NULL;
    er_problems_init(&problems);
    memset(trial, 0, sizeof *trial);
    memcpy(text, sound, sizeof sound);
    to_quotes(text);
    assert_int_equal(er_document_open("field.json", text, strlen(text), &document, &problems),
                     ER_OK);
    for (size_t c = 0; c < 4 && changes[c]; c++)
        assign(document, changes[c], &problems);
    enum er_status status = er_field_read(document, &trial->field, &problems);
    show(&problems);
    er_problems_release(&problems);
    er_document_release(document);
    assert_int_equal(status, ER_OK);
    check_again(trial);
}

struct finding_case {
    enum er_finding_code code;
    const char *name;
    enum er_level level;
    enum er_place_kind place;
    size_t index, count;
    const char *raise[4], *twin[4];
    const char *says[4]; /* place, figure, limit, advice */
};

#define PUMP(lift, suction)                                                                        \
    "/source={'pump': {'curve': [[0, '19 m'], [4, '19 m']], 'lift': " lift                         \
    "}, 'suction': {" suction "}}"

static const struct finding_case cases[] = {
    {ER_SOURCE_FLOW,
     "source-flow",
     ER_FAIL,
     ER_PLACE_SET,
     0,
     2,
     {"/source/flow_limit=0.99"},
     {"/source/flow_limit=1"},
     {"set 1", "1.00 m3/h", "0.990 m3/h", "Run fewer"}},
    {ER_CURVE_END,
     "curve-end",
     ER_FAIL,
     ER_PLACE_SET,
     0,
     2,
     {"/source/curve/1/0=0.99"},
     {"/source/curve/1/0=1"},
     {"set 1", "1.00 m3/h", "0.990 m3/h", "Measure"}},
    {ER_CURVE_END,
     "curve-end",
     ER_FAIL,
     ER_PLACE_SET,
     0,
     2,
     {"/source={'test': {'static': '20 m', 'flow': 0.99, 'pressure': '12 m'}}"},
     {"/source={'test': {'static': '20 m', 'flow': 1.0, 'pressure': '12 m'}}"},
     {"set 1", "1.00 m3/h", "0.990 m3/h", "Measure"}},
    {ER_ROW_DRY,
     "row-dry",
     ER_FAIL,
     ER_PLACE_ZONE,
     1,
     1,
     {"/zones/1/beds/0/slope=30"},
     {"/zones/1/beds/0/slope=25"},
     {"\"top field\"", "10 of 10", "bed", "Shorten"}},
    {ER_PRESSURE_LOW,
     "pressure-low",
     ER_FAIL,
     ER_PLACE_ZONE,
     0,
     2,
     {"/tapes/pc/min_pressure='8 m'"},
     {"/tapes/pc/min_pressure='7.9 m'"},
     {"\"low field\"", "bed 10", "78.3 kPa", "Bring more"}},
    {ER_PRESSURE_HIGH,
     "pressure-high",
     ER_FAIL,
     ER_PLACE_ZONE,
     0,
     2,
     {"/tapes/pc/max_pressure='7.9 m'"},
     {"/tapes/pc/max_pressure='8 m'"},
     {"\"low field\"", "78.3 kPa", "77.3 kPa", "Put in a regulator"}},
    {ER_PRESSURE_HIGH,
     "pressure-high",
     ER_FAIL,
     ER_PLACE_ZONE,
     0,
     2,
     {"/pipes/header/max_pressure='7.9 m'"},
     {"/pipes/header/max_pressure='8 m'"},
     {"\"low field\"", "78.3 kPa", "77.3 kPa", "Take a stronger"}},
    {ER_PRESSURE_HIGH,
     "pressure-high",
     ER_FAIL,
     ER_PLACE_HEADWORKS,
     0,
     1,
     {"/headworks/0/max_pressure='11.9 m'"},
     {"/headworks/0/max_pressure='12 m'"},
     {"\"filter\"", "117 kPa", "116 kPa", "Take one"}},
    {ER_PRESSURE_HIGH,
     "pressure-high",
     ER_FAIL,
     ER_PLACE_SECTION,
     0,
     1,
     {"/pipes/main/max_pressure='10.9 m'"},
     {"/pipes/main/max_pressure='11 m'"},
     {"\"A\"", "108 kPa", "107 kPa", "Take a stronger"}},
    /* The lower end of a falling section. */
    {ER_PRESSURE_HIGH,
     "pressure-high",
     ER_FAIL,
     ER_PLACE_SECTION,
     0,
     1,
     {"/pipes/main/max_pressure='20.9 m'", "/mainline/0/rise=-10"},
     {"/pipes/main/max_pressure='21 m'", "/mainline/0/rise=-10"},
     {"\"A\"", "206 kPa", "205 kPa", "Take a stronger"}},
    {ER_PRESSURE_HIGH,
     "pressure-high",
     ER_FAIL,
     ER_PLACE_ZONE,
     1,
     1,
     {"/zones/1/valve={'max_pressure': '10.9 m'}"},
     {"/zones/1/valve={'max_pressure': '11 m'}"},
     {"\"top field\"", "108 kPa", "107 kPa", "Take one"}},
    {ER_STATIC_HIGH,
     "static-high",
     ER_FAIL,
     ER_PLACE_SECTION,
     0,
     1,
     {"/pipes/main/max_pressure='11.9 m'"},
     {"/pipes/main/max_pressure='12 m'"},
     {"\"A\"", "117 kPa", "116 kPa", "relief valve"}},
    {ER_STATIC_HIGH,
     "static-high",
     ER_FAIL,
     ER_PLACE_SECTION,
     0,
     1,
     {"/pipes/main/max_pressure='21.9 m'", "/mainline/0/rise=-10"},
     {"/pipes/main/max_pressure='19.9 m'", "/mainline/0/rise=-10", "/headworks/0/holds='9.9 m'"},
     {"\"A\"", "215 kPa", "214 kPa", "Take a stronger"}},
    {ER_STATIC_HIGH,
     "static-high",
     ER_FAIL,
     ER_PLACE_HEADWORKS,
     0,
     1,
     {"/headworks/0/max_pressure='11.9 m'"},
     {"/headworks/0/max_pressure='12 m'"},
     {"\"filter\"", "117 kPa", "116 kPa", "Take one"}},
    {ER_UNIFORMITY_LOW,
     "uniformity-low",
     ER_FAIL,
     ER_PLACE_ZONE,
     0,
     2,
     {"/limits/uniformity=96.3"},
     {"/limits/uniformity=96.19"},
     {"\"low field\"", "96.2 percent", "96.3", "Shorten"}},
    {ER_FLOW_UNEVEN,
     "flow-uneven",
     ER_FAIL,
     ER_PLACE_ZONE,
     1,
     1,
     {"/zones/1/beds/0/slope=20"},
     {"/zones/1/beds/0/slope=13"},
     {"\"top field\"", "percent less", "20", "Shorten"}},
    {ER_HOURS_SHORT,
     "hours-short",
     ER_FAIL,
     ER_PLACE_DAY,
     0,
     1,
     {"/water/hours=3.9"},
     {"/water/hours=4"},
     {"", "4.0 h", "3.9 h", "Run more zones"}},
    {ER_STORAGE_SHORT,
     "storage-short",
     ER_FAIL,
     ER_PLACE_DAY,
     0,
     1,
     {"/source/storage=3.9"},
     {"/source/storage=4"},
     {"", "4.00 m3", "3.90 m3", "Store more"}},
    {ER_STORAGE_SHORT,
     "storage-short",
     ER_FAIL,
     ER_PLACE_DAY,
     0,
     1,
     {"/source/storage=1", "/source/refill=0.12"},
     {"/source/storage=1", "/source/refill=0.125"},
     {"", "4.00 m3", "3.88 m3", "Store more"}},
    {ER_STORAGE_SHORT,
     "storage-short",
     ER_FAIL,
     ER_PLACE_DAY,
     0,
     1,
     {"/source/refill=0.16"},
     {"/source/refill=0.17"},
     {"", "4.00 m3", "3.84 m3", "Store more"}},
    {ER_SOURCE_ASSUMED,
     "source-assumed",
     ER_CAUTION,
     ER_PLACE_DAY,
     0,
     1,
     {"/source={'pressure': '12 m'}"},
     {"/source={'pressure': '12 m', 'flow_limit': 2}"},
     {"source", "117 kPa", "measured", "Time how long"}},
    {ER_SOURCE_TIGHT,
     "source-tight",
     ER_CAUTION,
     ER_PLACE_SET,
     0,
     2,
     {"/source/flow_limit=1.1"},
     {"/source/flow_limit=1.1111111111111112"},
     {"set 1", "91 percent", "1.10 m3/h", "make the set smaller"}},
    {ER_HOURS_TIGHT,
     "hours-tight",
     ER_CAUTION,
     ER_PLACE_DAY,
     0,
     1,
     {"/water/hours=4.4"},
     {"/water/hours=4.444444444444445"},
     {"", "4.0 of", "4.4 h", "Leave a tenth"}},
    {ER_STORAGE_LOW,
     "storage-low",
     ER_CAUTION,
     ER_PLACE_DAY,
     0,
     1,
     {"/source/storage=55"},
     {"/source/storage=56"},
     {"", "13.8 days", "14", "Store more"}},
    {ER_STORAGE_LOW,
     "storage-low",
     ER_CAUTION,
     ER_PLACE_DAY,
     0,
     1,
     {"/source/storage=13.9", "/source/refill=0.125"},
     {"/source/storage=14", "/source/refill=0.125"},
     {"", "13.9 days", "14", "Store more"}},
    {ER_REGULATOR_STARVED,
     "regulator-starved",
     ER_CAUTION,
     ER_PLACE_ZONE,
     1,
     1,
     {"/zones/1/regulator/holds='11 m'"},
     {"/zones/1/regulator/holds='10.9 m'"},
     {"\"top field\"", "108 kPa", "108 kPa", "Bring more"}},
    {ER_REGULATOR_STARVED,
     "regulator-starved",
     ER_CAUTION,
     ER_PLACE_HEADWORKS,
     0,
     1,
     {"/headworks/0/holds='11.1 m'"},
     {"/headworks/0/holds='11 m'"},
     {"headworks", "109 kPa", "108 kPa", "Bring more"}},
    {ER_REGULATOR_RANGE,
     "regulator-range",
     ER_CAUTION,
     ER_PLACE_HEADWORKS,
     0,
     1,
     {"/headworks/0/max_flow=0.99"},
     {"/headworks/0/max_flow=1"},
     {"\"filter\"", "1.00 m3/h", "0.990 m3/h", "Take a larger"}},
    {ER_REGULATOR_RANGE,
     "regulator-range",
     ER_CAUTION,
     ER_PLACE_ZONE,
     1,
     1,
     {"/zones/1/regulator/min_flow=1.01"},
     {"/zones/1/regulator/min_flow=1"},
     {"\"top field\"", "1.00 m3/h", "1.01 m3/h", "Take a smaller"}},
    {ER_REGULATOR_RANGE,
     "regulator-range",
     ER_CAUTION,
     ER_PLACE_ZONE,
     0,
     2,
     {"/tapes/pc/connector={'part': 'tee', 'max_flow': 0.099}"},
     {"/tapes/pc/connector={'part': 'tee', 'max_flow': 0.1}"},
     {"\"low field\"", "0.100 m3/h", "0.099 m3/h", "Take a larger"}},
    {ER_FILTER_DIRTY,
     "filter-dirty",
     ER_CAUTION,
     ER_PLACE_SET,
     0,
     2,
     {"/tapes/pc/min_pressure='7 m'", "/headworks/0/dirty_loss='5 m'"},
     {"/tapes/pc/min_pressure='7 m'", "/headworks/0/dirty_loss='3 m'"},
     {"set 1", "pressure-low", "kPa", "Clean earlier"}},
    /* What fails clean, too, is not the dirt's doing. */
    {ER_FILTER_DIRTY,
     "filter-dirty",
     ER_CAUTION,
     ER_PLACE_SET,
     0,
     2,
     {"/tapes/pc/min_pressure='7 m'", "/zones/0/valve={'dirty_loss': '5 m', 'at_flow': 1}",
      "/zones/1/valve={'dirty_loss': '5 m', 'at_flow': 1}"},
     {"/tapes/pc/min_pressure='9 m'", "/zones/0/valve={'dirty_loss': '5 m', 'at_flow': 1}"},
     {"set 1", "pressure-low", "kPa", "Clean earlier"}},
    {ER_MAIN_VACUUM,
     "main-vacuum",
     ER_CAUTION,
     ER_PLACE_SECTION,
     0,
     1,
     {"/mainline/0/rise=11.1", "/zones/0/rise=-9", "/zones/1/rise=-9"},
     {"/mainline/0/rise=10.9", "/zones/0/rise=-9", "/zones/1/rise=-9"},
     {"\"A\"", "kPa", "-1.", "Take a wider"}},
    {ER_MAIN_VACUUM,
     "main-vacuum",
     ER_CAUTION,
     ER_PLACE_ZONE,
     1,
     1,
     {"/zones/1/rise=8.1", "/zones/1/beds/0/slope=-30"},
     {"/zones/1/rise=7.9", "/zones/1/beds/0/slope=-30"},
     {"\"top field\"", "kPa", "-0.979", "Bring more"}},
    {ER_VELOCITY_HIGH,
     "velocity-high",
     ER_CAUTION,
     ER_PLACE_SECTION,
     0,
     1,
     /* 1 m3/h in 50 mm: 0.1415 m/s */
     {"/limits/velocity=0.141", "/pipes/header/inside_diameter=100"},
     {"/limits/velocity=0.142", "/pipes/header/inside_diameter=100"},
     {"\"A\"", "0.141 m/s", "0.141 m/s", "Take a wider"}},
    /* 0.9 m3/h behind the first bed in 40 mm: 0.1989 m/s */
    {ER_VELOCITY_HIGH,
     "velocity-high",
     ER_CAUTION,
     ER_PLACE_ZONE,
     0,
     2,
     {"/limits/velocity=0.198"},
     {"/limits/velocity=0.199"},
     {"\"low field\"", "0.199 m/s", "0.198 m/s", "Take a wider"}},
    /* All of 1 m3/h in the lead. */
    {ER_VELOCITY_HIGH,
     "velocity-high",
     ER_CAUTION,
     ER_PLACE_ZONE,
     1,
     1,
     {"/limits/velocity=0.221", "/zones/1/header/lead=5"},
     {"/limits/velocity=0.222", "/zones/1/header/lead=5"},
     {"\"top field\"", "0.221 m/s", "0.221 m/s", "Take a wider"}},
    {ER_FLUSH_WEAK,
     "flush-weak",
     ER_CAUTION,
     ER_PLACE_ZONE,
     1,
     1,
     {"/zones/1/beds/0/slope=27"},
     {"/zones/1/beds/0/slope=0"},
     {"\"top field\"", "0.000 m/s", "0.300 m/s", "Open fewer"}},
    {ER_SOIL_OVER,
     "soil-over",
     ER_CAUTION,
     ER_PLACE_ZONE,
     0,
     2,
     /* loam: 0.155 x 0.3 m x 0.76 m x 300 m x 18 percent = 1.91 m3 */
     {"/water/allowed_depletion=18"},
     {"/water/allowed_depletion=19"},
     {"\"low field\"", "2.00 m3", "1.91 m3", "Split it into 2"}},
    {ER_SPACING_WIDE,
     "spacing-wide",
     ER_CAUTION,
     ER_PLACE_ZONE,
     0,
     2,
     {"/tapes/pc/emitter_spacing='36.1 in'"},
     {"/tapes/pc/emitter_spacing='3 ft'"},
     {"\"low field\"", "917 mm", "914 mm", "closer emitters"}},
    {ER_SUCTION_HIGH,
     "suction-high",
     ER_CAUTION,
     ER_PLACE_DAY,
     0,
     1,
     {PUMP("'22.1 ft'", "")},
     {PUMP("'22 ft'", "")},
     {"suction", "6.74 m", "6.71 m", "Set the pump"}},
    {ER_SUCTION_HIGH,
     "suction-high",
     ER_CAUTION,
     ER_PLACE_DAY,
     0,
     1,
     /* 10.351 - 0.239 - 5 m */
     {PUMP("5", "'npsh_required': 5.12")},
     {PUMP("5", "'npsh_required': 5.1")},
     {"pump", "5.11 m", "5.12 m", "Set it lower"}},
};

static const size_t case_count = sizeof cases / sizeof cases[0];

/* The finding of a case's code at its kind of place. */
static const struct er_finding *find(const struct trial *trial, const struct finding_case *one,
                                     size_t *count)
{
    const struct er_finding *first = NULL;
    *count = 0;
    for (size_t f = 0; f < trial->result.finding_count; f++) {
        const struct er_finding *finding = &trial->result.findings[f];
        if (finding->code != one->code || finding->place != one->place)
            continue;
        first = first ? first : finding;
        (*count)++;
    }
    return first;
}

static void list(const struct trial *trial, size_t number)
{
    print_error("case %zu, %s:\n", number, cases[number].name);
    for (size_t f = 0; f < trial->result.finding_count; f++)
        print_error("  %s at %d/%zu: %s\n", er_finding_kind(trial->result.findings[f].code)->code,
                    (int)trial->result.findings[f].place, trial->result.findings[f].index,
                    trial->result.findings[f].text);
}

static bool is_raised(const struct trial *trial, const struct finding_case *one)
{
    size_t count;
    const struct er_finding *finding = find(trial, one, &count);
    if (!finding || count != one->count || finding->index != one->index)
        return false;
    for (size_t s = 0; s < 4; s++)
        if (!strstr(finding->text, one->says[s]))
            return false;
    return trial->result.verdict == ER_FAILS || one->level == ER_CAUTION;
}

static void test_every_finding(void **state)
{
    (void)state;
    size_t wrong = 0;
    for (size_t c = 0; c < case_count; c++) {
        struct trial trial;
        size_t count;
        change(&trial, cases[c].raise);
        if (!is_raised(&trial, &cases[c])) {
            print_error("not raised as it should be: ");
            list(&trial, c);
            wrong++;
        }
        trial_close(&trial);
        change(&trial, cases[c].twin);
        if (find(&trial, &cases[c], &count)) {
            print_error("raised by its twin: ");
            list(&trial, c);
            wrong++;
        }
        trial_close(&trial);
    }
    assert_int_equal(wrong, 0);
}

static void test_every_code_has_a_case(void **state)
{
    (void)state;
    for (int code = 0; code < ER_FINDING_COUNT; code++) {
        const struct er_finding_kind *kind = er_finding_kind((enum er_finding_code)code);
        size_t found = 0;
        for (size_t c = 0; c < case_count; c++) {
            if ((int)cases[c].code != code)
                continue;
            assert_string_equal(kind->code, cases[c].name);
            assert_int_equal(kind->level, cases[c].level);
            found++;
        }
        assert_true(found > 0);
        assert_true(strlen(kind->when) > 0);
        /* Cautions come after the fails. */
        assert_true(code == 0 ||
                    er_finding_kind((enum er_finding_code)(code - 1))->level <= kind->level);
    }
}

static void test_sound_plan(void **state)
{
    (void)state;
    const char *const none[4] = {NULL};
    struct trial trial;
    change(&trial, none);
    if (trial.result.finding_count > 0)
        list(&trial, 0);
    assert_int_equal(trial.result.finding_count, 0);
    assert_int_equal(trial.result.verdict, ER_HOLDS);
    assert_close(trial.result.day.hours_needed, 4.0 * 3600.0, 1e-9);
    assert_close(trial.result.day.volume, 4.0, 1e-9);
    trial_close(&trial);
}

static void test_verdict_and_order(void **state)
{
    (void)state;
    const char *const caution[4] = {"/headworks/0/max_flow=0.5"};
    const char *const both[4] = {"/headworks/0/max_flow=0.5", "/source/flow_limit=0.5",
                                 "/tapes/pc/max_pressure='7 m'", "/zones/1/beds/0/slope=30"};
    struct trial trial;
    change(&trial, caution);
    assert_int_equal(trial.result.verdict, ER_WITH_CAUTION);
    trial_close(&trial);
    change(&trial, both);
    assert_int_equal(trial.result.verdict, ER_FAILS);
    assert_true(trial.result.finding_count > 5);
    for (size_t f = 1; f < trial.result.finding_count; f++) {
        const struct er_finding *before = &trial.result.findings[f - 1];
        const struct er_finding *here = &trial.result.findings[f];
        assert_true(before->code < here->code ||
                    (before->code == here->code &&
                     (before->place < here->place ||
                      (before->place == here->place && before->index < here->index))));
    }
    trial_close(&trial);
}

/* Each limit set to just the figure that came out, and to a part in 1e10 beyond: not over. A
 * part in 1e8: over. */
static void at_limit(double by, bool raised)
{
    struct trial trial;
    const char *const uneven[4] = {"/zones/1/beds/0/slope=20"};
    change(&trial, uneven);
    struct er_zone_result zone = trial.result.zones[1];
    trial.field.limits = (struct er_limits){
        .uniformity = zone.emission_uniformity * (1.0 + by),
        .flow_variation = zone.flow_variation * (1.0 - by),
        .velocity = trial.result.sections[0].velocity * (1.0 - by),
        .flush_velocity = zone.flush_velocity * (1.0 + by),
    };
    trial.field.hours = trial.result.day.hours_needed * (1.0 - by);
    trial.field.source.flow_limit = trial.result.sets[0].flow * (1.0 - by);
    er_result_release(&trial.result);
    check_again(&trial);
    const enum er_finding_code codes[] = {ER_UNIFORMITY_LOW, ER_FLOW_UNEVEN, ER_FLUSH_WEAK,
                                          ER_HOURS_SHORT, ER_SOURCE_FLOW};
    for (size_t c = 0; c < 5; c++)
        assert_int_equal(trial_finding(&trial, codes[c]) != NULL, raised);
    const struct finding_case velocity = {.code = ER_VELOCITY_HIGH, .place = ER_PLACE_SECTION};
    size_t count;
    assert_int_equal(find(&trial, &velocity, &count) != NULL, raised);
    trial_close(&trial);
}

static void test_exactly_at_the_limit(void **state)
{
    (void)state;
    at_limit(0.0, false);
    at_limit(1e-10, false);
    at_limit(1e-8, true);
}

/* The texts speak the units they are asked to. */
static void test_units_of_texts(void **state)
{
    (void)state;
    const char *const low[4] = {"/source/flow_limit=0.9"};
    struct trial trial;
    struct er_failure failure;
    change(&trial, low);
    er_result_release(&trial.result);
    assert_int_equal(er_check(&trial.field, ER_US, &trial.result, &failure), ER_OK);
    const struct er_finding *finding = trial_finding(&trial, ER_SOURCE_FLOW);
    assert_non_null(finding);
    assert_non_null(strstr(finding->text, "4.40 gpm")); /* 1 m3/h */
    assert_null(strstr(finding->text, "m3/h"));
    trial_close(&trial);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_sound_plan),
        cmocka_unit_test(test_every_finding),
        cmocka_unit_test(test_every_code_has_a_case),
        cmocka_unit_test(test_verdict_and_order),
        cmocka_unit_test(test_exactly_at_the_limit),
        cmocka_unit_test(test_units_of_texts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
