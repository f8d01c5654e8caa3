#include <stdio.h>
#include <string.h>

#include "report/catalogue_lists.h"
#include "say/table.h"
#include "say/wrap.h"

/* The sources of one list, each once, in the order of their first use. */
struct sources {
    size_t count;
    const char **texts; /* room for one from each entry */
};

/* The number of a source, from 1; a new one is added. */
static size_t source_number(struct sources *sources, const char *text)
{
    for (size_t i = 0; i < sources->count; i++) {
        if (strcmp(sources->texts[i], text) == 0) {
            return i + 1;
        }
    }
    sources->texts[sources->count++] = text;
    return sources->count;
}

/* The columns that text shows, with their heads; *shown says which of the list's they are. */
static struct er_column *make_columns(const struct er_list *list, enum er_system system,
                                      struct er_arena *arena, size_t *shown, size_t *count)
{
    struct er_column *columns = er_arena_array(arena, list->column_count, sizeof *columns);
    *count = 0;
    for (size_t i = 0; columns != NULL && i < list->column_count; i++) {
        const struct er_listed *listed = &list->columns[i];
        if (listed->head == NULL) {
            continue;
        }
        const char *unit = er_list_unit(listed, system);
        const char *head = unit == NULL
                               ? listed->head
                               : er_arena_format(arena, "%s\n%s", listed->head,
                                                 strcmp(unit, "percent") == 0 ? "%" : unit);
        enum er_column_kind kind = listed->kind == ER_LISTED_SOURCE ? ER_COLUMN_RIGHT
                                   : er_list_is_words(listed)       ? ER_COLUMN_WORDS
                                                                    : ER_COLUMN_PLAIN;
        if (head == NULL) {
            return NULL;
        }
        shown[*count] = i;
        columns[(*count)++] = (struct er_column){head, kind, ER_NO_UNIT};
    }
    return columns;
}

/* Where the words of an entry tell more than what it is: behind the first "; " they say how its
 * figures are meant. NULL if there is no more. */
static const char *meaning_of(const char *about)
{
    const char *behind = strstr(about, "; ");
    return behind != NULL ? behind + 2 : NULL;
}

/* The note to an entry: how its figures are meant, and where they come from. */
static const char *note_to(const struct er_list *list, size_t entry, size_t source,
                           struct er_arena *arena)
{
    const char *text = er_list_words(list, entry, source);
    for (size_t i = 0; i < list->column_count; i++) {
        bool about = list->columns[i].kind == ER_LISTED_ABOUT && list->columns[i].head != NULL;
        const char *meaning = about ? meaning_of(er_list_words(list, entry, i)) : NULL;
        if (meaning != NULL) {
            return er_arena_format(arena, "%s. Source: %s", meaning, text);
        }
    }
    return text;
}

/* What an entry is, in a few words, kept in the arena. */
static const char *short_about(const char *about, struct er_arena *arena)
{
    const char *meaning = meaning_of(about);
    int length = (int)(meaning != NULL ? (size_t)(meaning - 2 - about) : strlen(about));
    return er_arena_format(arena, "%.*s", length, about);
}

/* The text of a cell that holds words, or NULL if memory ran out. */
static const char *cell_words(const struct er_list *list, size_t entry, size_t column,
                              struct sources *sources, struct er_arena *arena)
{
    const char *text = er_list_words(list, entry, column);
    if (list->columns[column].kind == ER_LISTED_ABOUT) {
        return short_about(text, arena);
    }
    if (list->columns[column].kind == ER_LISTED_SOURCE) {
        const char *note = note_to(list, entry, column, arena);
        return note != NULL ? er_arena_format(arena, "[%zu]", source_number(sources, note)) : NULL;
    }
    return text;
}

static enum er_status fill_row(const struct er_list *list, const size_t *shown,
                               struct sources *sources, struct er_arena *arena,
                               struct er_table *table, size_t entry)
{
    for (size_t i = 0; i < table->column_count; i++) {
        if (!er_list_is_words(&list->columns[shown[i]])) {
            er_table_number(table, entry, i, er_list_number(list, entry, shown[i], table->system));
            continue;
        }
        const char *words = cell_words(list, entry, shown[i], sources, arena);
        if (words == NULL) {
            return ER_NO_MEMORY;
        }
        er_table_text(table, entry, i, words);
    }
    return ER_OK;
}

static void append_sources(const struct sources *sources, struct er_text *out)
{
    er_text_append(out, "\n");
    for (size_t i = 0; i < sources->count; i++) {
        char number[32];
        snprintf(number, sizeof number, "%4zu  ", i + 1);
        er_paragraph(out, number, "      ", sources->texts[i]);
    }
}

static enum er_status write_list(const struct er_list *list, enum er_system system,
                                 struct er_text *out)
{
    struct er_arena arena = {0};
    struct sources sources = {0};
    size_t count = 0;
    size_t *shown = er_arena_array(&arena, list->column_count, sizeof *shown);
    sources.texts = er_arena_array(&arena, list->entry_count, sizeof *sources.texts);
    const struct er_column *columns =
        shown != NULL ? make_columns(list, system, &arena, shown, &count) : NULL;
    enum er_status status = columns == NULL || sources.texts == NULL ? ER_NO_MEMORY : ER_OK;
    if (status == ER_OK) {
        struct er_table table;
        er_table_init(&table, system, columns, count, list->entry_count);
        for (size_t entry = 0; status == ER_OK && entry < list->entry_count; entry++) {
            status = fill_row(list, shown, &sources, &arena, &table, entry);
        }
        er_text_appendf(out, "%s\n\n", list->heading);
        er_table_write(&table, out);
        er_table_release(&table);
        append_sources(&sources, out);
    }
    er_arena_release(&arena);
    return status;
}

enum er_status er_report_catalogue_text(const struct er_catalogue *catalogue,
                                        enum er_catalogue_kind kind, enum er_system system,
                                        struct er_text *out)
{
    enum er_status status = ER_OK;
    for (unsigned k = 0; status == ER_OK && k < ER_CATALOGUE_KINDS; k++) {
        if (kind != ER_CATALOGUE_KINDS && kind != (enum er_catalogue_kind)k) {
            continue;
        }
        er_text_append(out, out->length > 0 ? "\n" : "");
        struct er_list list = er_catalogue_list(catalogue, (enum er_catalogue_kind)k);
        status = write_list(&list, system, out);
    }
    return out->out_of_memory ? ER_NO_MEMORY : status;
}
