/* Problems of a document, in the order in which they are found; told in the file's order. */
#ifndef ER_JSON_NOTICES_H
#define ER_JSON_NOTICES_H

#include "json/document.h"

/* So many are kept to be put in order. A file with more is told the first of these. */
#define ER_NOTICES_KEPT 1000

struct er_notice {
    const cJSON *node; /* where it stands in the tree */
    enum er_spot spot;
    const char *pointer;
    const char *text;
    size_t found; /* its number in the order of finding */
    size_t place; /* its node's number in the order of the file */
};

struct er_notices {
    struct er_arena arena;
    size_t count; /* all */
    struct er_notice *kept;
};

/* Whether one more would still be kept; otherwise it need only be counted. */
bool er_notices_room(const struct er_notices *notices);

/* Adds one whose texts live in the notices' arena. False if memory ran out. */
bool er_notices_add(struct er_notices *notices, const cJSON *node, enum er_spot spot,
                    const char *pointer, const char *text);

/* Tells all of them to `problems`, in the order of the file. */
void er_notices_tell(struct er_notices *notices, const struct er_document *document,
                     struct er_problems *problems);

void er_notices_release(struct er_notices *notices);

#endif
