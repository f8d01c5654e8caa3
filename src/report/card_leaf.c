#include "report/card_leaf.h"

#include <stdio.h>
#include <string.h>

#include "say/say.h"
#include "say/wrap.h"

/* Black on white, and small enough that a set fits on a page of Letter or A4. */
static const char style[] =
    "body{font:10.5pt/1.35 Arial,Helvetica,sans-serif;color:#000;background:#fff;margin:1em "
    "auto;max-width:48em;"
    "padding:0 1em}\n"
    "section{border-top:3px solid #000;margin-bottom:3em}\n"
    "h1{font-size:17pt;margin:.3em 0 0}\nh2{font-size:11.5pt;margin:.9em 0 .2em}\n"
    "p{margin:.2em 0 .4em}\n.field{color:#333}\n"
    ".warning{border:2px solid #000;padding:.3em .6em;font-weight:bold}\n"
    ".pair{display:grid;grid-template-columns:1fr 1fr;column-gap:1.5em}\n"
    "ul,ol{margin:.2em 0;padding-left:1.5em}\nli{margin:.1em 0}\n"
    "table{border-collapse:collapse;width:100%;margin:.3em 0}\n"
    "th,td{border:1px solid #000;padding:.15em .5em;text-align:right}\n"
    "th{font-weight:bold;vertical-align:bottom}\n"
    "th:first-child,td:first-child{text-align:left}\ntd.words{text-align:left}"
    "td:nth-child(2).words{white-space:nowrap}td.blank{height:1."
    "5em}\n"
    "@page{margin:10mm}\n"
    "@media print{body{font-size:8pt;line-height:1.2;margin:0;max-width:none;padding:0}"
    "h1{font-size:14pt;margin:0}h2{font-size:9.5pt;margin:.5em 0 .1em}"
    "p,ul,ol{margin:.1em 0}li{margin:0}th,td{padding:.05em .4em}"
    "section{border-top:0;margin:0;break-after:page;page-break-after:always}"
    ".crowded{font-size:6.5pt}.crowded h1{font-size:11pt}.crowded h2{font-size:8pt}"
    ".crowded td.blank{height:1.3em}"
    "section:last-child{break-after:auto;page-break-after:auto}"
    "table,li{break-inside:avoid;page-break-inside:avoid}"
    "h2{break-after:avoid;page-break-after:avoid}}\n";

/* Visible, and with what means something in HTML escaped. */
static void append_escaped(struct er_text *out, const char *text)
{
    struct er_text visible;
    er_text_init(&visible);
    er_text_append_visible(&visible, text);
    for (const char *at = er_text_string(&visible); *at != '\0'; at++) {
        switch (*at) {
        case '&':
            er_text_append(out, "&amp;");
            break;
        case '<':
            er_text_append(out, "&lt;");
            break;
        case '>':
            er_text_append(out, "&gt;");
            break;
        case '"':
            er_text_append(out, "&quot;");
            break;
        default:
            er_text_append_bytes(out, at, 1);
        }
    }
    out->out_of_memory = out->out_of_memory || visible.out_of_memory;
    er_text_release(&visible);
}

/* <tag>text</tag> */
static void append_element(struct er_text *out, const char *tag, const char *attribute,
                           const char *text)
{
    er_text_appendf(out, "<%s%s>", tag, attribute);
    append_escaped(out, text);
    er_text_appendf(out, "</%s>\n", tag);
}

void er_leaf_begin(struct er_leaf *leaf, const char *title)
{
    if (!leaf->html) {
        return;
    }
    er_text_append(leaf->out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n"
                              "<meta charset=\"utf-8\">\n"
                              "<meta name=\"viewport\" content=\"width=device-width\">\n");
    append_element(leaf->out, "title", "", title);
    er_text_append(leaf->out, "<style>\n");
    er_text_append(leaf->out, style);
    er_text_append(leaf->out, "</style>\n</head>\n<body>\n");
}

void er_leaf_end(struct er_leaf *leaf)
{
    er_text_append(leaf->out, leaf->html ? "</body>\n</html>\n" : "");
}

void er_leaf_sheet_begin(struct er_leaf *leaf, const char *heading, const char *title, bool crowded)
{
    if (leaf->html) {
        er_text_append(leaf->out, crowded ? "<section class=\"crowded\">\n" : "<section>\n");
        append_element(leaf->out, "h1", "", heading);
        if (title[0] != '\0') {
            append_element(leaf->out, "p", " class=\"field\"", title);
        }
        return;
    }
    static const char rule[] =
        "================================================================================\n";
    er_text_append(leaf->out, leaf->sheets++ == 0 ? "" : "\n\n");
    er_text_append(leaf->out, rule);
    er_paragraph(leaf->out, "", "", heading);
    if (title[0] != '\0') {
        er_paragraph(leaf->out, "", "", title);
    }
    er_text_append(leaf->out, rule);
}

void er_leaf_sheet_end(struct er_leaf *leaf)
{
    er_text_append(leaf->out, leaf->html ? "</section>\n" : "");
}

void er_leaf_heading(struct er_leaf *leaf, const char *text)
{
    if (leaf->html) {
        append_element(leaf->out, "h2", "", text);
    } else {
        er_text_appendf(leaf->out, "\n%s\n", text);
    }
}

static void end_text(struct er_leaf *leaf, struct er_text *text)
{
    leaf->out->out_of_memory = leaf->out->out_of_memory || text->out_of_memory;
    er_text_clear(text);
}

void er_leaf_paragraph(struct er_leaf *leaf, struct er_text *text)
{
    if (leaf->html) {
        append_element(leaf->out, "p", "", er_text_string(text));
    } else {
        er_text_append(leaf->out, "\n");
        er_paragraph(leaf->out, "", "", er_text_string(text));
    }
    end_text(leaf, text);
}

void er_leaf_warning(struct er_leaf *leaf, struct er_text *text)
{
    if (leaf->html) {
        append_element(leaf->out, "p", " class=\"warning\"", er_text_string(text));
    } else {
        er_text_append(leaf->out, "\n");
        er_paragraph(leaf->out, "! ", "! ", er_text_string(text));
    }
    end_text(leaf, text);
}

void er_leaf_item(struct er_leaf *leaf, struct er_text *text)
{
    char mark[16] = "  - ";
    leaf->items++;
    if (leaf->numbered) {
        snprintf(mark, sizeof mark, "%3zu. ", leaf->items);
    }
    if (leaf->html) {
        append_element(leaf->out, "li", "", er_text_string(text));
    } else {
        er_paragraph(leaf->out, mark, leaf->numbered ? "     " : "    ", er_text_string(text));
    }
    end_text(leaf, text);
}

void er_leaf_list_begin(struct er_leaf *leaf, bool numbered)
{
    leaf->numbered = numbered;
    leaf->items = 0;
    er_text_append(leaf->out, !leaf->html ? "\n" : numbered ? "<ol>\n" : "<ul>\n");
}

void er_leaf_list_end(struct er_leaf *leaf)
{
    er_text_append(leaf->out, !leaf->html ? "" : leaf->numbered ? "</ol>\n" : "</ul>\n");
}

void er_leaf_pair_begin(struct er_leaf *leaf)
{
    er_text_append(leaf->out, leaf->html ? "<div class=\"pair\">\n<div>\n" : "");
}

void er_leaf_beside(struct er_leaf *leaf)
{
    er_text_append(leaf->out, leaf->html ? "</div>\n<div>\n" : "");
}

void er_leaf_pair_end(struct er_leaf *leaf)
{
    er_text_append(leaf->out, leaf->html ? "</div>\n</div>\n" : "");
}

/* A cell's text, "-" where it was never set. */
static void append_cell(struct er_text *out, const char *text, bool words)
{
    if (text == NULL) {
        er_text_append(out, "<td>-</td>");
    } else if (strcmp(text, ER_BLANK) == 0) {
        er_text_append(out, "<td class=\"blank\"></td>");
    } else {
        er_text_append(out, words ? "<td class=\"words\">" : "<td>");
        append_escaped(out, text);
        er_text_append(out, "</td>");
    }
}

/* A column's head, its lines made one, with its unit. */
static void append_head(struct er_text *out, const struct er_table *table, size_t column)
{
    const char *head = table->columns[column].head;
    enum er_quantity quantity = table->columns[column].quantity;
    struct er_text text;
    er_text_init(&text);
    for (const char *at = head; *at != '\0'; at++) {
        er_text_append_bytes(&text, *at == '\n' ? " " : at, 1);
    }
    if (quantity != ER_NO_UNIT) {
        er_text_appendf(&text, " %s", er_unit_name(quantity, table->system));
    }
    er_text_append(out, "<th>");
    append_escaped(out, er_text_string(&text));
    er_text_append(out, "</th>");
    out->out_of_memory = out->out_of_memory || text.out_of_memory;
    er_text_release(&text);
}

static void append_html_table(struct er_text *out, const struct er_table *table)
{
    er_text_append(out, "<table>\n<tr>");
    for (size_t c = 0; c < table->column_count; c++) {
        append_head(out, table, c);
    }
    er_text_append(out, "</tr>\n");
    for (size_t r = 0; table->cells != NULL && r < table->row_count; r++) {
        er_text_append(out, "<tr>");
        for (size_t c = 0; c < table->column_count; c++) {
            append_cell(out, table->cells[r * table->column_count + c].text,
                        table->columns[c].kind == ER_COLUMN_WORDS);
        }
        er_text_append(out, "</tr>\n");
    }
    er_text_append(out, "</table>\n");
}

void er_leaf_table(struct er_leaf *leaf, struct er_table *table)
{
    if (!leaf->html) {
        er_text_append(leaf->out, "\n");
        er_table_finish(table, leaf->out);
        return;
    }
    append_html_table(leaf->out, table);
    leaf->out->out_of_memory = leaf->out->out_of_memory || table->out_of_memory;
    er_table_release(table);
}
