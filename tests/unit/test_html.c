/* A page as HTML, to the letter: every kind of block, with texts that want to be more than text. */
#include <string.h>

#include "say/page.h"
#include "trial.h"

#define HOSTILE "<b>&\"'\a"

struct line {
    double flow;
};

static const char *line_name(struct er_pen *pen, const void *result, const void *row, size_t place)
{
    (void)pen, (void)result, (void)row;
    return place == 0 ? HOSTILE : ER_BLANK;
}

static void fill(struct er_page *page)
{
    static const struct line lines[] = {{6.30901964e-4}, {1.0}};
    static const struct er_filled columns[] = {
        ER_WORDS_COLUMN("zo-\nne", line_name),
        ER_FIGURE_COLUMN("flow", ER_FLOW, struct line, flow),
    };
    er_page_paragraph(page, "HOLDS: %s", HOSTILE);
    er_page_title(page, "Plan " HOSTILE);
    er_page_warning(page, "warned");
    er_page_chapter(page, "chapter");
    er_page_heading(page, "heading %s", HOSTILE);
    er_page_item(page, "one");
    er_page_marked_item(page, "d", "marked");
    er_page_marked_item(page, "1.", "numbered");
    er_page_pair(page, "name " HOSTILE, "value");
    er_page_named(page, "code", "what to change");
    er_page_note(page, "note");
    er_page_sum(page, "a = 1 + 1", "= 2 ft");
    er_page_step(page, "b = 1");
    er_page_plain(page, "even " HOSTILE "\n");
    er_page_rows(page, columns, 2, lines, sizeof lines[0], 2, NULL);
    er_page_side(page, ER_BLOCK_LEFT);
    er_page_paragraph(page, "left");
    er_page_side(page, ER_BLOCK_RIGHT);
    er_page_paragraph(page, "right");
    er_page_side(page, ER_BLOCK_ACROSS);
    er_page_sheet(page, "sheet", HOSTILE, true);
}

#define SEEN "&lt;b&gt;&amp;&quot;&#39;\\x07"

static const char wanted[] =
    "<main>\n"
    "<p class=\"answer\">HOLDS: " SEEN "</p>\n"
    "<h1>Plan " SEEN "</h1>\n"
    "<p class=\"warning\">warned</p>\n"
    "<h2 class=\"chapter\">chapter</h2>\n"
    "<h2>heading " SEEN "</h2>\n"
    "<ul>\n<li>one</li>\n<li><b>d</b> marked</li>\n</ul>\n"
    "<ol>\n<li>numbered</li>\n</ol>\n"
    "<dl>\n<dt>name " SEEN "</dt>\n<dd>value</dd>\n</dl>\n"
    "<h3>code</h3>\n<p>what to change</p>\n"
    "<p class=\"note\">note</p>\n"
    "<p class=\"sum\">a = 1 + 1 = 2 ft</p>\n"
    "<p class=\"step\">b = 1</p>\n"
    "<pre>even " SEEN "\n</pre>\n"
    "<table>\n<thead><tr><th scope=\"col\" class=\"words\">zone</th><th scope=\"col\">flow, "
    "gpm</th></tr></thead>\n<tbody>\n"
    "<tr><th scope=\"row\" class=\"words whole\" data-head=\"zone\">" SEEN
    "</th><td data-head=\"flow, gpm\">10</td></tr>\n"
    "<tr><th scope=\"row\" class=\"blank\" data-head=\"zone\"></th>"
    "<td data-head=\"flow, gpm\">15,900</td></tr>\n"
    "</tbody>\n</table>\n"
    "<div class=\"sides\">\n<div>\n<p>left</p>\n</div>\n<div>\n<p>right</p>\n</div>\n</div>\n"
    "<section class=\"crowded\">\n<h1>sheet</h1>\n<p class=\"plan\">" SEEN "</p>\n</section>\n"
    "</main>\n</body>\n</html>\n";

static void every_block_is_told_and_escaped(void **state)
{
    struct er_page page;
    struct er_text html;
    (void)state;
    er_text_init(&html);
    er_page_init(&page, ER_US);
    fill(&page);
    assert_int_equal(er_page_as_html(&page, &html), ER_OK);
    const char *main_part = strstr(er_text_string(&html), "<main>\n");
    assert_non_null(main_part);
    assert_string_equal(main_part, wanted);
    assert_non_null(strstr(er_text_string(&html), "<title>Plan " SEEN "</title>\n"));
    er_page_release(&page);
    er_text_release(&html);
}

/* Before anything that could fetch or run stands what forbids it. */
static void the_policy_comes_first(void **state)
{
    struct er_page page;
    struct er_text html;
    (void)state;
    er_text_init(&html);
    er_page_init(&page, ER_US);
    assert_int_equal(er_page_as_html(&page, &html), ER_OK);
    const char *policy = strstr(er_text_string(&html), "Content-Security-Policy\" content=\""
                                                       "default-src 'none'; style-src "
                                                       "'unsafe-inline'; img-src data:\"");
    assert_non_null(policy);
    assert_true(policy < strstr(er_text_string(&html), "<title>"));
    assert_null(strstr(er_text_string(&html), "src="));
    assert_null(strstr(er_text_string(&html), "href="));
    er_page_release(&page);
    er_text_release(&html);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_block_is_told_and_escaped),
        cmocka_unit_test(the_policy_comes_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
