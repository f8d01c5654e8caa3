/* What a result is made of, told once: JSON and CSV follow from it. */
#ifndef ER_SAY_RECORD_H
#define ER_SAY_RECORD_H

#include "say/json.h"
#include "say/pen.h"

enum er_member_kind {
    ER_IS_QUANTITY, /* double, SI */
    ER_IS_PERCENT,  /* double, a fraction */
    ER_IS_NUMBER,   /* double, told as it is */
    ER_IS_COUNT,    /* size_t */
    ER_IS_PLACE,    /* size_t from 0, told from 1 */
    ER_IS_TEXT,     /* const char *; NULL: null */
    ER_IS_TRUE,     /* bool */
    ER_IS_FALSE,    /* bool, told the other way round */
    ER_IS_RECORD,   /* a struct, or with no offset the same one again; with "" for a key its
                       members stand among the others */
    ER_IS_MADE,     /* what `make` adds */
    ER_IS_WORDS     /* what `words` says: const char * */
};

struct er_teller {
    struct er_json json;
    struct er_pen pen;
    const void *result; /* the whole */
};

struct er_member {
    const char *key; /* NULL: the end */
    enum er_member_kind kind;
    enum er_quantity quantity;
    size_t offset;
    const struct er_member *members;
    void (*make)(struct er_teller *teller, cJSON *parent, const char *key, const void *at);
    const char *(*words)(struct er_teller *teller, const void *at);
    const char *head; /* above its column, where a table shows it to people */
};

/* The new object, to which more can be added. */
cJSON *er_tell_record(struct er_teller *teller, cJSON *parent, const char *key,
                      const struct er_member *members, const void *base);
/* The same into an object that is there. */
void er_tell_members(struct er_teller *teller, cJSON *object, const struct er_member *members,
                     const void *base);
/* An array of them; NULL, where memory ran out, makes an empty one. */
void er_tell_list(struct er_teller *teller, cJSON *parent, const char *key,
                  const struct er_member *members, const void *base, size_t count, size_t size);

/* The number that a member with one tells; NAN of any other. `at`: where it lies. */
double er_member_number(const struct er_member *member, enum er_system system, const void *at);

/* Its unit, "percent" of percents; NULL: it has none. */
const char *er_member_unit(const struct er_member *member, enum er_system system);

/* Members by their kind; `type` is the struct. */
#define ER_QUANTITY_MEMBER(name, unit, type, member)                                               \
    {                                                                                              \
        .key = (name), .kind = ER_IS_QUANTITY, .quantity = (unit),                                 \
        .offset = offsetof(type, member)                                                           \
    }
#define ER_MEMBER(name, is, type, member)                                                          \
    {                                                                                              \
        .key = (name), .kind = (is), .offset = offsetof(type, member)                              \
    }
#define ER_WORDS_MEMBER(name, type, member, says)                                                  \
    {                                                                                              \
        .key = (name), .kind = ER_IS_WORDS, .offset = offsetof(type, member), .words = (says)      \
    }
#define ER_MADE_MEMBER(name, makes)                                                                \
    {                                                                                              \
        .key = (name), .kind = ER_IS_MADE, .make = (makes)                                         \
    }
#define ER_RECORD_MEMBER(name, of)                                                                 \
    {                                                                                              \
        .key = (name), .kind = ER_IS_RECORD, .members = (of)                                       \
    }
#define ER_END_OF_MEMBERS                                                                          \
    {                                                                                              \
        .key = NULL                                                                                \
    }

/* A head and a line for each item; quantities' names end with their units, those of
 * percents with "percent"; a record's members have its name before theirs. NULL, where memory ran
 * out: no lines. */
void er_tell_csv(struct er_teller *teller, const struct er_member *columns, const void *base,
                 size_t count, size_t size, struct er_text *out);

#endif
