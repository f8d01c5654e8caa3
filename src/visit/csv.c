/* A table of readings, cell by cell, turned into the JSON that they are read from. */
#include "visit/csv.h"

#include <string.h>

#define MOST_COLUMNS 16

enum column { COLUMN_WHAT, COLUMN_VALUE, COLUMN_BED, COLUMN_SIDE, COLUMN_AT, COLUMNS };

static const char *const column_names[COLUMNS] = {
    [COLUMN_WHAT] = "what", [COLUMN_VALUE] = "value", [COLUMN_BED] = "bed",
    [COLUMN_SIDE] = "side", [COLUMN_AT] = "at",
};

/* Which part of the JSON a row goes into. */
enum part { PART_ZONE, PART_BEDS, PART_EMITTERS };

static const char *const part_keys[] = {
    [PART_ZONE] = "", [PART_BEDS] = "beds", [PART_EMITTERS] = "emitters"};

struct table {
    const char *name;
    struct er_text *json;
    struct er_problems *problems;
    size_t line;
    int places[MOST_COLUMNS]; /* enum column of each, -1: of no use */
    size_t column_count;
    enum part part;
    bool any_in_part; /* a row of it stands there already */
};

/* `cell`: what it is about; "": the line. */
static void tell(const struct table *table, const char *cell, const char *what)
{
    const char *quote = cell[0] == '\0' ? "" : "\"";
    er_problems_add(table->problems, table->name, table->line, 1, NULL, "%s%s%s%s%s", quote, cell,
                    quote, cell[0] == '\0' ? "" : " ", what);
}

/* One cell, without the blanks around it; *at moves to what follows it. False where a quote is
 * not closed on its line, or more follows it before the comma. */
static bool take_cell(const char **at, struct er_text *cell)
{
    const char *from = *at + strspn(*at, " \t");
    er_text_clear(cell);
    if (*from != '"') {
        size_t length = strcspn(from, ",\n");
        *at = from + length;
        while (length > 0 && strchr(" \t\r", from[length - 1]) != NULL) {
            length--;
        }
        er_text_append_bytes(cell, from, length);
        return true;
    }
    for (from++; *from != '\0' && *from != '\n'; from++) {
        bool closed = *from == '"' && from[1] != '"';
        from += *from == '"';
        if (closed) {
            from += strspn(from, " \t\r");
            *at = from;
            return *from == ',' || *from == '\n' || *from == '\0';
        }
        er_text_append_bytes(cell, from, 1);
    }
    return false;
}

static const char *skip_digits(const char *at) { return at + strspn(at, "0123456789"); }

/* RFC 8259, section 6. */
static bool is_json_number(const char *text)
{
    const char *at = text + (*text == '-');
    const char *end = skip_digits(at);
    if (end == at || (*at == '0' && end > at + 1)) {
        return false;
    }
    if (*end == '.') {
        at = end + 1;
        end = skip_digits(at);
        if (end == at) {
            return false;
        }
    }
    if (*end == 'e' || *end == 'E') {
        at = end + 1 + (end[1] == '+' || end[1] == '-');
        end = skip_digits(at);
        if (end == at) {
            return false;
        }
    }
    return *end == '\0';
}

static void append_string(struct er_text *json, const char *text)
{
    er_text_append(json, "\"");
    for (; *text != '\0'; text++) {
        if ((unsigned char)*text < 0x20 || *text == '"' || *text == '\\') {
            er_text_appendf(json, "\\u%04x", (unsigned)(unsigned char)*text);
        } else {
            er_text_append_bytes(json, text, 1);
        }
    }
    er_text_append(json, "\"");
}

/* , "key": value */
static void append_member(struct er_text *json, bool first, const char *key, const char *value)
{
    er_text_append(json, first ? "" : ", ");
    append_string(json, key);
    er_text_append(json, ": ");
    if (is_json_number(value)) {
        er_text_append(json, value);
    } else {
        append_string(json, value);
    }
}

static enum part part_of(const char *what)
{
    if (strcmp(what, "inlet") == 0 || strcmp(what, "far_end") == 0) {
        return PART_BEDS;
    }
    return strcmp(what, "seconds") == 0 || strcmp(what, "ml") == 0 ? PART_EMITTERS : PART_ZONE;
}

/* Ends the part before, and begins this one. */
static void enter_part(struct table *table, enum part part)
{
    if (part != table->part) {
        er_text_append(table->json, table->part == PART_ZONE ? "" : "]");
        er_text_append(table->json, table->any_in_part || table->part != PART_ZONE ? ", " : "");
        append_string(table->json, part_keys[part]);
        er_text_append(table->json, ": [");
        table->any_in_part = false;
        table->part = part;
    }
    er_text_append(table->json, table->any_in_part ? ", " : "");
    table->any_in_part = true;
}

static void append_row(struct table *table, struct er_text cells[COLUMNS])
{
    const char *what = er_text_string(&cells[COLUMN_WHAT]);
    const char *value = er_text_string(&cells[COLUMN_VALUE]);
    enum part part = part_of(what);
    if (what[0] == '\0') {
        tell(table, value, "stands in a row that does not say what it is");
        return;
    }
    if (part < table->part) {
        tell(table, what,
             "stands too late: rows of the whole zone come first, then those of beds, then those "
             "of emitters");
        return;
    }
    enter_part(table, part);
    if (part == PART_ZONE) {
        append_member(table->json, true, what, value);
        return;
    }
    er_text_append(table->json, "{");
    append_member(table->json, true, what, value);
    for (int column = COLUMN_BED; column < COLUMNS; column++) {
        if (cells[column].length > 0) {
            append_member(table->json, false, column_names[column], er_text_string(&cells[column]));
        }
    }
    er_text_append(table->json, "}");
}

/* Reads the cells of a line; `use` gets each with its place. *at moves to the line's end. */
static bool read_line(struct table *table, const char **at, struct er_text *cell,
                      void (*use)(struct table *table, size_t place, const char *cell,
                                  void *context),
                      void *context)
{
    for (size_t place = 0;; place++) {
        if (!take_cell(at, cell)) {
            tell(table, "", "a quotation mark is not closed on its line, or more stands behind it");
            return false;
        }
        use(table, place, er_text_string(cell), context);
        if (**at != ',') {
            return true;
        }
        ++*at;
    }
}

static bool has_column(const struct table *table, enum column column)
{
    for (size_t i = 0; i < table->column_count; i++) {
        if (table->places[i] == (int)column) {
            return true;
        }
    }
    return false;
}

static void use_head(struct table *table, size_t place, const char *cell, void *context)
{
    (void)context;
    int found = -1;
    for (int column = 0; column < COLUMNS; column++) {
        found = strcmp(cell, column_names[column]) == 0 ? column : found;
    }
    if (place >= MOST_COLUMNS) {
        return;
    }
    if (found < 0 && strcmp(cell, "note") != 0) {
        tell(table, cell, "is no column: they are what, value, bed, side, at, and note");
    }
    if (found >= 0 && has_column(table, (enum column)found)) {
        tell(table, cell, "is the name of two columns");
    }
    table->places[place] = found;
    table->column_count = place + 1;
}

static void use_cell(struct table *table, size_t place, const char *cell, void *context)
{
    struct er_text *cells = context;
    if (place < table->column_count && table->places[place] >= 0) {
        er_text_append(&cells[table->places[place]], cell);
    } else if (place >= table->column_count && cell[0] != '\0') {
        tell(table, cell, "stands in a column without a head");
    }
}

/* A row; without a value it is a blank of the form, and nothing was read there. */
static bool read_row(struct table *table, const char **at, struct er_text *cell)
{
    struct er_text cells[COLUMNS];
    for (int column = 0; column < COLUMNS; column++) {
        er_text_init(&cells[column]);
    }
    bool good = read_line(table, at, cell, use_cell, cells);
    if (good && cells[COLUMN_VALUE].length > 0) {
        append_row(table, cells);
    }
    for (int column = 0; column < COLUMNS; column++) {
        table->json->out_of_memory = table->json->out_of_memory || cells[column].out_of_memory;
        er_text_release(&cells[column]);
    }
    return good;
}

static void read_rows(struct table *table, const char *at, struct er_text *cell)
{
    er_text_append(table->json, "{");
    bool good = read_line(table, &at, cell, use_head, NULL);
    if (good && (!has_column(table, COLUMN_WHAT) || !has_column(table, COLUMN_VALUE))) {
        tell(table, "", "the first line must name the columns, what and value among them");
        return;
    }
    while (good && *at == '\n' && table->problems->count == 0) {
        at++;
        table->line++;
        er_text_append(table->json, "\n");
        good = *at == '\0' || read_row(table, &at, cell);
    }
    er_text_append(table->json, table->part == PART_ZONE ? "}\n" : "]}\n");
}

/* The mark that some spreadsheets put before everything. */
static const char *skip_byte_order_mark(const char *text)
{
    return strncmp(text, "\xEF\xBB\xBF", 3) == 0 ? text + 3 : text;
}

bool er_readings_are_csv(const char *text)
{
    text = skip_byte_order_mark(text);
    text += strspn(text, " \t\r\n");
    return *text != '{' && *text != '\0';
}

enum er_status er_readings_from_csv(const char *name, const char *text, size_t length,
                                    struct er_text *json, struct er_problems *problems)
{
    struct table table = {.name = name, .json = json, .problems = problems, .line = 1};
    struct er_text cell;
    er_text_init(&cell);
    if (strlen(text) < length) {
        tell(&table, "", "there is a NUL character in it: this is no table");
    } else {
        read_rows(&table, skip_byte_order_mark(text), &cell);
    }
    bool out_of_memory = cell.out_of_memory || json->out_of_memory || problems->out_of_memory;
    er_text_release(&cell);
    if (out_of_memory) {
        return ER_NO_MEMORY;
    }
    return problems->count > 0 ? ER_BAD_INPUT : ER_OK;
}
