/* A table laid out as text: its decimals, the widths of its columns, its lines. */
#include "say/table.h"

#include <math.h>
#include <string.h>

#include "say/wrap.h"

#define GAP 2         /* blanks between columns */
#define LEAST_WORDS 6 /* columns that a column of words keeps, however full the page */

/* Where memory ran out: what is put into it is lost. */
static struct er_table nowhere;

struct er_table *er_pen_table(struct er_pen *pen, const struct er_column *columns,
                              size_t column_count, size_t row_count)
{
    struct er_table *table = er_pen_room(pen, 1, sizeof *table);
    struct er_cell *cells = er_pen_room(pen, row_count, column_count * sizeof *cells);
    if (table == NULL || cells == NULL) {
        return &nowhere;
    }
    *table = (struct er_table){pen, column_count, row_count, columns, cells};
    for (size_t i = 0; i < row_count * column_count; i++) {
        cells[i].number = (double)NAN;
    }
    return table;
}

static struct er_cell *cell_at(const struct er_table *table, size_t row, size_t column)
{
    return &table->cells[row * table->column_count + column];
}

void er_table_text(struct er_table *table, size_t row, size_t column, const char *text)
{
    if (row < table->row_count) {
        cell_at(table, row, column)->text = er_pen_visible(table->pen, text);
    }
}

void er_table_number(struct er_table *table, size_t row, size_t column, double number)
{
    if (row < table->row_count) {
        const enum er_quantity quantity = table->columns[column].quantity;
        cell_at(table, row, column)->number =
            quantity == ER_NO_UNIT ? number : er_from_si(quantity, table->pen->system, number);
    }
}

static const char *number_words(const struct er_table *table, size_t column, double number)
{
    switch (table->columns[column].kind) {
    case ER_COLUMN_WHOLE:
        return er_pen_whole(table->pen, number);
    case ER_COLUMN_GIVEN:
        return er_pen_given(table->pen, number);
    default:
        return er_pen_number(table->pen, number);
    }
}

void er_table_write_numbers(const struct er_table *table)
{
    for (size_t i = 0; i < table->row_count * table->column_count; i++) {
        struct er_cell *cell = &table->cells[i];
        if (cell->text == NULL) {
            cell->text = number_words(table, i % table->column_count, cell->number);
        }
    }
}

static size_t columns_of_fraction(const char *text) { return strlen(text) - strcspn(text, "."); }

/* Lets the numbers of a column stand below one another by their decimal points. */
static void align(const struct er_table *table, size_t column)
{
    size_t most = 0;
    for (size_t row = 0; row < table->row_count; row++) {
        const size_t own = columns_of_fraction(cell_at(table, row, column)->text);
        most = own > most ? own : most;
    }
    for (size_t row = 0; row < table->row_count; row++) {
        struct er_cell *cell = cell_at(table, row, column);
        const size_t missing = most - columns_of_fraction(cell->text);
        cell->text = er_pen_text(table->pen, "%s%*s", cell->text, (int)missing, "");
    }
}

/* The head with its unit as the last line. */
static const char *head_of(const struct er_table *table, size_t column)
{
    const struct er_column *about = &table->columns[column];
    return about->quantity == ER_NO_UNIT
               ? about->head
               : er_pen_text(table->pen, "%s\n%s", about->head,
                             er_unit_name(about->quantity, table->pen->system));
}

static size_t count_lines(const char *text)
{
    size_t lines = 1;
    for (; *text != '\0'; text++) {
        lines += *text == '\n';
    }
    return lines;
}

static size_t widest_line(const char *text)
{
    size_t widest = 0;
    for (;; text++) {
        const size_t bytes = strcspn(text, "\n"), width = er_columns_in(text, bytes);
        widest = width > widest ? width : widest;
        text += bytes;
        if (*text == '\0') {
            return widest;
        }
    }
}

/* Widths that show every cell whole. */
static void wish_widths(const struct er_table *table, const char *const *heads, size_t *widths)
{
    for (size_t column = 0; column < table->column_count; column++) {
        widths[column] = widest_line(heads[column]);
        for (size_t row = 0; row < table->row_count; row++) {
            size_t width = er_columns(cell_at(table, row, column)->text);
            widths[column] = width > widths[column] ? width : widths[column];
        }
    }
}

/* Takes columns of the page from the widest columns of words until the table fits. */
static void fit_widths(const struct er_table *table, const char *const *heads, size_t *widths)
{
    size_t total = GAP * (table->column_count - 1);
    for (size_t column = 0; column < table->column_count; column++) {
        total += widths[column];
    }
    while (total > ER_PAGE) {
        size_t widest = table->column_count;
        for (size_t column = 0; column < table->column_count; column++) {
            size_t least = widest_line(heads[column]);
            least = least > LEAST_WORDS ? least : LEAST_WORDS;
            if (table->columns[column].kind == ER_COLUMN_WORDS && widths[column] > least &&
                (widest == table->column_count || widths[column] > widths[widest])) {
                widest = column;
            }
        }
        if (widest == table->column_count) {
            return; /* nothing left to give; figures are never cut */
        }
        widths[widest]--;
        total--;
    }
}

static void append_blanks(struct er_text *out, size_t count)
{
    while (count-- > 0) {
        er_text_append(out, " ");
    }
}

/* Puts `bytes` of `text` into a column of `width`. `*owed` counts blanks not yet written, so
 * that no line ends in blanks. */
static void put(struct er_text *out, const char *text, size_t bytes, size_t width, bool left,
                size_t *owed)
{
    size_t columns = er_columns_in(text, bytes);
    size_t blanks = width > columns ? width - columns : 0, behind = 0;
    for (; bytes > 0 && text[bytes - 1] == ' '; bytes--) {
        behind++;
    }
    *owed += left ? 0 : blanks;
    if (bytes > 0) {
        append_blanks(out, *owed);
        *owed = 0;
        er_text_append_bytes(out, text, bytes);
    }
    *owed += (left ? blanks : 0) + behind + GAP;
}

/* The `line`-th line of a head, counted so that all heads end on the last line. */
static const char *head_line(const char *head, size_t line, size_t lines, size_t *bytes)
{
    size_t missing = lines - count_lines(head);
    *bytes = 0;
    if (line < missing) {
        return head;
    }
    for (size_t skip = line - missing; skip > 0; skip--) {
        head = strchr(head, '\n') + 1;
    }
    *bytes = strcspn(head, "\n");
    return head;
}

static void write_head(const struct er_table *table, const char *const *heads, const size_t *widths,
                       struct er_text *out)
{
    size_t lines = 1;
    for (size_t column = 0; column < table->column_count; column++) {
        size_t own = count_lines(heads[column]);
        lines = own > lines ? own : lines;
    }
    for (size_t line = 0; line < lines; line++) {
        size_t owed = 0;
        for (size_t column = 0; column < table->column_count; column++) {
            size_t bytes;
            const char *text = head_line(heads[column], line, lines, &bytes);
            put(out, text, bytes, widths[column], table->columns[column].kind == ER_COLUMN_WORDS,
                &owed);
        }
        er_text_append(out, "\n");
    }
}

static void write_rule(const struct er_table *table, const size_t *widths, struct er_text *out)
{
    for (size_t column = 0; column < table->column_count; column++) {
        append_blanks(out, column > 0 ? GAP : 0);
        for (size_t i = 0; i < widths[column]; i++) {
            er_text_append(out, "-");
        }
    }
    er_text_append(out, "\n");
}

/* Writes one row over as many lines as its longest words need; `rest` holds what is left
 * of each cell. */
static void write_row(const struct er_table *table, size_t row, const size_t *widths,
                      const char **rest, struct er_text *out)
{
    for (size_t column = 0; column < table->column_count; column++) {
        rest[column] = cell_at(table, row, column)->text;
    }
    bool more = true;
    while (more) {
        size_t owed = 0;
        more = false;
        for (size_t column = 0; column < table->column_count; column++) {
            bool words = table->columns[column].kind == ER_COLUMN_WORDS;
            size_t bytes =
                words ? er_line_bytes(rest[column], widths[column]) : strlen(rest[column]);
            put(out, rest[column], bytes, widths[column], words, &owed);
            rest[column] = er_skip_blanks(rest[column] + bytes);
            more = more || *rest[column] != '\0';
        }
        er_text_append(out, "\n");
    }
}

void er_table_write(const struct er_table *table, struct er_text *out)
{
    if (table->row_count == 0) {
        return;
    }
    const char **heads = er_pen_room(table->pen, table->column_count, sizeof *heads);
    const char **rest = er_pen_room(table->pen, table->column_count, sizeof *rest);
    size_t *widths = er_pen_room(table->pen, table->column_count, sizeof *widths);
    if (heads == NULL || rest == NULL || widths == NULL) {
        return;
    }
    for (size_t column = 0; column < table->column_count; column++) {
        heads[column] = head_of(table, column);
    }
    er_table_write_numbers(table);
    for (size_t column = 0; column < table->column_count; column++) {
        const enum er_column_kind kind = table->columns[column].kind;
        if (kind == ER_COLUMN_NUMBER || kind == ER_COLUMN_GIVEN) {
            align(table, column);
        }
    }
    wish_widths(table, heads, widths);
    fit_widths(table, heads, widths);
    write_head(table, heads, widths, out);
    write_rule(table, widths, out);
    for (size_t row = 0; row < table->row_count; row++) {
        write_row(table, row, widths, rest, out);
    }
}
