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
static void write_pair(struct er_pen *pen, const struct er_block *pair, size_t columns,
                       struct er_text *out)
{
    er_paragraph(out, er_pen_text(pen, "  %-*s", (int)columns, pair->label),
                 er_pen_text(pen, "  %-*s", (int)columns, ""), pair->text);
}

/* Further lines are set in by the `columns` of the list's first mark. */
static void write_item(struct er_pen *pen, const struct er_block *item, size_t columns,
                       struct er_text *out)
{
    const char *margin = item->at_margin ? "" : "  ";
    er_paragraph(out, er_pen_text(pen, "%s%s ", margin, item->label),
                 er_pen_text(pen, "%s%*s ", margin, (int)columns, ""), item->text);
}

#define SUM "  "
#define STEP "    "
#define FURTHER "        "

/* The result stands on a line of its own where its figure does not fit behind the sum. */
static void write_sum(struct er_pen *pen, const struct er_block *block, struct er_text *out)
{
    const size_t figure = strcspn(block->label, ",");
    if (strlen(SUM) + strlen(block->text) + 1 + figure > ER_PAGE) {
        er_paragraph(out, SUM, FURTHER, block->text);
        er_paragraph(out, STEP, FURTHER, block->label);
    } else {
        er_paragraph(out, SUM, FURTHER, er_pen_text(pen, "%s %s", block->text, block->label));
    }
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

/* What the first line of a plain block begins with, and the others. */
static const char *const margins[][2] = {
    [ER_BLOCK_PARAGRAPH] = {"", ""},   [ER_BLOCK_TITLE] = {"", ""},
    [ER_BLOCK_WARNING] = {"! ", "! "}, [ER_BLOCK_CHAPTER] = {"== ", "   "},
    [ER_BLOCK_HEADING] = {"", ""},     [ER_BLOCK_NOTE] = {"  ", "  "},
    [ER_BLOCK_STEP] = {STEP, FURTHER},
};

/* `columns`: those of the names or marks that stand in line. */
static void write_block(struct er_pen *pen, const struct er_block *at, size_t columns,
                        struct er_text *out)
{
    switch (at->kind) {
    case ER_BLOCK_ITEM:
        write_item(pen, at, columns, out);
        break;
    case ER_BLOCK_PAIR:
        write_pair(pen, at, columns, out);
        break;
    case ER_BLOCK_SUM:
        write_sum(pen, at, out);
        break;
    case ER_BLOCK_PLAIN:
        er_text_append(out, at->text);
        break;
    case ER_BLOCK_TABLE:
        er_table_write(at->table, out);
        break;
    case ER_BLOCK_NAMED:
        er_paragraph(out, "  ", "  ", at->label);
        er_paragraph(out, "    ", "    ", at->text);
        break;
    default:
        er_paragraph(out, margins[at->kind][0], margins[at->kind][1], at->text);
        break;
    }
}

/* Whether a block shows nothing in text. */
static bool is_nothing(const struct er_block *block)
{
    return block->kind == ER_BLOCK_LEFT || block->kind == ER_BLOCK_RIGHT ||
           block->kind == ER_BLOCK_ACROSS ||
           (block->kind == ER_BLOCK_TABLE && block->table->row_count == 0);
}

enum er_status er_page_as_text(struct er_page *page, struct er_text *out)
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
        if (before == NULL || before->kind != at->kind ||
            (at->kind == ER_BLOCK_ITEM && !at->close)) {
            columns = at->kind == ER_BLOCK_PAIR ? name_columns(at) : strlen(at->label);
        }
        if (at->kind == ER_BLOCK_SHEET) {
            write_sheet(at, before == NULL, out);
        } else {
            write_block(&page->pen, at, columns, out);
        }
        before = at;
    }
    out->out_of_memory = out->out_of_memory || page->pen.out_of_memory;
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
