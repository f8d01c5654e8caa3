/* The built-in price list: a file's "prices", and besides what things of any other size cost. */
#include <string.h>

#include "evenrow/bill.h"
#include "field/entries.h"
#include "field/reader.h"

#define SIZE(member) offsetof(struct er_size_price, member)

/* Of pipes and of tapes: the width, and then each its own two keys. */
static const struct er_key size_keys[] = {
    ER_QUANTITY_KEY("up_to", SIZE(up_to), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "widest inside diameter that it is for", .presence = ER_REQUIRED),
};

static const struct er_object size_object = {
    .name = "a size",
    .about = "a size of pipe or tape",
    ER_KEYS(size_keys),
    .entry_size = sizeof(struct er_size_price),
    .kept_size = sizeof(struct er_size_price),
};

static const struct er_key pipe_size_keys[] = {
    ER_NUMBER_KEY("price", SIZE(price), ER_ABOVE_ZERO, "money per unit of length",
                  .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("length", SIZE(length), ER_LENGTH, ER_ABOVE_ZERO, "length of one piece",
                    .presence = ER_REQUIRED),
};

static void finish_pipe_size(struct er_reader *reader, const struct er_place *place, void *entry,
                             const void *kept)
{
    (void)place;
    (void)kept;
    struct er_size_price *size = entry;
    size->price = er_length_price(reader->system, size->price);
    size->short_price = size->short_length = ER_NONE;
}

static const struct er_object pipe_size_object = {
    .name = "a size of pipe",
    .about = "pipes that the list has not by name",
    .base = &size_object,
    ER_KEYS(pipe_size_keys),
    .entry_size = sizeof(struct er_size_price),
    .kept_size = sizeof(struct er_size_price),
    .finish = finish_pipe_size,
};

static const struct er_key tape_size_keys[] = {
    ER_NUMBER_KEY("roll_price", SIZE(price), ER_ABOVE_ZERO, "money for one roll",
                  .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("roll_length", SIZE(length), ER_LENGTH, ER_ABOVE_ZERO,
                    "length of tape on one roll", .presence = ER_REQUIRED),
    ER_NUMBER_KEY("short_roll_price", SIZE(short_price), ER_ABOVE_ZERO,
                  "money for the shortest roll that is sold", .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("short_roll_length", SIZE(short_length), ER_LENGTH, ER_ABOVE_ZERO,
                    "length of tape on it", .presence = ER_REQUIRED),
};

static const struct er_object tape_size_object = {
    .name = "a size of tape",
    .about = "tapes that the list has not by name",
    .base = &size_object,
    ER_KEYS(tape_size_keys),
    .entry_size = sizeof(struct er_size_price),
    .kept_size = sizeof(struct er_size_price),
};

#define IN_PRICES(member) offsetof(struct er_placeholders_entry, prices.member)

static const struct er_key placeholder_keys[] = {
    ER_MAP_KEY("pipe_sizes", IN_PRICES(pipe_sizes), IN_PRICES(pipe_size_count), &pipe_size_object,
               "all other pipes, from the narrowest to the widest", .presence = ER_REQUIRED),
    ER_MAP_KEY("tape_sizes", IN_PRICES(tape_sizes), IN_PRICES(tape_size_count), &tape_size_object,
               "all tapes, from the narrowest to the widest", .presence = ER_REQUIRED),
    ER_TEXT_KEY("source", offsetof(struct er_placeholders_entry, source),
                "where the figures come from", .presence = ER_REQUIRED),
};

const struct er_object er_placeholders_object = {
    .name = "the placeholders",
    .about = "prices that stand in for what the file does not price",
    .base = &er_prices_object,
    ER_KEYS(placeholder_keys),
    .entry_size = sizeof(struct er_placeholders_entry),
    .kept_size = sizeof(struct er_placeholders_entry),
};

/* The copies are the reader's, as the catalogue does not outlive the reading. */
static const struct er_pipe_price *copy_pipes(struct er_reader *reader,
                                              const struct er_prices *prices)
{
    struct er_pipe_price *pipes = er_reader_array(reader, prices->pipe_count, sizeof *pipes);
    for (size_t i = 0; pipes != NULL && i < prices->pipe_count; i++) {
        pipes[i] = prices->pipes[i];
        pipes[i].name = er_reader_text(reader, pipes[i].name);
    }
    return pipes;
}

static const struct er_size_price *copy_sizes(struct er_reader *reader,
                                              const struct er_size_price *from, size_t count)
{
    struct er_size_price *sizes = er_reader_array(reader, count, sizeof *sizes);
    for (size_t i = 0; sizes != NULL && i < count; i++) {
        sizes[i] = from[i];
        sizes[i].name = er_reader_text(reader, sizes[i].name);
    }
    return sizes;
}

const struct er_prices *er_reader_placeholders(struct er_reader *reader)
{
    const struct er_catalogue *catalogue = er_reader_catalogue(reader);
    struct er_prices *prices = er_reader_array(reader, 1, sizeof *prices);
    if (catalogue == NULL || prices == NULL) {
        return NULL;
    }
    *prices = catalogue->prices;
    prices->pipes = copy_pipes(reader, prices);
    prices->pipe_sizes = copy_sizes(reader, prices->pipe_sizes, prices->pipe_size_count);
    prices->tape_sizes = copy_sizes(reader, prices->tape_sizes, prices->tape_size_count);
    return prices;
}

/* What the list is put together with. */
struct listing {
    struct er_reader *reader;
    struct er_placeholder *list;
    size_t count;
    const char *source;
};

/* One more line, with nothing in it but what it is. */
static struct er_placeholder *add(struct listing *listing, const char *name, const char *about)
{
    struct er_placeholder *line = &listing->list[listing->count++];
    *line = (struct er_placeholder){.name = name,
                                    .about = about,
                                    .each = (double)NAN,
                                    .per_length = (double)NAN,
                                    .length = (double)NAN,
                                    .source = listing->source};
    return line;
}

static void add_length(struct er_placeholder *line, double each, double length)
{
    line->each = each;
    line->length = length;
    line->per_length = each / length;
}

/* What a pipe of the catalogue is, in two words. */
static const char *about_pipe(struct er_reader *reader, const struct er_catalogue *catalogue,
                              const char *name)
{
    for (size_t i = 0; i < catalogue->pipe_count; i++) {
        if (strcmp(catalogue->pipes[i].pipe.name, name) == 0) {
            const char *about = er_arena_format(
                &reader->arena, "%s pipe",
                er_pipe_kind_name((enum er_pipe_kind)catalogue->pipes[i].pipe.kind));
            reader->out_of_memory = reader->out_of_memory || about == NULL;
            return about;
        }
    }
    return "pipe";
}

static void add_film(struct listing *listing, const struct er_film *film)
{
    const char *about = er_arena_format(&listing->reader->arena, "plastic film %g ft wide, %g mil",
                                        film->width / er_to_si(ER_LENGTH, ER_US, 1.0),
                                        film->thickness / er_to_si(ER_SMALL_LENGTH, ER_US, 0.001));
    listing->reader->out_of_memory = listing->reader->out_of_memory || about == NULL;
    add_length(add(listing, "film", about), film->roll_price, film->roll_length);
}

static void add_sizes(struct listing *listing, const struct er_size_price *sizes, size_t count,
                      bool by_the_roll)
{
    for (size_t i = 0; i < count; i++) {
        const struct er_size_price *size = &sizes[i];
        const char *about =
            by_the_roll ? "any tape, by inside diameter" : "other pipe, by inside diameter";
        add_length(add(listing, size->name, about),
                   by_the_roll ? size->price : size->price * size->length, size->length);
        if (by_the_roll) {
            add_length(add(listing, size->name, "the same, the shortest roll"), size->short_price,
                       size->short_length);
        }
    }
}

void er_catalogue_list_prices(struct er_reader *reader, struct er_catalogue *catalogue,
                              const char *source)
{
    const struct er_prices *prices = &catalogue->prices;
    const size_t room = ER_GOOD_COUNT + 1 + prices->pipe_count + prices->pipe_size_count +
                        2 * prices->tape_size_count;
    struct listing listing = {.reader = reader, .source = source};
    listing.list = er_reader_array(reader, room, sizeof *listing.list);
    if (listing.list == NULL) {
        return;
    }
    add_sizes(&listing, prices->tape_sizes, prices->tape_size_count, true);
    for (size_t i = 0; i < ER_GOOD_COUNT; i++) {
        const enum er_good good = (enum er_good)i;
        add(&listing, er_good_key(good), er_good_about(good))->each = prices->each[i];
    }
    add_film(&listing, &prices->film);
    for (size_t i = 0; i < prices->pipe_count; i++) {
        const struct er_pipe_price *pipe = &prices->pipes[i];
        add_length(add(&listing, pipe->name, about_pipe(reader, catalogue, pipe->name)),
                   pipe->price * pipe->length, pipe->length);
    }
    add_sizes(&listing, prices->pipe_sizes, prices->pipe_size_count, false);
    catalogue->placeholders = listing.list;
    catalogue->placeholder_count = listing.count;
}
