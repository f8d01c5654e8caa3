/* The limits that a plan is judged by when it names none. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

#include <cmocka.h>

#include "published.h"

static struct er_limits limits_of_a_plain_field(void)
{
    struct plan plan;
    plan_read(&plan, "{\"units\": \"us\", \"source\": {\"pressure\": 10},"
                     " \"tapes\": {\"t\": {\"flow\": 0.45, \"at_pressure\": 8,"
                     "  \"emitter_spacing\": 12, \"inside_diameter\": 0.625}},"
                     " \"zones\": [{\"name\": \"1\", \"header\": {\"pipe\": \"pvc40-1in\"},"
                     "  \"beds\": [{\"count\": 1, \"length\": 100, \"spacing\": 6,"
                     "   \"tape\": \"t\"}]}]}");
    struct er_limits limits = plan.field.limits;
    er_field_release(&plan.field);
    return limits;
}

static double limit(const struct published_row *row, const char *figure)
{
    struct er_limits limits = limits_of_a_plain_field();
    (void)row;
    if (strcmp(figure, "velocity") == 0)
        return er_from_si(ER_VELOCITY, ER_US, limits.velocity);
    if (strcmp(figure, "flush_velocity") == 0)
        return er_from_si(ER_VELOCITY, ER_US, limits.flush_velocity);
    if (strcmp(figure, "flow_variation") == 0)
        return limits.flow_variation * 100.0;
    assert_string_equal(figure, "uniformity");
    return limits.uniformity * 100.0;
}

int main(void)
{
    static const struct published_group groups[] = {
        {"velocity", 1, limit},
        {"flushing velocity", 1, limit},
        {"flow variation", 1, limit},
        {"emission uniformity", 1, limit},
    };
    return published_main("limits.json", groups, sizeof groups / sizeof *groups);
}
