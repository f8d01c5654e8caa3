/* Whether two fields are checked with the same result. */
#ifndef ER_TESTS_SAME_RESULT_H
#define ER_TESTS_SAME_RESULT_H

#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>
#include <math.h>

#include "evenrow/check.h"
#include "report/check/tables.h"

/* Two numbers are the same, or both are none; but for rounding where the units were changed. */
static inline void assert_figure(double value, double wanted, double relative)
{
    const bool same = isnan(wanted) ? isnan(value)
                                    : (value <= wanted && value >= wanted) ||
                                          fabs(value - wanted) <= relative * fabs(wanted);
    if (!same) {
        print_error("found %.17g, wanted %.17g\n", value, wanted);
        fail();
    }
}

/* All that reports tell of two of the same structs. */
static inline void assert_same_members(const struct er_member *members, const void *one,
                                       const void *other, double relative)
{
    for (const struct er_member *m = members; m->key != NULL; m++) {
        const void *at = (const char *)one + m->offset, *there = (const char *)other + m->offset;
        if (m->kind == ER_IS_RECORD) {
            assert_same_members(m->members, at, there, relative);
        } else {
            assert_figure(er_member_number(m, ER_METRIC, at), er_member_number(m, ER_METRIC, there),
                          relative);
        }
    }
}

static inline void assert_same_zones(const struct er_result *result, const struct er_result *wanted,
                                     double relative)
{
    assert_int_equal(result->field->zone_count, wanted->field->zone_count);
    for (size_t i = 0; i < result->field->zone_count; i++) {
        assert_string_equal(result->field->zones[i].name, wanted->field->zones[i].name);
        assert_same_members(er_zone_members, &result->zones[i], &wanted->zones[i], relative);
        assert_figure(result->zones[i].holding, wanted->zones[i].holding, relative);
        assert_figure(result->zones[i].flush_velocity, wanted->zones[i].flush_velocity, relative);
    }
}

static inline void assert_same_supply(const struct er_result *result,
                                      const struct er_result *wanted, double relative)
{
    assert_int_equal(result->field->set_count, wanted->field->set_count);
    for (size_t i = 0; i < result->field->set_count; i++) {
        assert_figure(result->sets[i].flow, wanted->sets[i].flow, relative);
        assert_figure(result->sets[i].source_pressure, wanted->sets[i].source_pressure, relative);
        assert_figure(result->sets[i].after_headworks, wanted->sets[i].after_headworks, relative);
    }
    assert_int_equal(result->field->section_count, wanted->field->section_count);
    for (size_t i = 0; i < result->field->section_count; i++) {
        assert_figure(result->sections[i].velocity, wanted->sections[i].velocity, relative);
        assert_figure(result->sections[i].end_pressure, wanted->sections[i].end_pressure, relative);
    }
    assert_figure(result->day.hours_needed, wanted->day.hours_needed, relative);
    assert_figure(result->day.hours_available, wanted->day.hours_available, relative);
    assert_figure(result->day.days_of_supply, wanted->day.days_of_supply, relative);
    assert_figure(result->suction.npsh_available, wanted->suction.npsh_available, relative);
}

static inline void assert_same_findings(const struct er_result *result,
                                        const struct er_result *wanted)
{
    assert_int_equal(result->verdict, wanted->verdict);
    assert_int_equal(result->finding_count, wanted->finding_count);
    for (size_t i = 0; i < result->finding_count; i++) {
        assert_int_equal(result->findings[i].code, wanted->findings[i].code);
        assert_string_equal(result->findings[i].text, wanted->findings[i].text);
    }
}

static inline void assert_same_result(const struct er_field *field, const struct er_field *wanted,
                                      double relative)
{
    struct er_result results[2];
    struct er_failure failure;
    assert_int_equal(er_check(field, ER_US, &results[0], &failure), ER_OK);
    assert_int_equal(er_check(wanted, ER_US, &results[1], &failure), ER_OK);
    assert_same_zones(&results[0], &results[1], relative);
    assert_same_supply(&results[0], &results[1], relative);
    assert_same_findings(&results[0], &results[1]);
    er_result_release(&results[0]);
    er_result_release(&results[1]);
}

#endif
