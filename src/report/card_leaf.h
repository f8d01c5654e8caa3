/* What a card is written on: the same headings, paragraphs, lists and tables as plain text or
 * as HTML. Texts may come from outside: they are made visible and escaped here. */
#ifndef ER_REPORT_CARD_LEAF_H
#define ER_REPORT_CARD_LEAF_H

#include "say/table.h"

#define ER_BLANK "______" /* a cell of a table that is to be filled in by hand */

struct er_leaf {
    struct er_text *out;
    bool html;
    size_t sheets; /* begun so far */
    bool numbered; /* the list that is being written */
    size_t items;  /* of it, so far */
};

void er_leaf_begin(struct er_leaf *leaf, const char *title);
void er_leaf_end(struct er_leaf *leaf);

/* A sheet, which is a page when it is printed; `crowded`: in small type. */
void er_leaf_sheet_begin(struct er_leaf *leaf, const char *heading, const char *title,
                         bool crowded);
void er_leaf_sheet_end(struct er_leaf *leaf);

void er_leaf_heading(struct er_leaf *leaf, const char *text);

/* Each of these empties the text, which was made for it. */
void er_leaf_paragraph(struct er_leaf *leaf, struct er_text *text);
void er_leaf_warning(struct er_leaf *leaf, struct er_text *text);
void er_leaf_item(struct er_leaf *leaf, struct er_text *text);

/* Items stand between these. With `numbered` they are to be done in order. */
void er_leaf_list_begin(struct er_leaf *leaf, bool numbered);
void er_leaf_list_end(struct er_leaf *leaf);

/* What stands between these goes side by side, parted by er_leaf_beside; in text one below the
 * other. */
void er_leaf_pair_begin(struct er_leaf *leaf);
void er_leaf_beside(struct er_leaf *leaf);
void er_leaf_pair_end(struct er_leaf *leaf);

/* Writes a table whose cells are texts, and releases it. */
void er_leaf_table(struct er_leaf *leaf, struct er_table *table);

#endif
