/* Memory that is freed all at once.
 *
 * Everything that belongs to one field, or to one result, lives in one arena;
 * releasing the arena frees all of it. Pieces are never freed singly. */
#ifndef EVENROW_ARENA_H
#define EVENROW_ARENA_H

#include <stddef.h>

#ifdef __cplusplus
extern "C" {
#endif

struct er_arena_block;

struct er_arena {
    struct er_arena_block *newest; /* NULL: empty; an arena set to all zeros is ready for use */
};

/* `count` objects of `size` bytes each, all zero and aligned for any type.
 * Returns NULL if memory ran out or if count x size does not fit a size_t.
 * A count of 0 gives a valid pointer to nothing. */
void *er_arena_array(struct er_arena *arena, size_t count, size_t size);

/* A copy of `text`, or NULL if memory ran out. */
char *er_arena_text(struct er_arena *arena, const char *text);

/* A text made as printf makes it, or NULL if memory ran out. */
char *er_arena_format(struct er_arena *arena, const char *format, ...)
#if defined(__GNUC__)
    __attribute__((format(printf, 2, 3)))
#endif
    ;

/* Frees every piece and leaves the arena empty. Safe on an empty arena. */
void er_arena_release(struct er_arena *arena);

#ifdef __cplusplus
}
#endif

#endif
