/* The blocks of a page, in the order in which a report makes them. */
#include "say/page.h"

#include <string.h>

#include "say/say.h"

void er_page_init(struct er_page *page, enum er_system system)
{
    *page = (struct er_page){.pen = {.system = system}};
}

void er_page_release(struct er_page *page)
{
    for (struct er_block *block = page->first; block != NULL; block = block->next) {
        if (block->table != NULL) {
            er_table_release(block->table);
        }
    }
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
    struct er_block *block = er_arena_array(&page->pen.arena, 1, sizeof *block);
    if (block == NULL) {
        page->pen.out_of_memory = true;
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

/* Where memory ran out: what is put into it is lost. */
static struct er_table nowhere = {.out_of_memory = true};

struct er_table *er_page_table(struct er_page *page, const struct er_column *columns,
                               size_t column_count, size_t row_count)
{
    struct er_table *table = er_arena_array(&page->pen.arena, 1, sizeof *table);
    struct er_block *block = table != NULL ? add(page, ER_BLOCK_TABLE, "") : NULL;
    if (block == NULL) {
        page->pen.out_of_memory = true;
        return &nowhere;
    }
    er_table_init(table, page->pen.system, columns, column_count, row_count);
    block->table = table;
    return table;
}

void *er_page_room(struct er_page *page, size_t count, size_t size)
{
    void *room = er_arena_array(&page->pen.arena, count, size);
    page->pen.out_of_memory = page->pen.out_of_memory || room == NULL;
    return room;
}

/* ---- a table whose rows are structs ---- */

struct filling {
    struct er_page *page;
    struct er_table *table;
    const void *result;
};

static void fill(const struct filling *filling, const struct er_filled *of, size_t column,
                 const char *row, size_t place)
{
    struct er_table *table = filling->table;
    double figure = 0.0;
    size_t count = 0;
    const char *words;
    switch (of->fill) {
    case ER_FILL_FIGURE:
        memcpy(&figure, row + of->offset, sizeof figure);
        er_table_number(table, place, column, figure);
        break;
    case ER_FILL_PERCENT:
        memcpy(&figure, row + of->offset, sizeof figure);
        er_table_number(table, place, column, 100.0 * figure);
        break;
    case ER_FILL_CLOCK:
        memcpy(&figure, row + of->offset, sizeof figure);
        er_table_clock(table, place, column, figure);
        break;
    case ER_FILL_COUNT:
        memcpy(&count, row + of->offset, sizeof count);
        er_table_number(table, place, column, (double)count);
        break;
    case ER_FILL_PLACE:
        er_table_number(table, place, column, (double)place + 1.0);
        break;
    case ER_FILL_WORDS:
        words =
            of->words == NULL ? NULL : of->words(&filling->page->pen, filling->result, row, place);
        if (words != NULL) {
            er_table_text(table, place, column, words);
        }
        break;
    }
}

struct er_table *er_page_rows(struct er_page *page, const struct er_filled *columns,
                              size_t column_count, const void *rows, size_t row_size,
                              size_t row_count, const void *result)
{
    struct er_column *plain = er_page_room(page, column_count, sizeof *plain);
    if (plain == NULL) {
        return &nowhere;
    }
    for (size_t c = 0; c < column_count; c++) {
        plain[c] = columns[c].column;
    }
    const struct filling filling = {page, er_page_table(page, plain, column_count, row_count),
                                    result};
    for (size_t place = 0; place < row_count; place++) {
        for (size_t c = 0; c < column_count; c++) {
            fill(&filling, &columns[c], c, (const char *)rows + place * row_size, place);
        }
    }
    return filling.table;
}
