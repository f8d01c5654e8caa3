/* Prices: of pipes and tapes by name, of film, and of the goods bought by the piece. */
#include <string.h>

#include "bill/goods.h"
#include "field/entries.h"
#include "field/writer.h"

/* Amounts are shown with it, also in tables. */
#define LONGEST_CURRENCY 8

#define IN_PIPE_PRICE(member) offsetof(struct er_pipe_price, member)

static const struct er_key pipe_price_keys[] = {
    ER_NUMBER_KEY("price", IN_PIPE_PRICE(price), ER_FROM_ZERO,
                  "money per ft (us) or per m (metric)"),
    ER_QUANTITY_KEY("length", IN_PIPE_PRICE(length), ER_LENGTH, ER_ABOVE_ZERO,
                    "length of one piece or coil"),
};

static void finish_pipe_price(struct er_reader *reader, const struct er_place *place, void *entry,
                              const void *kept)
{
    (void)kept;
    struct er_pipe_price *price = entry;
    price->price = er_length_price(reader->system, price->price);
    if (!reader->is_catalogue) {
        price->pipe = er_reader_pipe(reader, place, price->name);
    }
}

static void unfinish_pipe_price(struct er_writer *writer, void *entry, size_t index)
{
    (void)index;
    struct er_pipe_price *price = entry;
    price->price = er_writer_length_price(writer, price->price);
    price->name = price->pipe == NULL ? NULL : er_writer_pipe_name(writer, price->pipe);
}

static const struct er_stray_key pipe_price_stray[] = {
    {"inside_diameter", "what the pipe is belongs in \"pipes\" at the top"},
    {NULL, NULL},
};

static const struct er_object pipe_price_object = {
    .name = "the price of a pipe",
    .about = "what a pipe of the file or the catalogue costs",
    ER_KEYS(pipe_price_keys),
    .stray = pipe_price_stray,
    .entry_size = sizeof(struct er_pipe_price),
    .kept_size = sizeof(struct er_pipe_price),
    .finish = finish_pipe_price,
    .unfinish = unfinish_pipe_price,
};

#define IN_FILM(member) offsetof(struct er_film, member)

#define IN_TAPE_PRICE(member) offsetof(struct er_tape_price, member)

static const struct er_key tape_price_keys[] = {
    ER_NUMBER_KEY("roll_price", IN_TAPE_PRICE(roll_price), ER_FROM_ZERO, "money for one roll"),
    ER_QUANTITY_KEY("roll_length", IN_TAPE_PRICE(roll_length), ER_LENGTH, ER_ABOVE_ZERO,
                    "length of tape on one roll"),
};

static void finish_tape_price(struct er_reader *reader, const struct er_place *place, void *entry,
                              const void *kept)
{
    (void)kept;
    struct er_tape_price *price = entry;
    if (!reader->is_catalogue) {
        price->tape = er_reader_tape(reader, place, price->name);
    }
}

static void unfinish_tape_price(struct er_writer *writer, void *entry, size_t index)
{
    (void)index;
    struct er_tape_price *price = entry;
    price->name = price->tape == NULL ? NULL : er_writer_tape_name(writer, price->tape);
}

static const struct er_stray_key tape_price_stray[] = {
    {"price", "tape is priced by the roll: write \"roll_price\""},
    {"length", "write \"roll_length\""},
    {NULL, NULL},
};

static const struct er_object tape_price_object = {
    .name = "the price of a tape",
    .about = "what a tape of the file or the catalogue costs",
    ER_KEYS(tape_price_keys),
    .stray = tape_price_stray,
    .entry_size = sizeof(struct er_tape_price),
    .kept_size = sizeof(struct er_tape_price),
    .finish = finish_tape_price,
    .unfinish = unfinish_tape_price,
};

#define IN_FILM(member) offsetof(struct er_film, member)

static const struct er_key film_keys[] = {
    ER_NUMBER_KEY("roll_price", IN_FILM(roll_price), ER_FROM_ZERO, "money for one roll"),
    ER_QUANTITY_KEY("roll_length", IN_FILM(roll_length), ER_LENGTH, ER_ABOVE_ZERO,
                    "length of film on one roll"),
    ER_QUANTITY_KEY("width", IN_FILM(width), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "width of the film, its buried edges with it"),
    ER_QUANTITY_KEY("thickness", IN_FILM(thickness), ER_SMALL_LENGTH, ER_ABOVE_ZERO,
                    "thickness of the film"),
};

const struct er_object er_film_object = {
    .name = "the film",
    .about = "the plastic film that is on offer or on hand",
    ER_KEYS(film_keys),
    .entry_size = sizeof(struct er_film),
    .kept_size = sizeof(struct er_film),
};

#define IN_PRICES(member) offsetof(struct er_prices, member)
#define GOOD(good, key, what) ER_NUMBER_KEY(key, IN_PRICES(each[good]), ER_FROM_ZERO, what)

static const struct er_key prices_keys[] = {
    ER_EACH_GOOD(GOOD),
    ER_OBJECT_KEY("film", IN_PRICES(film), &er_film_object, "plastic film, by the roll"),
    ER_MAP_KEY("pipes", IN_PRICES(pipes), IN_PRICES(pipe_count), &pipe_price_object,
               "pipes of the file or the catalogue, by name"),
    ER_MAP_KEY("tapes", IN_PRICES(tapes), IN_PRICES(tape_count), &tape_price_object,
               "tapes of the file or the catalogue, by name"),
    ER_TEXT_KEY("currency", IN_PRICES(currency), "what amounts are shown in, such as \"USD\""),
};

_Static_assert(sizeof prices_keys / sizeof prices_keys[0] == ER_GOOD_COUNT + 4,
               "one line for each of the goods, and four besides");

static size_t count_characters(const char *text)
{
    size_t count = 0;
    for (; *text != '\0'; text++) {
        count += ((unsigned char)*text & 0xC0U) != 0x80U;
    }
    return count;
}

static void finish_prices(struct er_reader *reader, const struct er_place *place, void *entry,
                          const void *kept)
{
    (void)kept;
    struct er_prices *prices = entry;
    if (prices->currency != NULL && count_characters(prices->currency) > LONGEST_CURRENCY) {
        const struct er_place at = er_place_key(place, "currency");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "expected a short word or sign of %d characters at most, such as "
                          "\"USD\", found %s",
                          LONGEST_CURRENCY, er_found(reader, at.node));
    }
    if (!reader->is_catalogue) {
        prices->placeholders = er_reader_placeholders(reader);
    }
}

static const struct er_stray_key prices_stray[] = {
    {"pipe", "write \"pipes\": {NAME: {\"price\": ...}}"},
    {"tape", "write \"tapes\": {NAME: {\"roll_price\": ...}}"},
    {"plastic", "write \"film\""},
    {NULL, NULL},
};

const struct er_object er_prices_object = {
    .name = "the prices",
    .about = "prices; what has none here gets a placeholder from the built-in list, to be "
             "replaced by the dealer's quote",
    ER_KEYS(prices_keys),
    .stray = prices_stray,
    .entry_size = sizeof(struct er_prices),
    .kept_size = sizeof(struct er_prices),
    .finish = finish_prices,
};
