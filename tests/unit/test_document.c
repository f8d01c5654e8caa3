/* The field file's text: what is JSON (RFC 8259), what is not, and where its places are. */
#include <locale.h>
#include <math.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "comma.h"
#include "evenrow/reading.h"
#include "json/document.h"

static const char *const name = "field.json";

/* Opens a text of `length` bytes that must be good. The caller releases. */
static struct er_document *open_bytes(const char *text, size_t length)
{
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_document *document = NULL;
    enum er_status status = er_document_open(name, text, length, &document, &problems);
    if (status != ER_OK && problems.count > 0) {
        print_error("%zu:%zu: %s\n", problems.kept[0].line, problems.kept[0].column,
                    problems.kept[0].text);
    }
    assert_int_equal(status, ER_OK);
    assert_int_equal(problems.count, 0);
    assert_non_null(document);
    er_problems_release(&problems);
    return document;
}

static struct er_document *open_text(const char *text) { return open_bytes(text, strlen(text)); }

/* A text of `length` bytes must be refused for one reason, told at a place with a message of
 * which `part` is a part. */
static void refuse_bytes(const char *text, size_t length, size_t line, size_t column,
                         const char *part)
{
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_document *document = NULL;
    enum er_status status = er_document_open(name, text, length, &document, &problems);
    assert_int_equal(status, ER_BAD_INPUT);
    assert_null(document);
    assert_int_equal(problems.count, 1);
    const struct er_problem *problem = &problems.kept[0];
    if (problem->line != line || problem->column != column || !strstr(problem->text, part)) {
        print_error("%.60s\n  found  %zu:%zu: %s\n  wanted %zu:%zu: %s\n", text, problem->line,
                    problem->column, problem->text, line, column, part);
    }
    assert_string_equal(problem->origin, name);
    assert_int_equal(problem->line, line);
    assert_int_equal(problem->column, column);
    assert_non_null(strstr(problem->text, part));
    er_problems_release(&problems);
}

static void refuse(const char *text, size_t line, size_t column, const char *part)
{
    refuse_bytes(text, strlen(text), line, column, part);
}

static const cJSON *member(const struct er_document *document, const char *key)
{
    const cJSON *found = cJSON_GetObjectItemCaseSensitive(er_document_root(document), key);
    assert_non_null(found);
    return found;
}

static void assert_text(const char *json, const char *wanted)
{
    struct er_document *document = open_text(json);
    const cJSON *found = member(document, "a");
    assert_true(cJSON_IsString(found));
    assert_string_equal(found->valuestring, wanted);
    er_document_release(document);
}

static void assert_number(const char *json, double wanted)
{
    struct er_document *document = open_text(json);
    const cJSON *found = member(document, "a");
    assert_true(cJSON_IsNumber(found));
    assert_true(found->valuedouble == wanted);
    er_document_release(document);
}

/* RFC 8259, section 2 (white space), 3 (literals), 4 and 5 (objects and arrays). */
static void good_text_becomes_a_tree(void **state)
{
    (void)state;
    struct er_document *document =
        open_text(" \t\r\n{ \"o\" : { } , \"l\":[ ],\"t\":true,\"f\":false,\n\"n\":null,"
                  "\"m\":[[],{\"x\":[1,\"two\",{}]}]\t}\r\n ");
    assert_true(cJSON_IsObject(er_document_root(document)));
    assert_true(cJSON_IsObject(member(document, "o")));
    assert_int_equal(cJSON_GetArraySize(member(document, "l")), 0);
    assert_true(cJSON_IsTrue(member(document, "t")));
    assert_true(cJSON_IsFalse(member(document, "f")));
    assert_true(cJSON_IsNull(member(document, "n")));
    char *printed = cJSON_PrintUnformatted(er_document_root(document));
    assert_string_equal(printed, "{\"o\":{},\"l\":[],\"t\":true,\"f\":false,\"n\":null,"
                                 "\"m\":[[],{\"x\":[1,\"two\",{}]}]}");
    cJSON_free(printed);
    er_document_release(document);
    er_document_release(NULL);
}

/* RFC 8259, section 7. */
static void escapes_are_read(void **state)
{
    (void)state;
    assert_text("{\"a\":\"\"}", "");
    assert_text("{\"a\":\"\\\" \\\\ \\/ \\b \\f \\n \\r \\t\"}", "\" \\ / \b \f \n \r \t");
    assert_text("{\"a\":\"\\u0041\\u00e9\\u20AC\"}", "A\xc3\xa9\xe2\x82\xac");
    assert_text("{\"a\":\"\\uD834\\uDD1E\"}", "\xf0\x9d\x84\x9e"); /* the G clef of section 7 */
    assert_text("{\"\\u0061\":\"\\uffff\"}", "\xef\xbf\xbf");
    assert_text("{\"a\":\"\x7f\xc2\x80\xf4\x8f\xbf\xbf\"}", "\x7f\xc2\x80\xf4\x8f\xbf\xbf");
}

/* RFC 8259, section 6. */
static void numbers_are_read(void **state)
{
    (void)state;
    assert_number("{\"a\":0}", 0.0);
    assert_number("{\"a\":-0}", 0.0);
    assert_number("{\"a\":-12.5e-1}", -1.25);
    assert_number("{\"a\":1E+2}", 100.0);
    assert_number("{\"a\":0.1}", 0.1);
    assert_number("{\"a\":1e-400}", 0.0);
    assert_number("{\"a\":1.7976931348623157e308}", 1.7976931348623157e308);
    assert_number("{\"a\":0.1000000000000000055511151231257827021181583404541015625000000000000"
                  "00000000000000000000000000000000000000000000000000000000000000000000}",
                  0.1);
    assert_number("{\"a\":123456789012345678901234567890123456789012345678901234567890123456789"
                  "0}",
                  1.2345678901234568e69);
}

static void a_byte_order_mark_is_skipped(void **state)
{
    (void)state;
    assert_text("\xef\xbb\xbf{\"a\":\"x\"}", "x");
    refuse("\xef\xbb\xbf{\"a\":x}", 1, 6, "\"x\"");
    refuse("\xef\xbb\xbf\xef\xbb\xbf{}", 1, 1, "stands where a value was expected");
    refuse("{}\xef\xbb\xbf", 1, 3, "nothing may follow");
}

static void numbers_that_are_none_are_refused(void **state)
{
    (void)state;
    refuse("{\"a\":01}", 1, 6, "needless 0");
    refuse("{\"a\":-01}", 1, 6, "needless 0");
    refuse("{\"a\":00}", 1, 6, "needless 0");
    refuse("{\"a\":1.}", 1, 6, "digits are missing");
    refuse("{\"a\":1.e3}", 1, 6, "digits are missing");
    refuse("{\"a\":1e}", 1, 6, "digits are missing");
    refuse("{\"a\":1e+}", 1, 6, "digits are missing");
    refuse("{\"a\":.5}", 1, 6, "a digit before its decimal point");
    refuse("{\"a\":+5}", 1, 6, "plus sign");
    refuse("{\"a\":-}", 1, 6, "minus must be followed by a digit");
    refuse("{\"a\":- 5}", 1, 6, "minus must be followed by a digit");
    refuse("{\"a\":NaN}", 1, 6, "no infinity and no NaN");
    refuse("{\"a\":-nan}", 1, 6, "minus must be followed by a digit");
    refuse("{\"a\":Infinity}", 1, 6, "no infinity and no NaN");
    refuse("{\"a\":-Infinity}", 1, 6, "no infinity and no NaN");
    refuse("{\"a\":1e999}", 1, 6, "too large");
    refuse("{\"a\":[0,-1e999]}", 1, 9, "too large");
    refuse("{\"a\":0x10}", 1, 7, "double quotes");
    refuse("{\"a\":1,000}", 1, 7, "a comma inside a number");
    refuse("{\"a\":40 gpm}", 1, 9, "a number with its unit must stand in double quotes");
    refuse("{\"a\":40gpm}", 1, 8, "a number with its unit must stand in double quotes");
    refuse("{\"a\":1/2}", 1, 7, "/ stands where a comma or the closing bracket was expected");
    refuse("{\"a\":1_000}", 1, 7, "a number with its unit");
}

static void words_and_quotes_are_explained(void **state)
{
    (void)state;
    refuse("{\"a\":tape}", 1, 6, "a text must stand in double quotes: \"tape\"");
    refuse("{\"a\":True}", 1, 6, "True is written true");
    refuse("{\"a\":None}", 1, 6, "None is written null");
    refuse("{\"a\":nul}", 1, 6, "\"nul\"");
    refuse("{\"a\":trueish}", 1, 10, "a comma is missing");
    refuse("{a:1}", 1, 2, "a key must stand in double quotes: \"a\"");
    refuse("{1:1}", 1, 2, "a key must stand in double quotes: \"1\"");
    refuse("{null:1}", 1, 2, "a key must stand in double quotes");
    refuse("{'a':1}", 1, 2, "a single quote");
    refuse("{\"a\":'x'}", 1, 6, "a single quote");
    refuse("{\"a\":\xe2\x80\x9cx\xe2\x80\x9d}", 1, 6, "a curly quote");
    refuse("{\"a\":\xc2\xa0"
           "1}",
           1, 6, "U+00A0");
    refuse("{\"a\":@}", 1, 6, "@ stands where a value was expected");
    refuse("{@:1}", 1, 2, "@ stands where a key in double quotes was expected");
}

static void comments_are_refused(void **state)
{
    (void)state;
    refuse("// x\n{}", 1, 1, "a comment");
    refuse("{\"a\":1, /* x */ \"b\":2}", 1, 9, "a comment");
    refuse("{\"a\":1 # x\n}", 1, 8, "a comment");
    refuse("{\"a\":// x\n1}", 1, 6, "\"note\"");
    refuse("{} // x", 1, 4, "a comment");
}

static void commas_colons_and_brackets_are_explained(void **state)
{
    (void)state;
    refuse("{\"a\":1,}", 1, 7, "a comma before the closing bracket: take it out");
    refuse("{\"a\":[1,2 , \n ]}", 1, 11, "a comma before the closing bracket: take it out");
    refuse("{\"a\":[1,}", 1, 8, "a comma before the closing bracket");
    refuse("{\"a\":1,,\"b\":2}", 1, 8, "one comma too many");
    refuse("{\"a\":[1,,2]}", 1, 9, "one comma too many");
    refuse("{,}", 1, 2, "something is missing before this comma");
    refuse("{\"a\":[,1]}", 1, 7, "something is missing before this comma");
    refuse("{\"a\":,\"b\":1}", 1, 6, "something is missing before this comma");
    refuse("{\"a\":}", 1, 6, "} stands where a value was expected");
    refuse("{\"a\":1\n \"b\":2}", 2, 2, "a comma is missing before this");
    refuse("{\"a\":[1 2]}", 1, 9, "a comma is missing before this");
    refuse("{\"a\":[{}{}]}", 1, 9, "a comma is missing before this");
    refuse("{\"a\":1;\"b\":2}", 1, 7, "; stands where a comma or the closing bracket");
    refuse("{\"a\":1:2}", 1, 7, ": stands where a comma or the closing bracket");
    refuse("{\"a\" 1}", 1, 6, "a colon is missing");
    refuse("{\"a\"=1}", 1, 5, "a colon is missing");
    refuse("{\"a\"}", 1, 5, "a colon is missing");
    refuse("{\n\"a\":[1,2}", 2, 9, "} stands where ] was expected, to close the [ of line 2");
    refuse("{\n\"a\":1]", 2, 6, "] stands where } was expected, to close the { of line 1");
    refuse("{\"a\":1}}", 1, 8, "one closing bracket too many");
    refuse("{}{}", 1, 3, "nothing may follow");
    refuse("{} x", 1, 4, "nothing may follow");
    refuse("]", 1, 1, "] stands where a value was expected");
}

static void a_text_that_ends_too_early_is_told(void **state)
{
    (void)state;
    refuse("", 1, 1, "the file is empty");
    refuse(" \n ", 2, 2, "the file is empty");
    refuse("\xef\xbb\xbf", 1, 1, "the file is empty");
    refuse("{", 1, 2, "the { of line 1 is not closed, expected }");
    refuse("{\"a\":[1,\n2", 2, 2, "the [ of line 1 is not closed, expected ]");
    refuse("{\"a\":1,\n", 2, 1, "the { of line 1 is not closed");
    refuse("{\"a\":\n", 2, 1, "ends too early");
    refuse("{\"a\"", 1, 5, "a colon is missing");
    refuse("{\"a\":\"x", 1, 6, "not closed: a double quote is missing");
    refuse("{\"a\":\"x\\", 1, 8, "a backslash");
    refuse("{\"a\":\"x\\u00", 1, 8, "four hexadecimal digits");
    refuse("{\"a", 1, 2, "not closed: a double quote is missing");
    refuse("{\"a\":tru", 1, 6, "\"tru\"");
    refuse("{\"a\":-", 1, 6, "minus");
}

static void strings_that_are_none_are_refused(void **state)
{
    (void)state;
    refuse("{\"a\":\"x\n\"}", 1, 6, "not closed: a double quote is missing");
    refuse("{\"a\":\"x\r\n\"}", 1, 6, "not closed: a double quote is missing");
    refuse("{\"a\":\"x\ty\"}", 1, 8, "a tab inside a text");
    refuse("{\"a\":\"x\x1fy\"}", 1, 8, "a control character (\\x1f)");
    refuse("{\"a\x01\":1}", 1, 4, "a control character (\\x01)");
    refuse("{\"a\":\"\\x41\"}", 1, 7, "a backslash that JSON does not know");
    refuse("{\"a\":\"\\'\"}", 1, 7, "a backslash that JSON does not know");
    refuse("{\"a\":\"\\u12g4\"}", 1, 7, "four hexadecimal digits");
    refuse("{\"a\":\"\\u 123\"}", 1, 7, "four hexadecimal digits");
    refuse("{\"a\":\"x\\u0000\"}", 1, 8, "\\u0000");
    refuse("{\"\\u0000\":1}", 1, 3, "\\u0000");
    refuse("{\"a\":\"\\ud800\"}", 1, 7, "\\ud800 is half of a pair");
    refuse("{\"a\":\"\\udfff\"}", 1, 7, "\\udfff is half of a pair");
    refuse("{\"a\":\"\\ud83c\\u0041\"}", 1, 7, "\\ud83c is half of a pair");
    refuse("{\"a\":\"\\ud83c\\ud83c\"}", 1, 7, "\\ud83c is half of a pair");
    refuse("{\"a\":\"\\udf31\\ud83c\"}", 1, 7, "\\udf31 is half of a pair");
}

/* UTF-8 as RFC 3629 has it. */
static void bytes_that_are_no_text_are_refused(void **state)
{
    (void)state;
    refuse("{\"a\":\"\xff\"}", 1, 7, "a byte (\\xff) that is not UTF-8");
    refuse("{\"a\":\"caf\xe9\"}", 1, 10, "a byte (\\xe9) that is not UTF-8");
    refuse("{\"a\":\"\xc0\x80\"}", 1, 7, "not UTF-8");
    refuse("{\"a\":\"\xc1\xbf\"}", 1, 7, "not UTF-8");
    refuse("{\"a\":\"\xe0\x9f\xbf\"}", 1, 7, "not UTF-8");
    refuse("{\"a\":\"\xf0\x8f\xbf\xbf\"}", 1, 7, "not UTF-8");
    refuse("{\"a\":\"\xed\xa0\x80\"}", 1, 7, "not UTF-8");
    refuse("{\"a\":\"\xf4\x90\x80\x80\"}", 1, 7, "not UTF-8");
    refuse("{\"a\":\"\x80\"}", 1, 7, "not UTF-8");
    refuse("{\"a\":\"\xe2\x82\"}", 1, 7, "not UTF-8");
    refuse("{\"a\":\"\xe2\x82", 1, 7, "not UTF-8");
    refuse("{\xff", 1, 2, "not UTF-8");
    refuse_bytes("{\"a\":\0}", 7, 1, 6, "a NUL byte: this is not a text file");
    refuse_bytes("{\"a\":\"x\0y\"}", 11, 1, 8, "a NUL byte");
    refuse_bytes("\0", 1, 1, 1, "a NUL byte");
    refuse_bytes("{}\0", 3, 1, 3, "a NUL byte");
    refuse_bytes("\xff\xfe{\0}\0", 6, 1, 1, "UTF-16");
    refuse_bytes("\xfe\xff\0{\0}", 6, 1, 1, "UTF-16");
}

static void only_an_object_is_a_field(void **state)
{
    (void)state;
    refuse("[]", 1, 1, "expected an object, {...}, and found a list");
    refuse("\n \"x\"", 2, 2, "found a text");
    refuse("5", 1, 1, "found a number");
    refuse("null", 1, 1, "found null");
    refuse("true", 1, 1, "found true");
}

static void lines_and_columns_are_counted_in_characters(void **state)
{
    (void)state;
    refuse("\n\r\n\r\n\n{\"a\":x}", 5, 6, "\"x\"");
    refuse("\r\r{\"a\":x}", 3, 6, "\"x\"");
    refuse("{\"\xc3\xa9\xe2\x82\xac\xf0\x9f\x8c\xb1\":\"\xc3\xbc\",\n\t\"a\":\"\xc3\xa9\",x}", 2,
           10, "\"x\"");
    refuse("{\"\xf0\x9f\x8c\xb1\xf0\x9f\x8c\xb1\":x}", 1, 7, "\"x\"");
}

/* The text for `depth` arrays inside an object; the caller frees it. */
static char *nested(size_t depth)
{
    char *text = malloc(2 * depth + 8);
    assert_non_null(text);
    strcpy(text, "{\"a\":");
    memset(text + 5, '[', depth);
    memset(text + 5 + depth, ']', depth);
    strcpy(text + 5 + 2 * depth, "}");
    return text;
}

static void depth_has_a_limit(void **state)
{
    (void)state;
    char *text = nested(99);
    er_document_release(open_text(text));
    free(text);
    text = nested(100);
    refuse(text, 1, 105, "more than 100 objects and arrays inside each other");
    free(text);

    size_t length = 50000000;
    text = malloc(length);
    assert_non_null(text);
    memset(text, '[', length);
    refuse_bytes(text, length, 1, 101, "more than 100");
    free(text);
}

static void keys_given_twice_are_all_told(void **state)
{
    (void)state;
    const char *text = "{\"a\": 1,\n"
                       " \"b\": [0, {\"c\": 1, \"d/~\": 2,\n"
                       "   \"d\\/~\": {\"c\": 1}, \"c\": 3}],\n"
                       " \"\\u0061\": 2, \"A\": 3,\n"
                       " \"a\": 3}\n";
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_document *document = NULL;
    assert_int_equal(er_document_open(name, text, strlen(text), &document, &problems),
                     ER_BAD_INPUT);
    assert_null(document);
    static const struct {
        size_t line, column;
        const char *pointer, *text;
    } wanted[] = {
        {3, 4, "/b/1/d~1~0", "the key \"d/~\" is given twice: first in line 2, and again here"},
        {3, 22, "/b/1/c", "the key \"c\" is given twice: first in line 2, and again here"},
        {4, 2, "/a", "the key \"a\" is given twice: first in line 1, and again here"},
        {5, 2, "/a", "the key \"a\" is given twice: first in line 1, and again here"},
    };
    assert_int_equal(problems.count, 4);
    for (size_t i = 0; i < 4; i++) {
        assert_int_equal(problems.kept[i].line, wanted[i].line);
        assert_int_equal(problems.kept[i].column, wanted[i].column);
        assert_string_equal(problems.kept[i].pointer, wanted[i].pointer);
        assert_string_equal(problems.kept[i].text, wanted[i].text);
    }
    er_problems_release(&problems);
}

/* An object of 200,000 keys, of which every one but the first thousand has come before:
 * looked for pair by pair they would take minutes. */
static void many_keys_take_no_long_time(void **state)
{
    (void)state;
    enum { KEYS = 200000, DIFFERENT = 1000 };
    char *text = malloc((size_t)KEYS * 16);
    assert_non_null(text);
    size_t length = 0;
    for (int i = 0; i < KEYS; i++) {
        length +=
            (size_t)sprintf(text + length, "%c\"k%d\":0\n", i == 0 ? '{' : ',', i % DIFFERENT);
    }
    text[length++] = '}';
    struct er_problems problems;
    er_problems_init(&problems);
    struct er_document *document = NULL;
    assert_int_equal(er_document_open(name, text, length, &document, &problems), ER_BAD_INPUT);
    assert_int_equal(problems.count, KEYS - DIFFERENT);
    assert_int_equal(problems.kept[0].line, DIFFERENT + 1);
    assert_int_equal(problems.kept[ER_PROBLEMS_KEPT - 1].line, DIFFERENT + ER_PROBLEMS_KEPT);
    er_problems_release(&problems);
    free(text);
}

static void assert_place(const char *text, const char *pointer, enum er_spot spot, size_t line,
                         size_t column)
{
    struct er_document *document = open_text(text);
    struct er_problems problems;
    er_problems_init(&problems);
    er_document_problem(document, &problems, pointer, spot, "%s %.1f", "wrong", 0.5);
    assert_int_equal(problems.count, 1);
    if (problems.kept[0].line != line || problems.kept[0].column != column) {
        print_error("%s: %zu:%zu\n", pointer, problems.kept[0].line, problems.kept[0].column);
    }
    assert_string_equal(problems.kept[0].origin, name);
    assert_string_equal(problems.kept[0].pointer, pointer);
    assert_string_equal(problems.kept[0].text, "wrong 0.5");
    assert_int_equal(problems.kept[0].line, line);
    assert_int_equal(problems.kept[0].column, column);
    er_problems_release(&problems);
    er_document_release(document);
}

static void a_problem_finds_its_place(void **state)
{
    (void)state;
    const char *text = "\n{\"a\": {\"b\": [10, [ ], {\"c\" : 5}]},\n"
                       "  \"caf\\u00e9/~\": \"x\", \"\": 1,\n"
                       "  \"b\": {\"b\": 2}}";
    assert_place(text, "", ER_AT_VALUE, 2, 1);
    assert_place(text, "", ER_AT_KEY, 2, 1);
    assert_place(text, "/a", ER_AT_KEY, 2, 2);
    assert_place(text, "/a", ER_AT_VALUE, 2, 7);
    assert_place(text, "/a/b/0", ER_AT_VALUE, 2, 14);
    assert_place(text, "/a/b/0", ER_AT_KEY, 2, 14);
    assert_place(text, "/a/b/1", ER_AT_VALUE, 2, 18);
    assert_place(text, "/a/b/2", ER_AT_VALUE, 2, 23);
    assert_place(text, "/a/b/2/c", ER_AT_KEY, 2, 24);
    assert_place(text, "/a/b/2/c", ER_AT_VALUE, 2, 30);
    assert_place(text, "/caf\xc3\xa9~1~0", ER_AT_VALUE, 3, 18);
    assert_place(text, "/", ER_AT_VALUE, 3, 27);
    assert_place(text, "/b/b", ER_AT_KEY, 4, 9);
    /* a missing key: its nearest parent's place */
    assert_place(text, "/c", ER_AT_KEY, 2, 1);
    assert_place(text, "/b/c/d", ER_AT_KEY, 4, 8);
    assert_place(text, "/a/b/3", ER_AT_VALUE, 2, 13);
    assert_place(text, "/a/b/00", ER_AT_VALUE, 2, 13);
    assert_place(text, "/a/b/0/x", ER_AT_VALUE, 2, 14);
    assert_place(text, "/a/b/1/0", ER_AT_VALUE, 2, 18);
    assert_place(text, "/a/b/99999999999999999999999999", ER_AT_VALUE, 2, 13);
}

/* 100,000 problems at the end of a long list: those beyond the kept ones are counted without
 * a walk along it. */
static void many_problems_take_no_long_time(void **state)
{
    (void)state;
    enum { VALUES = 1000000 };
    size_t length = 2 * (size_t)VALUES + 7;
    char *text = malloc(length);
    assert_non_null(text);
    memcpy(text, "{\"a\":", 5);
    for (size_t i = 0; i < VALUES; i++) {
        text[2 * i + 5] = i == 0 ? '[' : ',';
        text[2 * i + 6] = '0';
    }
    text[length - 2] = ']';
    text[length - 1] = '}';
    struct er_document *document = open_bytes(text, length);
    free(text);
    struct er_problems problems;
    er_problems_init(&problems);
    for (int i = 0; i < 100000; i++) {
        er_document_problem(document, &problems, "/a/999999", ER_AT_VALUE, "wrong");
    }
    assert_int_equal(problems.count, 100000);
    assert_int_equal(problems.kept[ER_PROBLEMS_KEPT - 1].column, length - 2);
    er_problems_release(&problems);
    er_document_release(document);
}

static void a_decimal_comma_in_the_locale_changes_nothing(void **state)
{
    (void)state;
    take_decimal_comma();
    assert_number("{\"a\":1.5}", 1.5);
    assert_place("{\"a\":1.5}", "/a", ER_AT_VALUE, 1, 6); /* the message has a 0.5 */
    setlocale(LC_ALL, "C");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(good_text_becomes_a_tree),
        cmocka_unit_test(escapes_are_read),
        cmocka_unit_test(numbers_are_read),
        cmocka_unit_test(a_byte_order_mark_is_skipped),
        cmocka_unit_test(numbers_that_are_none_are_refused),
        cmocka_unit_test(words_and_quotes_are_explained),
        cmocka_unit_test(comments_are_refused),
        cmocka_unit_test(commas_colons_and_brackets_are_explained),
        cmocka_unit_test(a_text_that_ends_too_early_is_told),
        cmocka_unit_test(strings_that_are_none_are_refused),
        cmocka_unit_test(bytes_that_are_no_text_are_refused),
        cmocka_unit_test(only_an_object_is_a_field),
        cmocka_unit_test(lines_and_columns_are_counted_in_characters),
        cmocka_unit_test(depth_has_a_limit),
        cmocka_unit_test(keys_given_twice_are_all_told),
        cmocka_unit_test(many_keys_take_no_long_time),
        cmocka_unit_test(a_problem_finds_its_place),
        cmocka_unit_test(many_problems_take_no_long_time),
        cmocka_unit_test(a_decimal_comma_in_the_locale_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
