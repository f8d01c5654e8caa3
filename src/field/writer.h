/* What the parts of the field writer share. It is the reader turned round: the same tables say
 * what is written, and an object's `unfinish` undoes what its `finish` did. */
#ifndef ER_FIELD_WRITER_H
#define ER_FIELD_WRITER_H

#include <cjson/cJSON.h>

#include "evenrow/catalogue.h"
#include "evenrow/writing.h"
#include "field/entries.h"

/* A name that the written file may use, and what it stands for. */
struct er_definition {
    const char *name;
    const void *item; /* an er_pipe or er_tape, whose own name may be another */
    bool is_new;      /* it must be put into the file */
};

struct er_definitions {
    size_t count, room;
    struct er_definition *list;
};

struct er_writer {
    const struct er_field *field;
    enum er_system system;
    struct er_arena arena;
    struct er_catalogue catalogue;
    struct er_definitions pipes, tapes;
    bool may_shadow;      /* a new definition may have a name of the catalogue's */
    bool water_elsewhere; /* the zones are written without their water */
    bool writes_defaults; /* also what is the default is written */
    bool names_sections;  /* also of the last section a zone tells that it is on it */
    bool failed;          /* memory ran out */
};

/* writer.c */

/* Opens the catalogue. ER_OK or ER_NO_MEMORY; the writer is released either way. */
enum er_status er_writer_init(struct er_writer *writer, enum er_system system);
void er_writer_release(struct er_writer *writer);

/* Memory of the writer's, all zero; NULL, with `failed` set, if there is none. */
void *er_writer_array(struct er_writer *writer, size_t count, size_t size);

/* Whether the field was read with this default put in. `of` is the tape or pipe, or NULL. */
bool er_writer_assumed(const struct er_writer *writer, const struct er_key *key, const void *of);

/* The share by which a short number may miss what it is read into: in the field's own units none,
 * since there a number that was given is found again; in the others the error of a conversion. */
double er_writer_slack(const struct er_writer *writer);

/* The number of a file that `key` reads into `value`; of a list of points, their values with
 * the second quantity and any range. */
double er_writer_quantity(const struct er_writer *writer, enum er_quantity quantity,
                          const struct er_key_range *range, double value);
double er_writer_percent(const struct er_key_range *range, double value);

/* keys_parts.c: the price per unit of length that a file gives for money per m; NAN for NAN. */
double er_writer_length_price(const struct er_writer *writer, double price);

/* A number in a document's tree, where valueint is the document's own. */
void er_write_number(struct er_writer *writer, cJSON *parent, const char *key, double number);

/* write_object.c */

/* Writes what was kept of an object, the `index`-th of its list, as members of `node`. */
void er_write_object(struct er_writer *writer, const struct er_object *object, const void *kept,
                     size_t index, cJSON *node);

/* The writer's field as an entry: what er_write_field_key takes. NULL if memory ran out. */
const struct er_field_entry *er_writer_field_entry(struct er_writer *writer);

/* Writes one key of the whole file. */
void er_write_field_key(struct er_writer *writer, const struct er_field_entry *entry,
                        const char *key, cJSON *node);

/* Whether two entries of an object, of which `size` bytes are there, hold the same. */
bool er_entries_agree(const struct er_object *object, const void *one, const void *other,
                      size_t size);

/* keys_field.c: whether two zones have the same water. */
bool er_water_agrees(struct er_writer *writer, const struct er_water *one,
                     const struct er_water *other);

/* write_names.c */

/* Takes down a name that the file has already. */
void er_writer_know(struct er_writer *writer, struct er_definitions *definitions, const char *name,
                    const void *item);

/* The name by which the file may call a pipe, which is defined if need be; NULL: none, it must
 * be written in place. */
const char *er_writer_pipe_name(struct er_writer *writer, const struct er_pipe *pipe);

/* The same for a tape, which always gets a name; NULL only if memory ran out. */
const char *er_writer_tape_name(struct er_writer *writer, const struct er_tape *tape);

/* Puts every new definition into the "pipes" and "tapes" of the file. Each gets `mark` as its
 * valueint. */
void er_write_definitions(struct er_writer *writer, cJSON *root, int mark);

#endif
