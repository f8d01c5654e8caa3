/* The built-in catalogue: every figure in its range and with its source, and printed ones as
 * they are printed. */
#include "field_texts.h"

#include "field/reader.h"

extern const unsigned char er_catalogue_json[];
extern const size_t er_catalogue_json_size;

#define INCH 0.0254
#define FOOT 0.3048
#define GPM (3.785411784e-3 / 60.0)

static int open_once(void **state)
{
    static struct er_catalogue catalogue;
    *state = &catalogue;
    return er_catalogue_open(&catalogue) == ER_OK ? 0 : -1;
}

static int close_once(void **state)
{
    er_catalogue_release(*state);
    return 0;
}

static void test_text_has_no_problem(void **state)
{
    (void)state;
    struct er_catalogue catalogue;
    struct er_problems problems;
    er_problems_init(&problems);
    const enum er_status status = er_catalogue_read(&catalogue, (const char *)er_catalogue_json,
                                                    er_catalogue_json_size, &problems);
    if (problems.count > 0) {
        print_error("%zu: %s\n", problems.kept[0].line, problems.kept[0].text);
    }
    assert_int_equal(status, ER_OK);
    assert_int_equal(problems.count, 0);
    er_catalogue_release(&catalogue);
    er_problems_release(&problems);
}

static void test_bad_text(void **state)
{
    (void)state;
    struct er_catalogue catalogue;
    struct er_problems problems;
    er_problems_init(&problems);
    static const char text[] = "{\"units\": \"us\", \"pipes\": {\"p\": {\"inside_diameter\": 2}}}";
    assert_int_equal(er_catalogue_read(&catalogue, text, strlen(text), &problems), ER_BAD_INPUT);
    /* kind, about and source; tapes, soils, crops and prices */
    assert_int_equal(problems.count, 7);
    assert_int_equal(catalogue.pipe_count, 0);
    er_problems_release(&problems);
}

/* Every entry says whether its figures were printed, remembered or are common practice. */
static void check_source(const char *source)
{
    assert_non_null(source);
    /* What was read in a copy, or where no author was noted, is not simply printed. */
    if (strstr(source, "(printed)") != NULL) {
        assert_null(strstr(source, "course"));
        assert_null(strstr(source, "Engineering Data Book"));
        assert_null(strstr(source, "Paper 56"));
    }
    if (strstr(source, "(printed") == NULL && strstr(source, "(from memory") == NULL &&
        strstr(source, "from memory") == NULL &&
        strstr(source, "common practice, no source") == NULL) {
        print_error("no kind of source: %s\n", source);
        fail();
    }
}

static void test_pipes(void **state)
{
    const struct er_catalogue *catalogue = *state;
    size_t kinds[] = {0, 0, 0, 0, 0};
    for (size_t i = 0; i < catalogue->pipe_count; i++) {
        const struct er_catalogue_pipe *entry = &catalogue->pipes[i];
        check_source(entry->source);
        assert_true((strstr(entry->about, "diameter") == NULL) ==
                    (entry->pipe.kind == ER_PIPE_PVC)); /* these by one rule */
        assert_true(entry->pipe.inside_diameter > 0.5 * INCH);
        assert_true(entry->pipe.inside_diameter < 7.0 * INCH);
        assert_true(entry->pipe.c >= 130.0 && entry->pipe.c <= 150.0);
        kinds[entry->pipe.kind]++;
    }
    assert_int_equal(kinds[ER_PIPE_KIND_UNKNOWN], 0);
    assert_int_equal(kinds[ER_PIPE_PVC], 30); /* ten sizes each of three classes */
    for (size_t k = ER_PIPE_POLY; k < sizeof kinds / sizeof kinds[0]; k++) {
        assert_true(kinds[k] >= 4);
    }
}

/* From 0.2 to 1.3 gpm per 100 ft, and the usual 0.4 to 0.5 at every spacing. */
static void test_tapes(void **state)
{
    const struct er_catalogue *catalogue = *state;
    static const double spacings[] = {4.0, 6.0, 8.0, 12.0, 16.0, 18.0, 24.0};
    size_t usual[7] = {0, 0, 0, 0, 0, 0, 0};
    double least = (double)INFINITY;
    double most = 0.0;
    for (size_t i = 0; i < catalogue->tape_count; i++) {
        const struct er_tape *tape = &catalogue->tapes[i].tape;
        check_source(catalogue->tapes[i].source);
        assert_null(strchr(tape->name, '/'));
        assert_near(tape->exponent, 0.5);
        assert_near(tape->cv, 0.03);
        const double flow = tape->emitter_flow / tape->emitter_spacing * 100.0 * FOOT / GPM;
        least = fmin(least, flow);
        most = fmax(most, flow);
        for (size_t k = 0; k < 7; k++) {
            usual[k] += fabs(tape->emitter_spacing - spacings[k] * INCH) < 1e-9 && flow > 0.3999 &&
                        flow < 0.5001;
        }
    }
    assert_true(fabs(least - 0.2) < 1e-9);
    assert_true(fabs(most - 1.3) < 1e-9);
    for (size_t k = 0; k < 7; k++) {
        assert_int_equal(usual[k], 6); /* 0.40, 0.45 and 0.50, in two diameters */
    }
}

/* Allen, Pereira, Raes and Smith, FAO Irrigation and Drainage Paper 56 (1998), Tables 11, 12 and
 * 22 (printed copy). */
static void test_crops(void **state)
{
    const struct er_catalogue *catalogue = *state;
    static const struct er_crop printed[] = {
        {.name = "bell pepper",
         .kc_initial = 0.6,
         .kc_mid = 1.05,
         .kc_end = 0.9,
         .root_depth_min = 0.5,
         .root_depth_max = 1.0,
         .depletion = 0.3,
         .height = 0.7,
         .stage_days = {30, 35, 40, 20}},
        {.name = "lettuce",
         .kc_initial = 0.7,
         .kc_mid = 1.0,
         .kc_end = 0.95,
         .root_depth_min = 0.3,
         .root_depth_max = 0.5,
         .depletion = 0.3,
         .height = 0.3,
         .stage_days = {20, 30, 15, 10}},
        {.name = "watermelon",
         .kc_initial = 0.4,
         .kc_mid = 1.0,
         .kc_end = 0.75,
         .root_depth_min = 0.8,
         .root_depth_max = 1.5,
         .depletion = 0.4,
         .height = 0.4,
         .stage_days = {20, 30, 30, 30}},
    };
    size_t found = 0;
    for (size_t i = 0; i < catalogue->crop_count; i++) {
        const struct er_crop *crop = &catalogue->crops[i];
        check_source(crop->source);
        assert_true(crop->kc_initial < crop->kc_mid);
        assert_true(crop->root_depth_min < crop->root_depth_max);
        for (size_t k = 0; k < 3; k++) {
            if (strcmp(crop->name, printed[k].name) != 0) {
                continue;
            }
            found++;
            assert_near(crop->kc_initial, printed[k].kc_initial);
            assert_near(crop->kc_mid, printed[k].kc_mid);
            assert_near(crop->kc_end, printed[k].kc_end);
            assert_near(crop->root_depth_min, printed[k].root_depth_min);
            assert_near(crop->root_depth_max, printed[k].root_depth_max);
            assert_near(crop->depletion, printed[k].depletion);
            assert_near(crop->height, printed[k].height);
            for (size_t stage = 0; stage < 4; stage++) {
                assert_near(crop->stage_days[stage], printed[k].stage_days[stage]);
            }
        }
    }
    assert_int_equal(found, 3);
    assert_int_equal(catalogue->crop_count, 19);
}

/* FAO Irrigation and Drainage Paper 56 (1998), Table 19: least and largest available water, as
 * a share of the volume (from memory). */
static void test_soils(void **state)
{
    const struct er_catalogue *catalogue = *state;
    static const struct {
        const char *name;
        double least, largest;
    } table[] = {
        {"sand", 0.05, 0.11},
        {"loamy sand", 0.06, 0.12},
        {"sandy loam", 0.11, 0.15},
        {"loam", 0.13, 0.18},
        {"silt loam", 0.13, 0.19},
        {"silt", 0.16, 0.20},
        {"silty clay loam", 0.13, 0.18},
        {"silty clay", 0.13, 0.19},
        {"clay", 0.12, 0.20},
    };
    assert_int_equal(catalogue->soil_count, sizeof table / sizeof table[0]);
    for (size_t i = 0; i < catalogue->soil_count; i++) {
        const struct er_soil *soil = &catalogue->soils[i];
        check_source(soil->source);
        assert_string_equal(soil->name, table[i].name);
        assert_true(fabs(soil->available_water - (table[i].least + table[i].largest) / 2.0) < 1e-9);
        assert_true(soil->spread > 0.99 * FOOT && soil->spread < 2.01 * FOOT);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_text_has_no_problem),
        cmocka_unit_test(test_bad_text),
        cmocka_unit_test(test_pipes),
        cmocka_unit_test(test_tapes),
        cmocka_unit_test(test_crops),
        cmocka_unit_test(test_soils),
    };
    return cmocka_run_group_tests(tests, open_once, close_once);
}
