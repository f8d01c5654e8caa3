/* A table laid out as text: its decimals, the widths of its columns, its lines. */
#include "say/table.h"

#include <math.h>
#include <string.h>

#include "say/wrap.h"

#define GAP 2         /* blanks between columns */
#define LEAST_WORDS 6 /* columns that a column of words keeps, however full the page */
#define SAME 1e-9     /* relative: nearer than this two figures are the same */

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

/* The largest size among a column's numbers; 0 if there are none. */
static double largest_in(const struct er_table *table, size_t column)
{
    double largest = 0.0;
    for (size_t row = 0; row < table->row_count; row++) {
        largest = fmax(largest, fabs(cell_at(table, row, column)->number));
    }
    return largest;
}

/* Whether every number of a column is whole, once multiplied by `scale`. */
static bool whole_when_scaled(const struct er_table *table, size_t column, double scale)
{
    for (size_t row = 0; row < table->row_count; row++) {
        double scaled = scale * cell_at(table, row, column)->number;
        if (fabs(scaled - floor(scaled + 0.5)) > SAME * fabs(scaled)) {
            return false;
        }
    }
    return true;
}

/* The decimals with which figures out of a list were given, or if those are more than the
 * smallest figure asks, as many as the largest does. */
static int plain_decimals(const struct er_table *table, size_t column)
{
    double smallest = HUGE_VAL;
    for (size_t row = 0; row < table->row_count; row++) {
        double size = fabs(cell_at(table, row, column)->number);
        smallest = size > 0.0 ? fmin(smallest, size) : smallest;
    }
    for (int decimals = 0; decimals <= er_decimals(smallest); decimals++) {
        if (whole_when_scaled(table, column, pow(10.0, decimals))) {
            return decimals;
        }
    }
    return er_decimals(largest_in(table, column));
}

/* Decimals of the number columns from `first` on that are alike. */
static int decimals_from(const struct er_table *table, size_t first)
{
    if (table->columns[first].kind == ER_COLUMN_WHOLE) {
        return 0;
    }
    if (table->columns[first].kind == ER_COLUMN_TENTHS) {
        return 1;
    }
    if (table->columns[first].kind == ER_COLUMN_PLAIN) {
        return plain_decimals(table, first);
    }
    double largest = largest_in(table, first);
    for (size_t column = first + 1;
         column < table->column_count && table->columns[column].kind == ER_COLUMN_ALIKE; column++) {
        largest = fmax(largest, largest_in(table, column));
    }
    return largest == 0.0 ? 1 : er_decimals(largest);
}

void er_table_write_numbers(const struct er_table *table)
{
    int decimals = 0;
    for (size_t column = 0; column < table->column_count; column++) {
        if (table->columns[column].kind != ER_COLUMN_ALIKE) {
            decimals = decimals_from(table, column);
        }
        for (size_t row = 0; row < table->row_count; row++) {
            struct er_cell *cell = cell_at(table, row, column);
            if (cell->text == NULL) {
                cell->text = er_pen_fixed(table->pen, cell->number, decimals);
            }
        }
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
    size_t blanks = width > columns ? width - columns : 0;
    *owed += left ? 0 : blanks;
    if (bytes > 0) {
        append_blanks(out, *owed);
        *owed = 0;
        er_text_append_bytes(out, text, bytes);
    }
    *owed += (left ? blanks : 0) + GAP;
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
    wish_widths(table, heads, widths);
    fit_widths(table, heads, widths);
    write_head(table, heads, widths, out);
    write_rule(table, widths, out);
    for (size_t row = 0; row < table->row_count; row++) {
        write_row(table, row, widths, rest, out);
    }
}
