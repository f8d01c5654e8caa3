/* The catalogue for a person: a table of each kind, and notes that say where its figures are from.
 */
#include <string.h>

#include "report/catalog/report.h"

/* The notes to one list, each once, in the order of their first use. */
struct notes {
    size_t count;
    const char **texts; /* room for one from each entry */
};

/* The number of a note, from 1; a new one is added. */
static size_t number_of(struct notes *notes, const char *text)
{
    size_t i = 0;
    while (i < notes->count && strcmp(notes->texts[i], text) != 0) {
        i++;
    }
    if (i == notes->count) {
        notes->texts[notes->count++] = text;
    }
    return i + 1;
}

static bool is(const struct er_member *member, const char *key)
{
    return strcmp(member->key, key) == 0;
}

static const char *text_of(const struct er_member *member, const char *entry)
{
    const char *text;
    memcpy(&text, entry + member->offset, sizeof text);
    return text != NULL ? text : "";
}

/* Where the words of an entry tell more than what it is: behind the first "; " they say how its
 * figures are meant. */
#define BETWEEN "; "

/* The note to an entry: how its figures are meant, and where they come from. */
static const char *note_to(struct er_pen *pen, const struct er_member *members, const char *entry,
                           const char *source)
{
    for (; members->key != NULL; members++) {
        const char *meaning = is(members, "about") && members->head != NULL
                                  ? strstr(text_of(members, entry), BETWEEN)
                                  : NULL;
        if (meaning != NULL) {
            return er_pen_text(pen, "%s. Source: %s", meaning + strlen(BETWEEN), source);
        }
    }
    return source;
}

/* What a column of words says of an entry. */
static const char *words_of(struct er_pen *pen, const struct er_list *list,
                            const struct er_member *member, const char *entry, struct notes *notes)
{
    const char *text = text_of(member, entry);
    if (is(member, "about")) {
        const char *meaning = strstr(text, BETWEEN);
        return meaning == NULL ? text : er_pen_text(pen, "%.*s", (int)(meaning - text), text);
    }
    if (is(member, "source")) {
        const char *note = note_to(pen, list->members, entry, text);
        return er_pen_text(pen, "[%zu]", number_of(notes, note));
    }
    return text;
}

static void fill_column(struct er_page *page, const struct er_list *list,
                        const struct er_member *member, struct er_table *table, size_t column,
                        struct notes *notes)
{
    for (size_t i = 0; i < list->entry_count; i++) {
        const char *entry = (const char *)list->entries + i * list->entry_size;
        if (member->kind == ER_IS_TEXT) {
            er_table_text(table, i, column, words_of(&page->pen, list, member, entry, notes));
        } else {
            const double number =
                er_member_number(member, page->pen.system, entry + member->offset);
            er_table_number(table, i, column, number);
        }
    }
}

/* What stands above a member's figures or words. */
static struct er_column column_of(struct er_pen *pen, const struct er_member *member)
{
    const char *unit = member->kind == ER_IS_QUANTITY ? er_member_unit(member, pen->system) : NULL;
    return (struct er_column){unit == NULL ? member->head
                                           : er_pen_text(pen, "%s\n%s", member->head, unit),
                              is(member, "source")         ? ER_COLUMN_RIGHT
                              : member->kind == ER_IS_TEXT ? ER_COLUMN_WORDS
                                                           : ER_COLUMN_GIVEN,
                              ER_NO_UNIT};
}

static void write_list(struct er_page *page, const struct er_list *list)
{
    struct er_pen *pen = &page->pen;
    struct notes notes = {0, er_pen_room(pen, list->entry_count, sizeof *notes.texts)};
    size_t count = 0, column = 0;
    for (const struct er_member *member = list->members; member->key != NULL; member++) {
        count += member->head != NULL;
    }
    struct er_column *columns = er_pen_room(pen, count, sizeof *columns);
    if (columns == NULL || notes.texts == NULL) {
        return;
    }
    er_page_heading(page, "%s", list->heading);
    struct er_table *table = er_page_table(page, columns, count, list->entry_count);
    for (const struct er_member *member = list->members; member->key != NULL; member++) {
        if (member->head != NULL) {
            columns[column] = column_of(pen, member);
            fill_column(page, list, member, table, column++, &notes);
        }
    }
    for (size_t i = 0; i < notes.count; i++) {
        er_page_marked_item(page, er_pen_text(pen, "%2zu ", i + 1), "%s", notes.texts[i]);
    }
}

void er_catalogue_page(const void *result, struct er_page *page)
{
    const struct er_listing *listing = result;
    for (unsigned k = 0; k < ER_CATALOGUE_KINDS; k++) {
        const enum er_catalogue_kind kind = (enum er_catalogue_kind)k;
        if (listing->kind == ER_CATALOGUE_KINDS || listing->kind == kind) {
            const struct er_list list = er_catalogue_list(&page->pen, listing->catalogue, kind);
            write_list(page, &list);
        }
    }
}
