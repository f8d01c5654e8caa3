/* Memory that is freed all at once, and texts that grow. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <cmocka.h>

#include "base/text.h"
#include "evenrow/arena.h"
#include "evenrow/status.h"

static void pieces_are_zero_aligned_and_apart(void **state)
{
    (void)state;
    struct er_arena arena = {NULL};
    enum { PIECES = 3000 };
    unsigned char *pieces[PIECES];
    for (size_t i = 0; i < PIECES; i++) {
        size_t size = i % 97 + 1;
        pieces[i] = er_arena_array(&arena, size, 1);
        assert_non_null(pieces[i]);
        assert_int_equal((uintptr_t)pieces[i] % _Alignof(max_align_t), 0);
        for (size_t j = 0; j < size; j++) {
            assert_int_equal(pieces[i][j], 0);
        }
        memset(pieces[i], (int)(i % 251) + 1, size);
    }
    for (size_t i = 0; i < PIECES; i++) {
        for (size_t j = 0; j < i % 97 + 1; j++) {
            assert_int_equal(pieces[i][j], i % 251 + 1);
        }
    }
    er_arena_release(&arena);
    assert_null(arena.newest);
    er_arena_release(&arena);
}

static void a_large_piece_gets_a_block_of_its_own(void **state)
{
    (void)state;
    struct er_arena arena = {NULL};
    char *small = er_arena_array(&arena, 1, 10);
    char *large = er_arena_array(&arena, 1000, 5000);
    assert_non_null(small);
    assert_non_null(large);
    assert_int_equal(large[0], 0);
    assert_int_equal(large[4999999], 0);
    large[4999999] = 'x';
    assert_non_null(er_arena_array(&arena, 0, 8));
    assert_non_null(er_arena_array(&arena, 8, 0));
    er_arena_release(&arena);
}

static void sizes_beyond_memory_are_refused(void **state)
{
    (void)state;
    struct er_arena arena = {NULL};
    assert_null(er_arena_array(&arena, SIZE_MAX, 1));
    assert_null(er_arena_array(&arena, SIZE_MAX / 2, 1));
    assert_null(er_arena_array(&arena, SIZE_MAX / 8 + 1, 16));
    assert_null(er_arena_array(&arena, 2, SIZE_MAX / 2 + 1));
    assert_non_null(er_arena_array(&arena, 1, 1)); /* and the arena is still good */
    er_arena_release(&arena);
}

static void texts_are_copied_and_made(void **state)
{
    (void)state;
    struct er_arena arena = {NULL};
    char original[] = "Alder Bend Farm";
    char *copy = er_arena_text(&arena, original);
    original[0] = 'X';
    assert_string_equal(copy, "Alder Bend Farm");
    assert_string_equal(er_arena_text(&arena, ""), "");
    assert_string_equal(er_arena_format(&arena, "%s %.2f %d", "bed", 1.25, 3), "bed 1.25 3");
    char *wide = er_arena_format(&arena, "%5000d", 7);
    assert_int_equal(strlen(wide), 5000);
    er_arena_release(&arena);
}

static void a_text_grows(void **state)
{
    (void)state;
    struct er_text text;
    er_text_init(&text);
    assert_string_equal(er_text_string(&text), "");
    for (int i = 0; i < 1000; i++) {
        er_text_appendf(&text, "%03d,", i);
    }
    er_text_append(&text, "end");
    er_text_append_bytes(&text, "ing", 2);
    assert_false(text.out_of_memory);
    assert_int_equal(text.length, 4005);
    assert_memory_equal(er_text_string(&text) + 3992, "998,999,endin", 14);
    er_text_clear(&text);
    assert_string_equal(er_text_string(&text), "");
    er_text_append(&text, "again");
    char *taken = er_text_take(&text);
    assert_string_equal(taken, "again");
    free(taken);
    taken = er_text_take(&text);
    assert_string_equal(taken, "");
    free(taken);
    er_text_release(&text);
}

static void assert_visible(const char *bytes, size_t count, const char *wanted)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_visible_bytes(&text, bytes, count);
    assert_string_equal(er_text_string(&text), wanted);
    er_text_release(&text);
}

#define ASSERT_VISIBLE(bytes, wanted) assert_visible(bytes, sizeof(bytes) - 1, wanted)

/* Code points as the Unicode Standard names them; UTF-8 as in RFC 3629, section 4. */
static void what_cannot_be_seen_is_shown(void **state)
{
    (void)state;
    ASSERT_VISIBLE("plain, caf\xc3\xa9, \xe2\x82\xac, \xf0\x9f\x8c\xb1",
                   "plain, caf\xc3\xa9, \xe2\x82\xac, \xf0\x9f\x8c\xb1");
    ASSERT_VISIBLE("a\x1b[31mb", "a\\x1b[31mb");            /* escape: colours of a terminal */
    ASSERT_VISIBLE("a\nb\rc\td\0e", "a\\nb\\rc\\td\\x00e"); /* controls of C0 */
    ASSERT_VISIBLE("\x7f", "\\x7f");                        /* DEL */
    ASSERT_VISIBLE("\xc2\x9b", "\\u009b");                  /* C1: another escape */
    ASSERT_VISIBLE("\xe2\x80\xae", "\\u202e");              /* right-to-left override */
    ASSERT_VISIBLE("\xe2\x81\xa6", "\\u2066");              /* left-to-right isolate */
    ASSERT_VISIBLE("\xe2\x80\xa8", "\\u2028");              /* line separator */
    ASSERT_VISIBLE("\xef\xbb\xbf", "\\ufeff");              /* byte-order mark */
    ASSERT_VISIBLE("\xf3\xa0\x81\x81", "\\ue0041");         /* a tag letter */
    ASSERT_VISIBLE("\xff", "\\xff");                        /* never in UTF-8 */
    ASSERT_VISIBLE("\xc3", "\\xc3");                        /* cut short */
    ASSERT_VISIBLE("\xe2\x82", "\\xe2\\x82");
    ASSERT_VISIBLE("\xc0\xaf", "\\xc0\\xaf");                   /* longer than need be */
    ASSERT_VISIBLE("\xe0\x80\xaf", "\\xe0\\x80\\xaf");          /* longer than need be */
    ASSERT_VISIBLE("\xed\xa0\x80", "\\xed\\xa0\\x80");          /* half of a surrogate pair */
    ASSERT_VISIBLE("\xf4\x90\x80\x80", "\\xf4\\x90\\x80\\x80"); /* beyond U+10FFFF */
}

static void each_status_has_a_text(void **state)
{
    (void)state;
    for (int i = 0; i < ER_STATUS_COUNT; i++) {
        assert_string_not_equal(er_status_text((enum er_status)i), "unknown status");
        for (int j = 0; j < i; j++) {
            assert_string_not_equal(er_status_text((enum er_status)i),
                                    er_status_text((enum er_status)j));
        }
    }
    assert_string_equal(er_status_text(ER_STATUS_COUNT), "unknown status");
    assert_string_equal(er_status_text((enum er_status)99), "unknown status");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(pieces_are_zero_aligned_and_apart),
        cmocka_unit_test(a_large_piece_gets_a_block_of_its_own),
        cmocka_unit_test(sizes_beyond_memory_are_refused),
        cmocka_unit_test(texts_are_copied_and_made),
        cmocka_unit_test(a_text_grows),
        cmocka_unit_test(what_cannot_be_seen_is_shown),
        cmocka_unit_test(each_status_has_a_text),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
