/* A page as one HTML file that needs nothing else: for a browser, a phone, a printer. */
#include <string.h>

#include "say/page.h"

/* Nothing is fetched and nothing runs, whatever a field file may hold. */
#define POLICY "default-src 'none'; style-src 'unsafe-inline'; img-src data:"

/* A sheet fits on a page of Letter or A4; on a telephone a table's rows become lists. */
static const char style[] =
    ":root{color-scheme:light dark;--line:#777;--soft:#555;--care:#a40}\n"
    "@media (prefers-color-scheme:dark){:root{--line:#888;--soft:#aaa;--care:#fb7}}\n"
    "body{font:10.5pt/1.4 Arial,Helvetica,sans-serif;margin:1em auto;max-width:52em;padding:0 1em;"
    "overflow-wrap:anywhere}\n"
    "section{border-top:3px solid;margin-bottom:3em}\n"
    "h1{font-size:17pt;margin:.3em 0 0}\n"
    "h2{font-size:12pt;margin:1.1em 0 .2em}\n"
    "h2.chapter{border-top:1px solid;font-size:14pt}\n"
    "p{margin:.3em 0 .5em}\n"
    ".plan{color:var(--soft)}\n"
    ".answer{font-size:13pt}\n"
    ".warning{border:2px solid var(--care);padding:.3em .6em;font-weight:bold}\n"
    ".sides{display:grid;grid-template-columns:1fr 1fr;column-gap:1.5em}\n"
    "ul,ol{margin:.2em 0;padding-left:1.5em}\n"
    "li{margin:.1em 0}\n"
    "dl{display:grid;grid-template-columns:max-content 1fr;gap:.1em 1em;margin:.3em 0}\n"
    "dd{margin:0}\n"
    "h3{font-size:10.5pt;margin:.7em 0 0}\n"
    "h3+p{margin:.1em 0 .5em 1.2em}\n"
    ".note{margin:.8em 0 .2em}\n"
    ".sum,.step{font-family:monospace;margin:0 0 0 3.5em;text-indent:-2em}\n"
    ".step{margin-left:5.5em}\n"
    "pre{font-size:9pt;line-height:1.2;overflow-x:auto}\n"
    "table{border-collapse:collapse;margin:.4em 0;width:100%}\n"
    "th,td{border:1px solid var(--line);padding:.15em .5em;text-align:right;"
    "overflow-wrap:normal}\n"
    "th{font-weight:bold;vertical-align:bottom}\n"
    ".words{text-align:left;max-width:24em;overflow-wrap:break-word}\n"
    ".whole{white-space:nowrap}\n"
    "tbody th{font-weight:normal;vertical-align:middle}\n"
    ".blank{height:1.5em}\n"
    "svg{height:auto;max-width:100%}\n"
    "@media screen and (max-width:40em){.sides,dl{display:block}dt{font-weight:bold}\n"
    "table,tbody,tr,td,tbody th{display:block}thead{display:none}tr{margin:0 0 .8em}\n"
    "td,tbody th{border-width:0 0 1px;display:flex;justify-content:space-between;gap:1em;"
    "text-align:right}\n"
    "td,tbody th,.words{max-width:none;overflow-wrap:anywhere}\n"
    "td::before,tbody th::before{content:attr(data-head);color:var(--soft);text-align:left}}\n"
    "@media print{:root{color-scheme:light;--line:#000;--soft:#333;--care:#000}\n"
    "@page{margin:10mm}\n"
    "body{font-size:8pt;line-height:1.2;margin:0;max-width:none;padding:0}h1{font-size:14pt;"
    "margin:0}h2{font-size:9.5pt;margin:.5em 0 .1em}\n"
    "p,ul,ol{margin:.1em 0}li{margin:0}th,td{padding:.05em .4em}\n"
    "section{border-top:0;margin:0;break-after:page}section:last-of-type{break-after:auto}\n"
    ".crowded{font-size:6.5pt}.crowded h1{font-size:11pt}.crowded h2{font-size:8pt}"
    ".crowded .blank{height:1.3em}\n"
    "thead{display:table-header-group}table,tr,li,dl,svg{break-inside:avoid}h2,h3{break-after:"
    "avoid}}\n";

/* A file that is being written, and the elements that are open in it. */
struct html {
    struct er_pen *pen;
    struct er_text *out;
    bool section, sides;
    const char *list; /* "ul", "ol" or "dl"; NULL: none */
};

/* Visible, and with what means something in HTML escaped: the one place where that is done. */
static void append_escaped(const struct html *html, const char *text)
{
    static const struct {
        char byte;
        const char *told;
    } escapes[] = {{'&', "&amp;"}, {'<', "&lt;"}, {'>', "&gt;"}, {'"', "&quot;"}, {'\'', "&#39;"}};
    for (const char *at = er_pen_visible(html->pen, text); *at != '\0'; at++) {
        const char *told = NULL;
        for (size_t i = 0; told == NULL && i < sizeof escapes / sizeof escapes[0]; i++) {
            told = escapes[i].byte == *at ? escapes[i].told : NULL;
        }
        er_text_append_bytes(html->out, told != NULL ? told : at, told != NULL ? strlen(told) : 1);
    }
}

/* <tag>text</tag>; `tag` may bring attributes of ours. */
static void append_element(const struct html *html, const char *tag, const char *text)
{
    er_text_appendf(html->out, "<%s>", tag);
    append_escaped(html, text);
    er_text_appendf(html->out, "</%.*s>\n", (int)strcspn(tag, " "), tag);
}

/* Lines as they are: their ends are no control characters that must be made visible. */
static void append_lines(const struct html *html, const char *text)
{
    er_text_append(html->out, "<pre>");
    while (*text != '\0') {
        const size_t bytes = strcspn(text, "\n");
        append_escaped(html, er_pen_text(html->pen, "%.*s", (int)bytes, text));
        er_text_append(html->out, text[bytes] != '\0' ? "\n" : "");
        text += bytes + (text[bytes] != '\0');
    }
    er_text_append(html->out, "</pre>\n");
}

/* ---- tables ---- */

/* A column's head as one line, with its unit; a word that is cut there is whole again. */
static const char *head_of(struct er_pen *pen, const struct er_column *column)
{
    struct er_text text;
    er_text_init(&text);
    for (const char *at = column->head; *at != '\0'; at++) {
        const bool cut = strncmp(at, "-\n", 2) == 0;
        at += cut;
        er_text_append_bytes(&text, *at == '\n' ? " " : at, cut ? 0 : 1);
    }
    if (column->quantity != ER_NO_UNIT) {
        er_text_appendf(&text, "%s%s", text.length > 0 ? ", " : "",
                        er_unit_name(column->quantity, pen->system));
    }
    return er_pen_keep(pen, &text);
}

#define WHOLE 16 /* characters of a date or another short word, which is not cut at a hyphen */

/* Room for a figure that is written in by hand. */
static bool is_blank(const char *text) { return text[strspn(text, "_")] == '\0'; }

static const char *class_of(const struct er_column *column, const char *text)
{
    if (is_blank(text)) {
        return " class=\"blank\"";
    }
    if (column->kind != ER_COLUMN_WORDS) {
        return "";
    }
    return strlen(text) <= WHOLE && strchr(text, ' ') == NULL ? " class=\"words whole\""
                                                              : " class=\"words\"";
}

/* The first cell of a row names it. */
static void append_cell(const struct html *html, const struct er_table *table, size_t row,
                        size_t column, const char *head)
{
    const char *text = table->cells[row * table->column_count + column].text;
    const char *tag = column == 0 ? "th" : "td";
    er_text_appendf(html->out, "<%s%s%s data-head=\"", tag, column == 0 ? " scope=\"row\"" : "",
                    class_of(&table->columns[column], text));
    append_escaped(html, head);
    er_text_append(html->out, "\">");
    append_escaped(html, is_blank(text) ? "" : text);
    er_text_appendf(html->out, "</%s>", tag);
}

static void append_table(const struct html *html, const struct er_table *table)
{
    const size_t columns = table->column_count;
    const char **heads = er_pen_room(html->pen, columns, sizeof *heads);
    if (heads == NULL) {
        return;
    }
    er_table_write_numbers(table);
    er_text_append(html->out, "<table>\n<thead><tr>");
    for (size_t column = 0; column < columns; column++) {
        bool words = table->columns[column].kind == ER_COLUMN_WORDS;
        heads[column] = head_of(html->pen, &table->columns[column]);
        er_text_appendf(html->out, "<th scope=\"col\"%s>", words ? " class=\"words\"" : "");
        append_escaped(html, heads[column]);
        er_text_append(html->out, "</th>");
    }
    er_text_append(html->out, "</tr></thead>\n<tbody>\n");
    for (size_t row = 0; row < table->row_count; row++) {
        er_text_append(html->out, "<tr>");
        for (size_t column = 0; column < columns; column++) {
            append_cell(html, table, row, column, heads[column]);
        }
        er_text_append(html->out, "</tr>\n");
    }
    er_text_append(html->out, "</tbody>\n</table>\n");
}

/* ---- what stands around several blocks ---- */

static bool is_numbered(const struct er_block *item)
{
    return item->label[0] >= '0' && item->label[0] <= '9';
}

static void close_list(struct html *html)
{
    if (html->list != NULL) {
        er_text_appendf(html->out, "</%s>\n", html->list);
    }
    html->list = NULL;
}

static void open_list(struct html *html, const struct er_block *block)
{
    const char *list = block->kind == ER_BLOCK_PAIR   ? "dl"
                       : block->kind != ER_BLOCK_ITEM ? NULL
                       : is_numbered(block)           ? "ol"
                                                      : "ul";
    if (html->list != NULL && list != NULL && strcmp(html->list, list) == 0) {
        return;
    }
    close_list(html);
    html->list = list;
    if (list != NULL) {
        er_text_appendf(html->out, "<%s>\n", list);
    }
}

static void turn_side(struct html *html, enum er_block_kind side)
{
    er_text_append(html->out, html->sides ? "</div>\n" : "");
    if (side == ER_BLOCK_ACROSS) {
        er_text_append(html->out, html->sides ? "</div>\n" : "");
    } else {
        er_text_append(html->out, html->sides ? "<div>\n" : "<div class=\"sides\">\n<div>\n");
    }
    html->sides = side != ER_BLOCK_ACROSS;
}

static void close_section(struct html *html)
{
    close_list(html);
    turn_side(html, ER_BLOCK_ACROSS);
    er_text_append(html->out, html->section ? "</section>\n" : "");
    html->section = false;
}

static void begin_sheet(struct html *html, const struct er_block *sheet)
{
    close_section(html);
    er_text_append(html->out, sheet->crowded ? "<section class=\"crowded\">\n" : "<section>\n");
    html->section = true;
    append_element(html, "h1", sheet->label);
    if (sheet->text[0] != '\0') {
        append_element(html, "p class=\"plan\"", sheet->text);
    }
}

/* With its mark, where that is one of its own. */
static void append_item(const struct html *html, const struct er_block *item)
{
    er_text_append(html->out, "<li>");
    if (!is_numbered(item) && strcmp(item->label, "-") != 0) {
        er_text_append(html->out, "<b>");
        append_escaped(html, item->label);
        er_text_append(html->out, "</b> ");
    }
    append_escaped(html, item->text);
    er_text_append(html->out, "</li>\n");
}

/* ---- the page ---- */

/* The elements of plain blocks. */
static const char *const elements[] = {
    [ER_BLOCK_PARAGRAPH] = "p",
    [ER_BLOCK_TITLE] = "h1",
    [ER_BLOCK_WARNING] = "p class=\"warning\"",
    [ER_BLOCK_CHAPTER] = "h2 class=\"chapter\"",
    [ER_BLOCK_HEADING] = "h2",
    [ER_BLOCK_NOTE] = "p class=\"note\"",
    [ER_BLOCK_STEP] = "p class=\"step\"",
};

static void append_block(struct html *html, const struct er_block *at, bool first)
{
    switch (at->kind) {
    case ER_BLOCK_SHEET:
        begin_sheet(html, at);
        break;
    case ER_BLOCK_ITEM:
        append_item(html, at);
        break;
    case ER_BLOCK_PAIR:
        append_element(html, "dt", at->label);
        append_element(html, "dd", at->text);
        break;
    case ER_BLOCK_NAMED:
        append_element(html, "h3", at->label);
        append_element(html, "p", at->text);
        break;
    case ER_BLOCK_SUM:
        append_element(html, "p class=\"sum\"",
                       er_pen_text(html->pen, "%s %s", at->text, at->label));
        break;
    case ER_BLOCK_PLAIN:
        append_lines(html, at->text);
        break;
    case ER_BLOCK_TABLE:
        append_table(html, at->table);
        break;
    case ER_BLOCK_LEFT:
    case ER_BLOCK_RIGHT:
    case ER_BLOCK_ACROSS:
        turn_side(html, at->kind);
        break;
    default:
        append_element(html,
                       first && at->kind == ER_BLOCK_PARAGRAPH ? "p class=\"answer\""
                                                               : elements[at->kind],
                       at->text);
        break;
    }
}

/* The plan's name, or else the program's. */
static const char *title_of(const struct er_page *page)
{
    for (const struct er_block *at = page->first; at != NULL; at = at->next) {
        if ((at->kind == ER_BLOCK_TITLE || at->kind == ER_BLOCK_SHEET) && at->text[0] != '\0') {
            return at->text;
        }
    }
    return "evenrow";
}

enum er_status er_page_as_html(struct er_page *page, struct er_text *out)
{
    struct html html = {.pen = &page->pen, .out = out};
    er_text_append(out,
                   "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                   "<meta http-equiv=\"Content-Security-Policy\" content=\"" POLICY "\">\n"
                   "<meta name=\"viewport\" content=\"width=device-width,initial-scale=1\">\n");
    append_element(&html, "title", title_of(page));
    er_text_append(out, "<style>\n");
    er_text_append(out, style);
    er_text_append(out, "</style>\n</head>\n<body>\n<main>\n");
    for (const struct er_block *at = page->first; at != NULL; at = at->next) {
        if (at->kind == ER_BLOCK_TABLE && at->table->row_count == 0) {
            continue;
        }
        open_list(&html, at);
        append_block(&html, at, at == page->first);
    }
    close_section(&html);
    er_text_append(out, "</main>\n</body>\n</html>\n");
    out->out_of_memory = out->out_of_memory || page->pen.out_of_memory;
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
