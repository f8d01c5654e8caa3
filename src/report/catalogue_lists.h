/* The catalogue as tables: which columns each kind has, and the cells. */
#ifndef ER_REPORT_CATALOGUE_LISTS_H
#define ER_REPORT_CATALOGUE_LISTS_H

#include "report/report.h"

enum er_listed_kind {
    ER_LISTED_WORDS,     /* a const char * */
    ER_LISTED_ABOUT,     /* a const char *: what it is; how its figures are meant */
    ER_LISTED_SOURCE,    /* a const char *, in text a numbered note */
    ER_LISTED_PIPE_KIND, /* an int, as enum er_pipe_kind */
    ER_LISTED_NUMBER,    /* a double without a unit */
    ER_LISTED_PERCENT,   /* a fraction, told in percent */
    ER_LISTED_QUANTITY,  /* a double in SI */
    ER_LISTED_TAPE_FLOW, /* the tape's flow per length, of its emitter's flow and spacing */
    ER_LISTED_PER_DEPTH, /* m of water per m of soil: told in in/ft or mm/m */
    ER_LISTED_PER_LENGTH /* money per m: told per 100 ft or 100 m */
};

struct er_listed {
    const char *key;  /* for JSON and CSV */
    const char *head; /* for text; NULL: told only as JSON and CSV */
    enum er_listed_kind kind;
    enum er_quantity quantity; /* of ER_LISTED_QUANTITY */
    size_t offset;             /* in the entry */
};

struct er_list {
    const char *name;
    const char *heading;
    size_t column_count;
    const struct er_listed *columns;
    size_t entry_count;
    const void *entries;
    size_t entry_size;
};

/* The catalogue's list of a kind. */
struct er_list er_catalogue_list(const struct er_catalogue *catalogue, enum er_catalogue_kind kind);

/* The text or the number in one cell. A number is NAN where it is not known. */
const char *er_list_words(const struct er_list *list, size_t entry, size_t column);
double er_list_number(const struct er_list *list, size_t entry, size_t column,
                      enum er_system system);

/* The unit of a column's numbers, or NULL. */
const char *er_list_unit(const struct er_listed *column, enum er_system system);

/* Whether a column holds texts. */
bool er_list_is_words(const struct er_listed *column);

#endif
