/* The blocks of a page, in the order in which a report makes them. */
#include "say/page.h"

void er_page_init(struct er_page *page, enum er_system system)
{
    *page = (struct er_page){.pen = {.system = system}};
}

void er_page_release(struct er_page *page)
{
    er_pen_release(&page->pen);
    page->first = page->last = NULL;
}

/* A list's items stand close together, and so do pairs and the lines of a sum. */
static bool stands_close(enum er_block_kind before, enum er_block_kind kind)
{
    if (kind == ER_BLOCK_SUM || kind == ER_BLOCK_STEP) {
        return before == ER_BLOCK_SUM || before == ER_BLOCK_STEP || before == ER_BLOCK_NOTE;
    }
    return before == kind && (kind == ER_BLOCK_ITEM || kind == ER_BLOCK_PAIR);
}

/* A block at the page's end; NULL if memory ran out. */
static struct er_block *add(struct er_page *page, enum er_block_kind kind, const char *text)
{
    struct er_block *block = er_pen_room(&page->pen, 1, sizeof *block);
    if (block == NULL) {
        return NULL;
    }
    *block = (struct er_block){.kind = kind, .label = "", .text = text};
    block->close = page->last != NULL && stands_close(page->last->kind, kind);
    *(page->last != NULL ? &page->last->next : &page->first) = block;
    page->last = block;
    return block;
}

/* Declares `text`, made of the arguments behind `format`. */
#define MADE(page, format, text)                                                                   \
    va_list arguments;                                                                             \
    va_start(arguments, format);                                                                   \
    const char *const text = er_pen_vtext(&(page)->pen, format, arguments);                        \
    va_end(arguments)

void er_page_paragraph(struct er_page *page, const char *format, ...)
{
    MADE(page, format, text);
    (void)add(page, ER_BLOCK_PARAGRAPH, text);
}

void er_page_warning(struct er_page *page, const char *format, ...)
{
    MADE(page, format, text);
    (void)add(page, ER_BLOCK_WARNING, text);
}

void er_page_chapter(struct er_page *page, const char *format, ...)
{
    MADE(page, format, text);
    (void)add(page, ER_BLOCK_CHAPTER, text);
}

void er_page_heading(struct er_page *page, const char *format, ...)
{
    MADE(page, format, text);
    (void)add(page, ER_BLOCK_HEADING, text);
}

void er_page_title(struct er_page *page, const char *title)
{
    if (title != NULL && title[0] != '\0') {
        (void)add(page, ER_BLOCK_TITLE, er_pen_text(&page->pen, "%s", title));
    }
}

/* `text` with a name. */
static void add_named(struct er_page *page, enum er_block_kind kind, const char *name,
                      const char *text)
{
    struct er_block *block = add(page, kind, text);
    if (block != NULL) {
        block->label = er_pen_text(&page->pen, "%s", name);
    }
}

void er_page_item(struct er_page *page, const char *format, ...)
{
    MADE(page, format, text);
    add_named(page, ER_BLOCK_ITEM, "-", text);
}

void er_page_loose_item(struct er_page *page, const char *format, ...)
{
    MADE(page, format, text);
    add_named(page, ER_BLOCK_ITEM, "-", text);
    if (page->last != NULL) {
        page->last->close = false;
    }
}

void er_page_marked_item(struct er_page *page, const char *mark, const char *format, ...)
{
    MADE(page, format, text);
    add_named(page, ER_BLOCK_ITEM, mark, text);
}

void er_page_at_margin(struct er_page *page)
{
    if (page->last != NULL) {
        page->last->at_margin = true;
    }
}

void er_page_pair(struct er_page *page, const char *name, const char *format, ...)
{
    MADE(page, format, text);
    add_named(page, ER_BLOCK_PAIR, name, text);
}

void er_page_named(struct er_page *page, const char *name, const char *format, ...)
{
    MADE(page, format, text);
    add_named(page, ER_BLOCK_NAMED, name, text);
}

void er_page_sheet(struct er_page *page, const char *heading, const char *title, bool crowded)
{
    add_named(page, ER_BLOCK_SHEET, heading,
              er_pen_text(&page->pen, "%s", title != NULL ? title : ""));
    if (page->last != NULL) {
        page->last->crowded = crowded;
    }
}

void er_page_side(struct er_page *page, enum er_block_kind side) { (void)add(page, side, ""); }

void er_page_note(struct er_page *page, const char *format, ...)
{
    MADE(page, format, text);
    (void)add(page, ER_BLOCK_NOTE, text);
}

void er_page_sum(struct er_page *page, const char *sum, const char *result)
{
    struct er_block *block = add(page, ER_BLOCK_SUM, sum);
    if (block != NULL) {
        block->label = result;
    }
}

void er_page_step(struct er_page *page, const char *text) { (void)add(page, ER_BLOCK_STEP, text); }

void er_page_plain(struct er_page *page, const char *text)
{
    (void)add(page, ER_BLOCK_PLAIN, er_pen_text(&page->pen, "%s", text));
}

void er_page_close_up(struct er_page *page)
{
    if (page->last != NULL) {
        page->last->close = true;
    }
}

struct er_table *er_page_table(struct er_page *page, const struct er_column *columns,
                               size_t column_count, size_t row_count)
{
    struct er_table *table = er_pen_table(&page->pen, columns, column_count, row_count);
    struct er_block *block = add(page, ER_BLOCK_TABLE, "");
    if (block != NULL) {
        block->table = table;
    }
    return table;
}

/* ---- a table whose rows are structs ---- */

/* The number that a column shows of a row, of which it is told `at`. */
static double number_of(const struct er_filled *column, const void *at, size_t place)
{
    switch (column->fill) {
    case ER_FILL_PERCENT:
        return 100.0 * *(const double *)at;
    case ER_FILL_COUNT:
        return (double)*(const size_t *)at;
    case ER_FILL_PLACE:
        return (double)place + 1.0;
    default:
        return *(const double *)at;
    }
}

struct filling {
    struct er_page *page;
    struct er_table *table;
    const void *result;
};

static void fill(const struct filling *filling, const struct er_filled *of, size_t column,
                 const char *row, size_t place)
{
    struct er_pen *pen = &filling->page->pen;
    const void *at = row + of->offset;
    const char *words = of->fill == ER_FILL_CLOCK ? er_pen_clock(pen, *(const double *)at)
                        : of->words != NULL       ? of->words(pen, filling->result, row, place)
                                                  : NULL;
    if (of->fill != ER_FILL_CLOCK && of->fill != ER_FILL_WORDS) {
        er_table_number(filling->table, place, column, number_of(of, at, place));
    } else if (words != NULL) {
        er_table_text(filling->table, place, column, words);
    }
}

struct er_table *er_page_rows(struct er_page *page, const struct er_filled *columns,
                              size_t column_count, const void *rows, size_t row_size,
                              size_t row_count, const void *result)
{
    struct er_column *plain = er_pen_room(&page->pen, column_count, sizeof *plain);
    const size_t count = plain != NULL && rows != NULL ? row_count : 0;
    for (size_t c = 0; plain != NULL && c < column_count; c++) {
        plain[c] = columns[c].column;
    }
    const struct filling filling = {page, er_page_table(page, plain, column_count, count), result};
    for (size_t place = 0; place < count; place++) {
        for (size_t c = 0; c < column_count; c++) {
            fill(&filling, &columns[c], c, (const char *)rows + place * row_size, place);
        }
    }
    return filling.table;
}
