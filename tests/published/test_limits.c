/* The limits and defaults that a plan is judged by when it names none. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "published.h"

static void read_plain_field(struct plan *plan)
{
    plan_read(plan, "{\"units\": \"us\", \"source\": {\"pressure\": 10},"
                    " \"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8,"
                    "  \"emitter_spacing\": 12, \"inside_diameter\": 0.625}},"
                    " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": \"pvc40-1in\"},"
                    "  \"beds\": [{\"count\": 1, \"length\": 100, \"spacing\": 6,"
                    "   \"tape\": \"t\"}]}]}");
}

static double limit(const struct published_row *row, const char *figure)
{
    struct plan plan;
    (void)row;
    read_plain_field(&plan);
    struct er_limits limits = plan.field.limits;
    er_field_release(&plan.field);
    if (strcmp(figure, "velocity") == 0) {
        return er_from_si(ER_VELOCITY, ER_US, limits.velocity);
    }
    if (strcmp(figure, "flush_velocity") == 0) {
        return er_from_si(ER_VELOCITY, ER_US, limits.flush_velocity);
    }
    if (strcmp(figure, "flow_variation") == 0) {
        return limits.flow_variation * 100.0;
    }
    assert_string_equal(figure, "uniformity");
    return limits.uniformity * 100.0;
}

static double of_tape(const struct published_row *row, const char *figure)
{
    struct plan plan;
    (void)row;
    read_plain_field(&plan);
    struct er_tape tape = *plan.field.zones[0].groups[0].tape;
    er_field_release(&plan.field);
    if (strcmp(figure, "exponent") == 0) {
        return tape.exponent;
    }
    if (strcmp(figure, "min_pressure") == 0) {
        return er_from_si(ER_PRESSURE, ER_US, tape.min_pressure);
    }
    assert_string_equal(figure, "max_pressure");
    return er_from_si(ER_PRESSURE, ER_US, tape.max_pressure);
}

static double of_bed(const struct published_row *row, const char *figure)
{
    struct plan plan;
    (void)row;
    read_plain_field(&plan);
    double width = plan.field.zones[0].groups[0].bed_width;
    double depletion = plan.field.zones[0].water.allowed_depletion;
    er_field_release(&plan.field);
    if (strcmp(figure, "allowed_depletion") == 0) {
        return depletion * 100.0;
    }
    assert_string_equal(figure, "bed_width");
    return er_from_si(ER_SMALL_LENGTH, ER_US, width);
}

int main(void)
{
    static const struct published_group groups[] = {
        {"velocity", 1, limit},
        {"flushing velocity", 1, limit},
        {"flow variation", 1, limit},
        {"emission uniformity", 1, limit},
        {"share of the soil's water that may be used", 1, of_bed},
        {"exponent of an emitter", 1, of_tape},
        {"bed width", 1, of_bed},
        {"least pressure of tape", 1, of_tape},
        {"greatest pressure of tape", 1, of_tape},
    };
    return published_main("limits.json", groups, sizeof groups / sizeof *groups);
}
