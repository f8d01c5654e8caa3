/* A page: what a report says, block by block, before it is known how it will look.
 *
 * Each command makes one page of its result. Blocks stand below one another with an empty line
 * between them; what it takes to fit them on a terminal or into a browser is not the report's
 * business. As with er_text the calls return nothing: whoever writes the page learns whether
 * memory ran out. */
#ifndef ER_SAY_PAGE_H
#define ER_SAY_PAGE_H

#include "evenrow/status.h"
#include "say/pen.h"
#include "say/table.h"

enum er_block_kind {
    ER_BLOCK_SHEET, /* the head of a sheet of its own: what follows is on it */
    ER_BLOCK_PARAGRAPH,
    ER_BLOCK_TITLE,
    ER_BLOCK_WARNING,
    ER_BLOCK_CHAPTER, /* the name of a part that has headings of its own */
    ER_BLOCK_HEADING,
    ER_BLOCK_ITEM,  /* of a list */
    ER_BLOCK_PAIR,  /* a name and what belongs to it */
    ER_BLOCK_NAMED, /* a paragraph below its name */
    ER_BLOCK_NOTE,  /* of arithmetic: what the lines below it show */
    ER_BLOCK_SUM,   /* a formula, or numbers that are added up */
    ER_BLOCK_STEP,  /* what goes into it, or what comes out */
    ER_BLOCK_PLAIN, /* lines as they are, in a type of even width */
    ER_BLOCK_TABLE,
    ER_BLOCK_LEFT, /* where there is room, what follows stands to the left */
    ER_BLOCK_RIGHT,
    ER_BLOCK_ACROSS /* and goes over the whole width again */
};

struct er_block {
    struct er_block *next;
    enum er_block_kind kind;
    bool crowded;      /* of a sheet: in small type */
    bool close;        /* it follows without an empty line */
    bool at_margin;    /* an item that is not set in */
    const char *label; /* of a pair, its name; of an item, what stands before it */
    const char *text;
    struct er_table *table;
};

struct er_page {
    struct er_pen pen; /* texts for the page are made with it */
    struct er_block *first, *last;
};

/* An empty page. The caller releases it. */
void er_page_init(struct er_page *page, enum er_system system);
void er_page_release(struct er_page *page);

void er_page_paragraph(struct er_page *page, const char *format, ...) ER_FORMAT(2, 3);
void er_page_warning(struct er_page *page, const char *format, ...) ER_FORMAT(2, 3);
void er_page_chapter(struct er_page *page, const char *format, ...) ER_FORMAT(2, 3);
void er_page_heading(struct er_page *page, const char *format, ...) ER_FORMAT(2, 3);

/* What the user calls the plan; nothing where that is NULL or empty. */
void er_page_title(struct er_page *page, const char *title);

/* Items that follow one another are one list. */
void er_page_item(struct er_page *page, const char *format, ...) ER_FORMAT(2, 3);
/* One that keeps its distance, for items of several lines. */
void er_page_loose_item(struct er_page *page, const char *format, ...) ER_FORMAT(2, 3);
/* One with a mark of its own, as "12.". */
void er_page_marked_item(struct er_page *page, const char *mark, const char *format, ...)
    ER_FORMAT(3, 4);

/* Lets the last item begin at the page's margin. */
void er_page_at_margin(struct er_page *page);

/* Pairs that follow one another stand below one another, values in line. */
void er_page_pair(struct er_page *page, const char *name, const char *format, ...) ER_FORMAT(3, 4);

/* A name on a line of its own, and below it, set in, what belongs to it. */
void er_page_named(struct er_page *page, const char *name, const char *format, ...) ER_FORMAT(3, 4);

/* Lines of arithmetic: words between them; a formula or a sum; what belongs to it, set in. Lines
 * follow one another, and the words above them, without an empty line. */
void er_page_note(struct er_page *page, const char *format, ...) ER_FORMAT(2, 3);
/* `result` ("" for a formula) begins with "= ", and a comma parts it from what it is. */
void er_page_sum(struct er_page *page, const char *sum, const char *result);
void er_page_step(struct er_page *page, const char *text);

/* `text` ends with a newline. */
void er_page_plain(struct er_page *page, const char *text);

/* Lets the last block follow the one before it without an empty line. */
void er_page_close_up(struct er_page *page);

/* Begins a sheet, which is a page of its own when it is printed. */
void er_page_sheet(struct er_page *page, const char *heading, const char *title, bool crowded);

/* Lets what follows stand to the left or the right where there is room for both, or across again.
 */
void er_page_side(struct er_page *page, enum er_block_kind side);

#define ER_BLANK "______" /* a cell that is to be filled in by hand */

/* A table of the page's pen. */
struct er_table *er_page_table(struct er_page *page, const struct er_column *columns,
                               size_t column_count, size_t row_count);

/* ---- a table whose rows are structs ---- */

enum er_fill {
    ER_FILL_FIGURE,  /* the double at `offset`: SI where the column has a quantity */
    ER_FILL_PERCENT, /* the same, a fraction */
    ER_FILL_CLOCK,   /* the same, seconds */
    ER_FILL_COUNT,   /* the size_t at `offset` */
    ER_FILL_PLACE,   /* the row's own number, from 1 */
    ER_FILL_WORDS    /* what `words` says of the row; NULL: "-" */
};

struct er_filled {
    struct er_column column;
    enum er_fill fill;
    size_t offset;
    const char *(*words)(struct er_pen *pen, const void *result, const void *row, size_t place);
};

/* Columns: a figure (SI), a fraction in percent, words, the row's number and so on.
 * `type` is the row's struct. */
#define ER_FILLED(head, kind, quantity, fill, offset, words)                                       \
    {                                                                                              \
        {(head), (kind), (quantity)}, (fill), (offset), (words)                                    \
    }
#define ER_FIGURE_COLUMN(head, quantity, type, member)                                             \
    ER_FILLED(head, ER_COLUMN_NUMBER, quantity, ER_FILL_FIGURE, offsetof(type, member), NULL)
#define ER_WHOLE_COLUMN(head, quantity, type, member)                                              \
    ER_FILLED(head, ER_COLUMN_WHOLE, quantity, ER_FILL_FIGURE, offsetof(type, member), NULL)
#define ER_PERCENT_COLUMN(head, type, member)                                                      \
    ER_FILLED(head, ER_COLUMN_NUMBER, ER_NO_UNIT, ER_FILL_PERCENT, offsetof(type, member), NULL)
#define ER_CLOCK_COLUMN(head, type, member)                                                        \
    ER_FILLED(head, ER_COLUMN_RIGHT, ER_NO_UNIT, ER_FILL_CLOCK, offsetof(type, member), NULL)
#define ER_COUNT_COLUMN(head, type, member)                                                        \
    ER_FILLED(head, ER_COLUMN_WHOLE, ER_NO_UNIT, ER_FILL_COUNT, offsetof(type, member), NULL)
#define ER_PLACE_COLUMN(head) ER_FILLED(head, ER_COLUMN_WHOLE, ER_NO_UNIT, ER_FILL_PLACE, 0, NULL)
#define ER_WORDS_COLUMN(head, words)                                                               \
    ER_FILLED(head, ER_COLUMN_WORDS, ER_NO_UNIT, ER_FILL_WORDS, 0, words)
#define ER_NUMBER_COLUMN(head, quantity, words)                                                    \
    ER_FILLED(head, ER_COLUMN_NUMBER, quantity, ER_FILL_WORDS, 0, words)
#define ER_RIGHT_COLUMN(head, words)                                                               \
    ER_FILLED(head, ER_COLUMN_RIGHT, ER_NO_UNIT, ER_FILL_WORDS, 0, words)

/* `rows`: the first of `row_count` structs of `row_size` bytes; NULL, where memory ran out: none.
 * `result` goes to `words`. */
struct er_table *er_page_rows(struct er_page *page, const struct er_filled *columns,
                              size_t column_count, const void *rows, size_t row_size,
                              size_t row_count, const void *result);

/* Appends the page as text of ER_PAGE columns. ER_OK or ER_NO_MEMORY. */
enum er_status er_page_as_text(struct er_page *page, struct er_text *out);

/* Appends it as one HTML file that fetches and runs nothing. Likewise. */
enum er_status er_page_as_html(struct er_page *page, struct er_text *out);

#endif
