/* A page as text for a terminal, or a printer with a type of even width. */
#include <string.h>

#include "say/page.h"
#include "say/wrap.h"

#define LEAST_NAME 14 /* columns that the names of pairs take, the blank behind them counted */

/* Columns of the names of the pairs that `first` begins. Behind a name that needs more than the
 * least there are two blanks, for it looks like a part of its value else. */
static size_t name_columns(const struct er_block *first)
{
    size_t widest = 0;
    for (const struct er_block *at = first; at != NULL && at->kind == ER_BLOCK_PAIR;
         at = at->next) {
        size_t own = er_columns(at->label);
        widest = own > widest ? own : widest;
    }
    return widest < LEAST_NAME ? LEAST_NAME : widest + 2;
}

/* "  running       8:12 of the ..." with further lines below the value. */
static void write_pair(const struct er_block *pair, size_t columns, struct er_text *out)
{
    struct er_text first, rest;
    er_text_init(&first);
    er_text_init(&rest);
    er_text_appendf(&first, "  %-*s", (int)columns, pair->label);
    er_text_appendf(&rest, "  %-*s", (int)columns, "");
    er_paragraph(out, er_text_string(&first), er_text_string(&rest), pair->text);
    out->out_of_memory = out->out_of_memory || first.out_of_memory || rest.out_of_memory;
    er_text_release(&first);
    er_text_release(&rest);
}

/* Further lines are set in by the `columns` of the list's first mark. */
static void write_item(const struct er_block *item, size_t columns, struct er_text *out)
{
    const char *margin = item->at_margin ? "" : "  ";
    struct er_text first, rest;
    er_text_init(&first);
    er_text_init(&rest);
    er_text_appendf(&first, "%s%s ", margin, item->label);
    er_text_appendf(&rest, "%s%*s ", margin, (int)columns, "");
    er_paragraph(out, er_text_string(&first), er_text_string(&rest), item->text);
    out->out_of_memory = out->out_of_memory || first.out_of_memory || rest.out_of_memory;
    er_text_release(&first);
    er_text_release(&rest);
}

#define SUM "  "
#define STEP "    "
#define FURTHER "        "

/* The result stands on a line of its own where its figure does not fit behind the sum. */
static void write_sum(const struct er_block *block, struct er_text *out)
{
    const size_t figure = strcspn(block->label, ",");
    struct er_text line;
    if (strlen(SUM) + strlen(block->text) + 1 + figure > ER_PAGE) {
        er_paragraph(out, SUM, FURTHER, block->text);
        er_paragraph(out, STEP, FURTHER, block->label);
        return;
    }
    er_text_init(&line);
    er_text_appendf(&line, "%s %s", block->text, block->label);
    er_paragraph(out, SUM, FURTHER, er_text_string(&line));
    out->out_of_memory = out->out_of_memory || line.out_of_memory;
    er_text_release(&line);
}

/* Between two lines across the page. */
static void write_sheet(const struct er_block *sheet, bool first, struct er_text *out)
{
    static const char rule[ER_PAGE + 2] =
        "================================================================================\n";
    er_text_append(out, first ? "" : "\n");
    er_text_append(out, rule);
    er_paragraph(out, "", "", sheet->label);
    if (sheet->text[0] != '\0') {
        er_paragraph(out, "", "", sheet->text);
    }
    er_text_append(out, rule);
}

/* Whether a block shows nothing in text. */
static bool is_nothing(const struct er_block *block)
{
    return block->kind == ER_BLOCK_LEFT || block->kind == ER_BLOCK_RIGHT ||
           block->kind == ER_BLOCK_ACROSS ||
           (block->kind == ER_BLOCK_TABLE && block->table->row_count == 0);
}

enum er_status er_page_as_text(const struct er_page *page, struct er_text *out)
{
    size_t columns = 0;
    const struct er_block *before = NULL;
    for (const struct er_block *at = page->first; at != NULL; at = at->next) {
        if (is_nothing(at)) {
            continue;
        }
        if (before != NULL && !at->close) {
            er_text_append(out, "\n");
        }
        switch (at->kind) {
        case ER_BLOCK_SHEET:
            write_sheet(at, before == NULL, out);
            break;
        case ER_BLOCK_WARNING:
            er_paragraph(out, "! ", "! ", at->text);
            break;
        case ER_BLOCK_PARAGRAPH:
        case ER_BLOCK_TITLE:
        case ER_BLOCK_HEADING:
            er_paragraph(out, "", "", at->text);
            break;
        case ER_BLOCK_CHAPTER:
            er_paragraph(out, "== ", "   ", at->text);
            break;
        case ER_BLOCK_ITEM:
            columns = before != NULL && at->close && before->kind == ER_BLOCK_ITEM
                          ? columns
                          : strlen(at->label);
            write_item(at, columns, out);
            break;
        case ER_BLOCK_PAIR:
            columns = before != NULL && before->kind == ER_BLOCK_PAIR ? columns : name_columns(at);
            write_pair(at, columns, out);
            break;
        case ER_BLOCK_NAMED:
            er_paragraph(out, "  ", "  ", at->label);
            er_paragraph(out, "    ", "    ", at->text);
            break;
        case ER_BLOCK_NOTE:
            er_paragraph(out, "  ", "  ", at->text);
            break;
        case ER_BLOCK_SUM:
            write_sum(at, out);
            break;
        case ER_BLOCK_STEP:
            er_paragraph(out, STEP, FURTHER, at->text);
            break;
        case ER_BLOCK_PLAIN:
            er_text_append(out, at->text);
            break;
        case ER_BLOCK_TABLE:
            er_table_write(at->table, out);
            break;
        case ER_BLOCK_LEFT:
        case ER_BLOCK_RIGHT:
        case ER_BLOCK_ACROSS:
            break;
        }
        before = at;
    }
    out->out_of_memory = out->out_of_memory || page->pen.out_of_memory;
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
