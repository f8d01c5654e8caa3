/* What changes a document: pointers (RFC 6901), merge patches (RFC 7396), assignments;
 * and how a problem at a changed place is told. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "evenrow/reading.h"
#include "json/document.h"
#include "json/pointer.h"

static struct er_document *open_text(const char *text)
{
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_document *document = NULL;
    assert_int_equal(er_document_open("field.json", text, strlen(text), &document, &problems),
                     ER_OK);
    er_problems_release(&problems);
    return document;
}

static void set(struct er_document *document, const char *assignment)
{
    struct er_problems problems;
    er_problems_init(&problems);
    enum er_status status = er_document_set(document, assignment, &problems);
    if (status != ER_OK) {
        print_error("%s: %s\n", assignment, problems.count > 0 ? problems.kept[0].text : "");
    }
    assert_int_equal(status, ER_OK);
    assert_int_equal(problems.count, 0);
    er_problems_release(&problems);
}

static void patch(struct er_document *document, const char *text)
{
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(er_document_patch(document, "wet.json", text, strlen(text), &problems), ER_OK);
    assert_int_equal(problems.count, 0);
    er_problems_release(&problems);
}

static void assert_tree(const struct er_document *document, const char *wanted)
{
    char *printed = cJSON_PrintUnformatted(er_document_root(document));
    assert_non_null(printed);
    assert_string_equal(printed, wanted);
    cJSON_free(printed);
}

static void assert_set(const char *text, const char *assignment, const char *wanted)
{
    struct er_document *document = open_text(text);
    set(document, assignment);
    assert_tree(document, wanted);
    er_document_release(document);
}

static void assert_patched(const char *text, const char *change, const char *wanted)
{
    struct er_document *document = open_text(text);
    patch(document, change);
    assert_tree(document, wanted);
    er_document_release(document);
}

/* Follows a pointer through a tree. */
static const cJSON *follow(const cJSON *tree, const char *pointer)
{
    struct er_pointer_step step;
    while (tree != NULL && er_pointer_next(&pointer, &step)) {
        tree = er_pointer_child(tree, &step);
    }
    return tree;
}

/* RFC 6901, section 5: its document and all of its pointers. */
static void pointers_lead_where_rfc_6901_says(void **state)
{
    (void)state;
    struct er_document *document = open_text(
        "{\"foo\": [\"bar\", \"baz\"], \"\": 0, \"a/b\": 1, \"c%d\": 2, \"e^f\": 3, \"g|h\": 4,"
        " \"i\\\\j\": 5, \"k\\\"l\": 6, \" \": 7, \"m~n\": 8}");
    const cJSON *root = er_document_root(document);
    assert_ptr_equal(follow(root, ""), root);
    assert_int_equal(cJSON_GetArraySize(follow(root, "/foo")), 2);
    assert_string_equal(follow(root, "/foo/0")->valuestring, "bar");
    static const char *const pointers[] = {"/",     "/a~1b", "/c%d", "/e^f", "/g|h",
                                           "/i\\j", "/k\"l", "/ ",   "/m~0n"};
    for (size_t i = 0; i < sizeof pointers / sizeof *pointers; i++) {
        const cJSON *found = follow(root, pointers[i]);
        assert_non_null(found);
        assert_true(found->valuedouble == (double)i);
    }
    /* section 4: no leading zeros, "-" is past the end, letter case and length count */
    static const char *const nowhere[] = {"/foo/00",
                                          "/foo/-",
                                          "/foo/2",
                                          "/foo/0/0",
                                          "/foo/",
                                          "/Foo",
                                          "/fo",
                                          "/foo/+0",
                                          "/foo/0 ",
                                          "/fooo",
                                          "/foo/18446744073709551616",
                                          "/a/b",
                                          "/m~1n"};
    for (size_t i = 0; i < sizeof nowhere / sizeof *nowhere; i++) {
        assert_null(follow(root, nowhere[i]));
    }
    er_document_release(document);
}

/* RFC 6901, section 4: ~1 is read before ~0, so that ~01 is ~1 and no slash. */
static void tildes_are_read_in_the_right_order(void **state)
{
    (void)state;
    assert_set("{}", "/~01=1", "{\"~1\":1}");
    assert_set("{\"~1\":0,\"/\":0}", "/~01=1", "{\"~1\":1,\"/\":0}");
    struct er_text pointer;
    er_text_init(&pointer);
    er_pointer_append_key(&pointer, "a/b~1");
    er_pointer_append_key(&pointer, "");
    assert_string_equal(er_text_string(&pointer), "/a~1b~01/");
    er_text_release(&pointer);
}

static void a_value_is_json_or_else_a_text(void **state)
{
    (void)state;
    assert_set("{\"a\":1}", "/a=2.5", "{\"a\":2.5}");
    assert_set("{\"a\":1}", "/a=12 psi", "{\"a\":\"12 psi\"}");
    assert_set("{\"a\":1}", "/a=5/8 in", "{\"a\":\"5/8 in\"}");
    assert_set("{\"a\":1}", "/a=\"7\"", "{\"a\":\"7\"}");
    assert_set("{\"a\":1}", "/a=true", "{\"a\":true}");
    assert_set("{\"a\":1}", "/a=null", "{\"a\":null}");
    assert_set("{\"a\":1}", "/a=", "{\"a\":\"\"}");
    assert_set("{\"a\":1}", "/a==", "{\"a\":\"=\"}");
    assert_set("{\"a\":1}", "/a= [1, {\"b\":[]}] ", "{\"a\":[1,{\"b\":[]}]}");
    assert_set("{\"a\":1}", "/a=01", "{\"a\":\"01\"}");
    assert_set("{\"a\":1}", "/a=NaN", "{\"a\":\"NaN\"}");
    assert_set("{\"a\":1}", "/a=[1", "{\"a\":\"[1\"}");
    assert_set("{\"a\":1}", "/a=1e999", "{\"a\":\"1e999\"}");
    assert_set("{\"a\":1}", "/a={'b':1}", "{\"a\":\"{'b':1}\"}");
}

static void a_value_is_put_in_its_place(void **state)
{
    (void)state;
    const char *text = "{\"a\":1,\"b\":[1,2,3],\"c\":{\"d\":4}}";
    assert_set(text, "/a=9", "{\"a\":9,\"b\":[1,2,3],\"c\":{\"d\":4}}");
    assert_set(text, "/c=9", "{\"a\":1,\"b\":[1,2,3],\"c\":9}");
    assert_set(text, "/b/0=9", "{\"a\":1,\"b\":[9,2,3],\"c\":{\"d\":4}}");
    assert_set(text, "/b/2={}", "{\"a\":1,\"b\":[1,2,{}],\"c\":{\"d\":4}}");
    assert_set(text, "/b/-=9", "{\"a\":1,\"b\":[1,2,3,9],\"c\":{\"d\":4}}");
    assert_set(text, "/c/d=9", "{\"a\":1,\"b\":[1,2,3],\"c\":{\"d\":9}}");
    assert_set(text, "/c/-=9", "{\"a\":1,\"b\":[1,2,3],\"c\":{\"d\":4,\"-\":9}}");
    assert_set(text, "/A=9", "{\"a\":1,\"b\":[1,2,3],\"c\":{\"d\":4},\"A\":9}");
    assert_set(text, "/=9", "{\"a\":1,\"b\":[1,2,3],\"c\":{\"d\":4},\"\":9}");
    assert_set(text, "={\"x\":[]}", "{\"x\":[]}");
    assert_set("{\"b\":[]}", "/b/-=1", "{\"b\":[1]}");
}

/* Replacing the last, the first and the only one must leave lists that still grow. */
static void one_after_the_other(void **state)
{
    (void)state;
    struct er_document *document = open_text("{\"b\":[1,2],\"o\":[1]}");
    set(document, "/b/1=3");
    set(document, "/b/-=4");
    set(document, "/b/0=5");
    set(document, "/o/0=6");
    set(document, "/o/-=7");
    set(document, "/o=8");
    set(document, "/n={}");
    set(document, "/n/m=9");
    patch(document, "{\"b\":null,\"o\":{\"p\":1},\"q\":[null]}");
    set(document, "/o/r=2");
    assert_tree(document, "{\"o\":{\"p\":1,\"r\":2},\"n\":{\"m\":9},\"q\":[null]}");
    er_document_release(document);
}

/* An assignment is refused, told at `pointer` (NULL: none) by a message with `part` in it, and
 * the document is what it was. */
static void refuse_set(const char *text, const char *assignment, const char *pointer,
                       const char *part)
{
    struct er_document *document = open_text(text);
    char *before = cJSON_PrintUnformatted(er_document_root(document));
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(er_document_set(document, assignment, &problems), ER_BAD_INPUT);
    assert_int_equal(problems.count, 1);
    const struct er_problem *problem = &problems.kept[0];
    if (strstr(problem->text, part) == NULL) {
        print_error("%s: %s\n", assignment, problem->text);
    }
    assert_non_null(strstr(problem->text, part));
    if (pointer == NULL) {
        assert_null(problem->pointer);
    } else {
        assert_string_equal(problem->pointer, pointer);
    }
    assert_int_equal(problem->line, 0);
    assert_memory_equal(problem->origin, "--set ", 6);
    assert_tree(document, before);
    cJSON_free(before);
    er_problems_release(&problems);
    er_document_release(document);
}

static void assignments_that_are_none_are_refused(void **state)
{
    (void)state;
    const char *text = "{\"units\":\"us\",\"zones\":[{\"name\":\"1\"},5],\"n\":null,\"t\":true}";
    refuse_set(text, "/zones", NULL, "there is no = in it");
    refuse_set(text, "", NULL, "there is no = in it");
    refuse_set(text, "units=us", NULL, "begins with a slash");
    refuse_set(text, "/a~=1", NULL, "~ is written ~0");
    refuse_set(text, "/a~2b=1", NULL, "~ is written ~0");
    refuse_set(text, "/a\xff=1", NULL, "UTF-8");
    refuse_set(text, "/a=\xc3", NULL, "UTF-8");
    refuse_set(text, "/zoens/0/name=x", "",
               "the top level has no key \"zoens\"; did you mean "
               "\"zones\"?");
    refuse_set(text, "/xyz/0=x", "", "the top level has no key \"xyz\"");
    refuse_set(text, "/zones/0/nmae/x=1", "/zones/0", "did you mean \"name\"?");
    refuse_set(text, "/zones/2=1", "/zones",
               "/zones is a list of 2, counted from 0: it has no "
               "place 2; - puts a new one at its end");
    refuse_set(text, "/zones/2/name=1", "/zones", "it has no place 2");
    refuse_set(text, "/zones/first=1", "/zones", "expected a number, counted from 0, or -");
    refuse_set(text, "/zones/01=1", "/zones", "expected a number");
    refuse_set(text, "/zones/-/name=1", "/zones", "expected a number");
    refuse_set(text, "/zones/1/name=1", "/zones/1", "/zones/1 is a number: nothing can be put");
    refuse_set(text, "/units/x=1", "/units", "/units is a text: nothing can be put inside it");
    refuse_set(text, "/units/x/y=1", "/units", "/units is a text");
    refuse_set(text, "/n/x=1", "/n", "/n is null");
    refuse_set(text, "/t/x=1", "/t", "/t is true");
    refuse_set(text, "=5", "", "expected an object");
    refuse_set(text, "=", "", "expected an object");
    refuse_set(text, "/zones/0={\"a\":{\"b\":1,\"b\":2}}", "/zones/0/a/b",
               "the key \"b\" is given twice");
}

static void depth_counts_from_the_top(void **state)
{
    (void)state;
    char assignment[256] = "/a/0=";
    memset(assignment + 5, '[', 98);
    memset(assignment + 5 + 98, ']', 98);
    struct er_document *document = open_text("{\"a\":[0]}");
    set(document, assignment);
    er_document_release(document);
    memset(assignment + 5, '[', 99);
    memset(assignment + 5 + 99, ']', 99);
    refuse_set("{\"a\":[0]}", assignment, "/a/0", "more than 100 objects and arrays");
    refuse_set("{\"a\":[0]}", assignment, "/a/0", "inside each other");
}

static void a_long_assignment_is_told_in_short(void **state)
{
    (void)state;
    char assignment[600];
    strcpy(assignment, "/a/b=");
    for (size_t i = 5; i + 2 < sizeof assignment; i += 2) {
        memcpy(assignment + i, "\xc3\xa9", 3);
    }
    struct er_document *document = open_text("{\"a\":1}");
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(er_document_set(document, assignment, &problems), ER_BAD_INPUT);
    const char *origin = problems.kept[0].origin;
    assert_memory_equal(origin, "--set /a/b=\xc3\xa9", 13);
    assert_true(strlen(origin) < 80);
    assert_string_equal(origin + strlen(origin) - 5, "\xc3\xa9...");
    er_problems_release(&problems);
    er_document_release(document);
}

/* RFC 7396, appendix A, all fifteen, and the example of section 3. A field file and its patch
 * are objects; where the RFC's example is something else it stands one level down, which by
 * the RFC's own rule merges the same way (but null, which takes the member away). */
static void patches_merge_as_rfc_7396_says(void **state)
{
    (void)state;
    assert_patched("{\"a\":\"b\"}", "{\"a\":\"c\"}", "{\"a\":\"c\"}");
    assert_patched("{\"a\":\"b\"}", "{\"b\":\"c\"}", "{\"a\":\"b\",\"b\":\"c\"}");
    assert_patched("{\"a\":\"b\"}", "{\"a\":null}", "{}");
    assert_patched("{\"a\":\"b\",\"b\":\"c\"}", "{\"a\":null}", "{\"b\":\"c\"}");
    assert_patched("{\"a\":[\"b\"]}", "{\"a\":\"c\"}", "{\"a\":\"c\"}");
    assert_patched("{\"a\":\"c\"}", "{\"a\":[\"b\"]}", "{\"a\":[\"b\"]}");
    assert_patched("{\"a\":{\"b\":\"c\"}}", "{\"a\":{\"b\":\"d\",\"c\":null}}",
                   "{\"a\":{\"b\":\"d\"}}");
    assert_patched("{\"a\":[{\"b\":\"c\"}]}", "{\"a\":[1]}", "{\"a\":[1]}");
    assert_patched("{\"x\":[\"a\",\"b\"]}", "{\"x\":[\"c\",\"d\"]}", "{\"x\":[\"c\",\"d\"]}");
    assert_patched("{\"x\":{\"a\":\"b\"}}", "{\"x\":[\"c\"]}", "{\"x\":[\"c\"]}");
    assert_patched("{\"x\":{\"a\":\"foo\"}}", "{\"x\":null}", "{}");
    assert_patched("{\"x\":{\"a\":\"foo\"}}", "{\"x\":\"bar\"}", "{\"x\":\"bar\"}");
    assert_patched("{\"e\":null}", "{\"a\":1}", "{\"e\":null,\"a\":1}");
    assert_patched("{\"x\":[1,2]}", "{\"x\":{\"a\":\"b\",\"c\":null}}", "{\"x\":{\"a\":\"b\"}}");
    assert_patched("{}", "{\"a\":{\"bb\":{\"ccc\":null}}}", "{\"a\":{\"bb\":{}}}");
    assert_patched("{\"title\":\"Goodbye!\",\"author\":{\"givenName\":\"John\",\"familyName\":"
                   "\"Doe\"},\"tags\":[\"example\",\"sample\"],\"content\":\"This will be "
                   "unchanged\"}",
                   "{\"title\":\"Hello!\",\"phoneNumber\":\"+01-123-456-7890\",\"author\":{"
                   "\"familyName\":null},\"tags\":[\"example\"]}",
                   "{\"title\":\"Hello!\",\"author\":{\"givenName\":\"John\"},\"tags\":["
                   "\"example\"],\"content\":\"This will be unchanged\",\"phoneNumber\":"
                   "\"+01-123-456-7890\"}");
}

/* Nulls inside a list are values (RFC 7396, section 1), and keys differ by letter case. */
static void patches_leave_lists_and_letter_case_alone(void **state)
{
    (void)state;
    assert_patched("{\"a\":1}", "{\"a\":[null,{\"b\":null}]}", "{\"a\":[null,{\"b\":null}]}");
    assert_patched("{\"a\":1,\"A\":2}", "{\"A\":null,\"B\":3}", "{\"a\":1,\"B\":3}");
    assert_patched("{\"a\":1}", "{\"A\":null,\"c\":null}", "{\"a\":1}");
    assert_patched("{\"a\":1}", "{}", "{\"a\":1}");
    assert_patched("{\"a\":1,\"b\":2,\"c\":3}", "{\"c\":null,\"a\":null,\"d\":4,\"b\":5}",
                   "{\"b\":5,\"d\":4}");
}

static void refuse_patch(const char *text, size_t line, size_t column, const char *part)
{
    struct er_document *document = open_text("{\"a\":1}");
    struct er_problems problems;
    er_problems_init(&problems);
    assert_int_equal(er_document_patch(document, "wet.json", text, strlen(text), &problems),
                     ER_BAD_INPUT);
    assert_int_equal(problems.count, 1);
    assert_string_equal(problems.kept[0].origin, "wet.json");
    assert_int_equal(problems.kept[0].line, line);
    assert_int_equal(problems.kept[0].column, column);
    assert_non_null(strstr(problems.kept[0].text, part));
    assert_tree(document, "{\"a\":1}");
    er_problems_release(&problems);
    set(document, "/a=2"); /* the document is still good */
    assert_tree(document, "{\"a\":2}");
    er_document_release(document);
}

static void patches_that_are_none_are_refused(void **state)
{
    (void)state;
    refuse_patch("", 1, 1, "the file is empty");
    refuse_patch("\n[1]", 2, 1, "expected an object, {...}, and found a list");
    refuse_patch("null", 1, 1, "found null");
    refuse_patch("{\n\"a\":2,}", 2, 6, "a comma before the closing bracket");
    refuse_patch("{\"b\":{\"c\":1,\n \"c\":2}}", 2, 2, "given twice: first in line 1");
}

static void assert_origin(const struct er_document *document, const char *pointer,
                          enum er_spot spot, const char *origin, size_t line, size_t column)
{
    struct er_problems problems;
    er_problems_init(&problems);
    er_document_problem(document, &problems, pointer, spot, "wrong");
    if (strcmp(problems.kept[0].origin, origin) != 0) {
        print_error("%s: ", pointer);
    }
    assert_string_equal(problems.kept[0].origin, origin);
    assert_int_equal(problems.kept[0].line, line);
    assert_int_equal(problems.kept[0].column, column);
    assert_string_equal(problems.kept[0].pointer, pointer);
    er_problems_release(&problems);
}

static void a_problem_is_told_by_what_put_its_place_there(void **state)
{
    (void)state;
    struct er_document *document = open_text("{\"a\": {\"b\": 1, \"c\": {\"d\": 2}},\n"
                                             " \"list\": [1, {\"e\": 3}, 4],\n"
                                             " \"gone\": 5, \"whole\": 6}");
    set(document, "/a/b={\"x\":[1,2]}");
    patch(document, "{\n \"a\": {\"c\": {\"d\": [7, 8], \"new\": 9}},\n"
                    " \"gone\": null,\n"
                    " \"whole\": {\"k\": 1}, \"fresh\": {\"m\": {}}}");
    set(document, "/list/1/e=true");
    set(document, "/list/-=x");
    set(document, "/a/c/d/1={}");
    set(document, "/fresh/m/n=1");

    const char *file = "field.json";
    assert_origin(document, "", ER_AT_VALUE, file, 1, 1);
    assert_origin(document, "/a", ER_AT_KEY, file, 1, 2);
    assert_origin(document, "/a/c", ER_AT_KEY, file, 1, 16);
    assert_origin(document, "/list/0", ER_AT_VALUE, file, 2, 11);
    assert_origin(document, "/list/1", ER_AT_VALUE, file, 2, 14);
    assert_origin(document, "/list/2", ER_AT_VALUE, file, 2, 24);
    assert_origin(document, "/gone", ER_AT_VALUE, file, 1, 1); /* missed in the top level */

    const char *wet = "wet.json";
    assert_origin(document, "/a/c/d", ER_AT_VALUE, wet, 2, 19);
    assert_origin(document, "/a/c/d/0", ER_AT_VALUE, wet, 2, 20);
    assert_origin(document, "/a/c/new", ER_AT_KEY, wet, 2, 27);
    assert_origin(document, "/whole", ER_AT_VALUE, wet, 4, 11);
    assert_origin(document, "/whole/k", ER_AT_KEY, wet, 4, 12);
    assert_origin(document, "/whole/none", ER_AT_VALUE, wet, 4, 11);
    assert_origin(document, "/fresh/m", ER_AT_VALUE, wet, 4, 36);

    assert_origin(document, "/a/b", ER_AT_VALUE, "--set /a/b={\"x\":[1,2]}", 0, 0);
    assert_origin(document, "/a/b/x/1", ER_AT_VALUE, "--set /a/b={\"x\":[1,2]}", 0, 0);
    assert_origin(document, "/a/b/none", ER_AT_VALUE, "--set /a/b={\"x\":[1,2]}", 0, 0);
    assert_origin(document, "/list/1/e", ER_AT_KEY, "--set /list/1/e=true", 0, 0);
    assert_origin(document, "/list/3", ER_AT_VALUE, "--set /list/-=x", 0, 0);
    assert_origin(document, "/a/c/d/1", ER_AT_VALUE, "--set /a/c/d/1={}", 0, 0);
    assert_origin(document, "/fresh/m/n", ER_AT_VALUE, "--set /fresh/m/n=1", 0, 0);
    er_document_release(document);
}

static void the_last_override_wins(void **state)
{
    (void)state;
    struct er_document *document = open_text("{\"a\": {\"b\": 1}}");
    set(document, "/a/b=2");
    patch(document, "{\"a\": {\"b\": 3}}");
    assert_origin(document, "/a/b", ER_AT_VALUE, "wet.json", 1, 13);
    set(document, "/a={\"b\":4}");
    assert_origin(document, "/a/b", ER_AT_VALUE, "--set /a={\"b\":4}", 0, 0);
    set(document, "={\"a\":{\"b\":5}}");
    assert_origin(document, "/a/b", ER_AT_VALUE, "--set ={\"a\":{\"b\":5}}", 0, 0);
    assert_origin(document, "", ER_AT_VALUE, "--set ={\"a\":{\"b\":5}}", 0, 0);
    patch(document, "{\"a\":\n{\"b\": 6}}");
    assert_origin(document, "/a/b", ER_AT_VALUE, "wet.json", 2, 7);
    assert_origin(document, "/a", ER_AT_VALUE, "--set ={\"a\":{\"b\":5}}", 0, 0);
    er_document_release(document);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pointers_lead_where_rfc_6901_says),
        cmocka_unit_test(tildes_are_read_in_the_right_order),
        cmocka_unit_test(a_value_is_json_or_else_a_text),
        cmocka_unit_test(a_value_is_put_in_its_place),
        cmocka_unit_test(one_after_the_other),
        cmocka_unit_test(assignments_that_are_none_are_refused),
        cmocka_unit_test(depth_counts_from_the_top),
        cmocka_unit_test(a_long_assignment_is_told_in_short),
        cmocka_unit_test(patches_merge_as_rfc_7396_says),
        cmocka_unit_test(patches_leave_lists_and_letter_case_alone),
        cmocka_unit_test(patches_that_are_none_are_refused),
        cmocka_unit_test(a_problem_is_told_by_what_put_its_place_there),
        cmocka_unit_test(the_last_override_wins),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
