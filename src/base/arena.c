/* Memory in blocks that double in size up to a limit, all freed together. */
#include "evenrow/arena.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/c_locale.h"

/* A block is one allocation: this head, then the pieces. */
struct er_arena_block {
    struct er_arena_block *older;
    size_t used, room; /* bytes after the head */
};

#define ALIGNMENT _Alignof(max_align_t)
#define FIRST_ROOM ((size_t)1024)
#define MOST_ROOM ((size_t)256 * 1024) /* blocks double up to here; a larger piece gets its own */

static size_t aligned(size_t size) { return (size + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT; }

#define HEAD_SIZE aligned(sizeof(struct er_arena_block))

/* Puts a new block with room for `size` bytes in front. */
static struct er_arena_block *add_block(struct er_arena *arena, size_t size)
{
    size_t room = arena->newest == NULL ? FIRST_ROOM : 2 * arena->newest->room;
    if (room > MOST_ROOM) {
        room = MOST_ROOM;
    }
    if (room < size) {
        room = size;
    }
    struct er_arena_block *block = calloc(1, HEAD_SIZE + room);
    if (block == NULL) {
        return NULL;
    }
    block->older = arena->newest;
    block->room = room;
    arena->newest = block;
    return block;
}

void *er_arena_array(struct er_arena *arena, size_t count, size_t size)
{
    const size_t largest = SIZE_MAX / 2 - HEAD_SIZE - ALIGNMENT;
    if (size > 0 && count > largest / size) {
        return NULL;
    }
    size_t wanted = aligned(count * size > 0 ? count * size : 1);
    struct er_arena_block *block = arena->newest;
    if (block == NULL || block->room - block->used < wanted) {
        block = add_block(arena, wanted);
        if (block == NULL) {
            return NULL;
        }
    }
    void *piece = (char *)block + HEAD_SIZE + block->used;
    block->used += wanted;
    return piece;
}

char *er_arena_text(struct er_arena *arena, const char *text)
{
    size_t size = strlen(text) + 1;
    char *copy = er_arena_array(arena, size, 1);
    if (copy != NULL) {
        memcpy(copy, text, size);
    }
    return copy;
}

char *er_arena_format(struct er_arena *arena, const char *format, ...)
{
    va_list arguments, again;
    va_start(arguments, format);
    va_copy(again, arguments);
    char *text = NULL;
    int length = er_c_vsnprintf(NULL, 0, format, arguments);
    if (length >= 0) {
        text = er_arena_array(arena, (size_t)length + 1, 1);
    }
    if (text != NULL && er_c_vsnprintf(text, (size_t)length + 1, format, again) != length) {
        text = NULL;
    }
    va_end(again);
    va_end(arguments);
    return text;
}

void er_arena_release(struct er_arena *arena)
{
    struct er_arena_block *block = arena->newest;
    while (block != NULL) {
        struct er_arena_block *older = block->older;
        free(block);
        block = older;
    }
    arena->newest = NULL;
}
