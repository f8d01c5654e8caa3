/* What the tests of a season share: fields whose days are worked by hand, and their seasons. */
#ifndef ER_TESTS_SEASON_FIELDS_H
#define ER_TESTS_SEASON_FIELDS_H

#include "evenrow/season.h"
#include "field_texts.h"

/* Two zones of 10 beds of 100 m, 2 m apart: 2000 m2 and 200 emitters of 1 L/h a bed, so 2 m3/h,
 * each emitter giving just that. 4 mm/day at 80 percent are 10 m3 and 5 h a day. */
#define ZONE(name, more)                                                                           \
    "{\"name\": \"" name "\", \"header\": {\"pipe\": {\"inside_diameter\": 900}},"                 \
    " \"beds\": [{\"count\": 10, \"length\": 100, \"spacing\": 2, \"tape\": \"t\"}]" more "}"
#define FIELD(source, zones, water, more)                                                          \
    "{\"units\": \"metric\", \"source\": {\"pressure\": 100" source "}, \"tapes\": {\"t\":"        \
    " {\"emitter_flow\": 1, \"holds_from\": 1, \"emitter_spacing\": 500,"                          \
    "  \"inside_diameter\": 200, \"cv\": 0}}, \"zones\": [" zones "], \"water\": {\"hours\": 12,"  \
    " \"efficiency\": 80" water "}" more "}"
#define EVEN "[4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4]"
#define TWENTY_DAYS                                                                                \
    ", \"season\": {\"planting\": \"2026-05-01\", \"stages\": [10, 0, 10, 0], \"kc\": [1, 1, 1],"  \
    " \"eto\": " EVEN "}"

struct planned {
    struct er_field field;
    struct er_result result;
    struct er_season_plan plan;
};

static inline enum er_status make(const char *text, struct planned *planned,
                                  struct er_season_fault *fault)
{
    struct er_failure failure;
    read_good(text, &planned->field);
    assert_int_equal(er_check(&planned->field, ER_METRIC, &planned->result, &failure), ER_OK);
    return er_season_plan_make(&planned->result, &planned->plan, fault);
}

static inline void release(struct planned *planned)
{
    er_season_plan_release(&planned->plan);
    er_result_release(&planned->result);
    er_field_release(&planned->field);
}

static inline void make_good(const char *text, struct planned *planned)
{
    struct er_season_fault fault;
    assert_int_equal(make(text, planned, &fault), ER_OK);
}

#endif
