/* Reads a file of published figures and holds each row against the library's figure. */
#include "published.h"

#include "../trust/trust.h"

#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>
#include <cmocka.h>

#define GROUPS_MOST 24
#define FOLDER EVENROW_SOURCE_DIR "/tests/published/"

struct published_row {
    const cJSON *columns, *cells;
};

static const char *const kinds[] = {"printed",        "printed (copy)", "print, unnamed",
                                    "recalculated",   "from memory",    "computed",
                                    "common practice"};
/* A source with one of these words in it was not read where it says, or can't be looked up. */
static const char *const not_printed[] = {
    "copy",   "quoted", "told in", "transcribed", "recalculated", "worked by",
    "dealer", "maker",  "sheets",  "course",      "not noted",
};

static const cJSON *cell_of(const struct published_row *row, const char *column)
{
    const cJSON *cell = row->cells->child;
    for (const cJSON *name = row->columns->child; name && cell; name = name->next) {
        if (strcmp(name->valuestring, column) == 0) {
            return cell;
        }
        cell = cell->next;
    }
    fail_msg("a row has no column '%s'", column);
    return NULL;
}

double row_number(const struct published_row *row, const char *column)
{
    const cJSON *cell = cell_of(row, column);
    if (!cJSON_IsNumber(cell)) {
        fail_msg("column '%s' is not a number", column);
    }
    return cell->valuedouble;
}

const char *row_text(const struct published_row *row, const char *column)
{
    const cJSON *cell = cell_of(row, column);
    if (!cJSON_IsString(cell)) {
        fail_msg("column '%s' is not a text", column);
    }
    return cell->valuestring;
}

static cJSON *read_data(const char *name)
{
    char path[1024];
    int length = snprintf(path, sizeof path, "%s%s", FOLDER, name);
    assert_true(length > 0 && (size_t)length < sizeof path);
    FILE *file = fopen(path, "rb");
    if (!file) {
        fail_msg("cannot open %s", path);
    }
    static char text[1 << 18];
    size_t size = fread(text, 1, sizeof text, file);
    fclose(file);
    assert_true(size < sizeof text);
    cJSON *data = cJSON_ParseWithLength(text, size);
    if (!data) {
        fail_msg("%s is not JSON", path);
    }
    return data;
}

static const char *text_of(const cJSON *group, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(group, key);
    if (!cJSON_IsString(item) || item->valuestring[0] == '\0') {
        fail_msg("a group has no '%s'", key);
    }
    return item->valuestring;
}

static const cJSON *list_of(const cJSON *group, const char *key)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(group, key);
    if (!cJSON_IsArray(item)) {
        fail_msg("a group has no '%s'", key);
    }
    return item;
}

static const cJSON *find_group(const cJSON *data, const char *name)
{
    const cJSON *group;
    cJSON_ArrayForEach(group, list_of(data, "groups"))
    {
        if (strcmp(text_of(group, "group"), name) == 0) {
            return group;
        }
    }
    fail_msg("the data file has no group '%s'", name);
    return NULL;
}

static void check_kind(const char *kind, const char *source)
{
    for (size_t w = 0; strcmp(kind, "printed") == 0 && w < sizeof not_printed / sizeof *not_printed;
         w++) {
        if (strstr(source, not_printed[w])) {
            fail_msg("'%s' in a source that is called printed: %s", not_printed[w], source);
        }
    }
    for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
        if (strcmp(kinds[k], kind) == 0) {
            return;
        }
    }
    fail_msg("'%s' is no kind of check value", kind);
}

struct tolerance {
    bool relative;
    double most;
};

static struct tolerance tolerance_of(const cJSON *group)
{
    const cJSON *item = cJSON_GetObjectItemCaseSensitive(group, "tolerance");
    assert_int_equal(cJSON_GetArraySize(item), 1);
    struct tolerance tolerance = {strcmp(item->child->string, "relative") == 0,
                                  item->child->valuedouble};
    assert_true(tolerance.relative || strcmp(item->child->string, "absolute") == 0);
    assert_true(tolerance.most > 0.0);
    return tolerance;
}

struct tally {
    struct tolerance tolerance;
    size_t checks, wrong;
    double largest;
};

static void hold_row(struct tally *tally, const struct published_row *row, const char *figure,
                     published_compute *compute)
{
    double expected = row_number(row, figure);
    double found = compute(row, figure);
    double scale = tally->tolerance.relative ? fabs(expected) : 1.0;
    double deviation = fabs(found - expected) / scale;
    tally->checks++;
    if (deviation > tally->largest) {
        tally->largest = deviation;
    }
    if (deviation <= tally->tolerance.most) { /* false for NaN */
        return;
    }
    char *cells = cJSON_PrintUnformatted(row->cells);
    print_error("row %s, %s: expected %.9g, found %.9g\n", cells ? cells : "?", figure, expected,
                found);
    cJSON_free(cells);
    tally->wrong++;
}

static void print_tally(const cJSON *data, const cJSON *group, const struct tally *tally)
{
    struct trust_check check = {.set = "published",
                                .subject = text_of(data, "about"),
                                .name = text_of(group, "group"),
                                .kind = text_of(group, "kind"),
                                .source = text_of(group, "source"),
                                .unit = text_of(group, "unit"),
                                .rows = tally->checks,
                                .largest = tally->largest,
                                .tolerance = tally->tolerance.most};
    if (tally->tolerance.relative) {
        check.unit = NULL;
    }
    trust_print(&check);
}

struct case_state {
    const char *file;
    const struct published_group *groups;
    size_t count, chosen;
};

static void hold_group(void **state)
{
    const struct case_state *at = *state;
    const struct published_group *wanted = &at->groups[at->chosen];
    cJSON *data = read_data(at->file);
    const cJSON *group = find_group(data, wanted->name);
    struct published_row row = {.columns = list_of(group, "columns")};
    struct tally tally = {.tolerance = tolerance_of(group)};
    check_kind(text_of(group, "kind"), text_of(group, "source"));
    (void)text_of(group, "why"); /* no tolerance without a reason */
    cJSON_ArrayForEach(row.cells, list_of(group, "rows"))
    {
        const cJSON *figure;
        assert_int_equal(cJSON_GetArraySize(row.cells), cJSON_GetArraySize(row.columns));
        cJSON_ArrayForEach(figure, list_of(group, "expected"))
        {
            hold_row(&tally, &row, figure->valuestring, wanted->compute);
        }
    }
    print_tally(data, group, &tally);
    assert_int_equal(tally.checks, wanted->checks);
    assert_int_equal(tally.wrong, 0);
    cJSON_Delete(data);
}

/* Every group of the file has a test, and what was left out has its reason. */
static void file_is_used_whole(void **state)
{
    const struct case_state *at = *state;
    cJSON *data = read_data(at->file);
    assert_int_equal(cJSON_GetArraySize(list_of(data, "groups")), at->count);
    const cJSON *left_out;
    cJSON_ArrayForEach(left_out, list_of(data, "left_out"))
    {
        (void)text_of(left_out, "what");
        (void)text_of(left_out, "why");
    }
    cJSON_Delete(data);
}

int published_main(const char *file, const struct published_group *groups, size_t count)
{
    struct case_state states[GROUPS_MOST];
    struct CMUnitTest tests[GROUPS_MOST] = {{0}};
    if (count >= GROUPS_MOST) {
        return EXIT_FAILURE;
    }
    for (size_t g = 0; g <= count; g++) {
        states[g] = (struct case_state){file, groups, count, g};
        tests[g] = (struct CMUnitTest){.name = g < count ? groups[g].name : "used whole",
                                       .test_func = g < count ? hold_group : file_is_used_whole,
                                       .initial_state = &states[g]};
    }
    return cmocka_run_group_tests_name(file, tests, NULL, NULL);
}
