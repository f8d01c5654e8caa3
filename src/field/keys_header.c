/* A zone's header: the pipe across the beds' ends. */
#include "field/entries.h"
#include "field/writer.h"

#define IN_PIECE(member) offsetof(struct er_header_piece, member)

static const struct er_key piece_keys[] = {
    ER_PIPE_KEY("pipe", IN_PIECE(pipe), "the pipe of this part of the header",
                .presence = ER_REQUIRED),
    ER_QUANTITY_KEY("length", IN_PIECE(length), ER_LENGTH, ER_ABOVE_ZERO,
                    "its length, outward from the feed point; the last one goes on as far as "
                    "needed"),
};

static void finish_piece(struct er_reader *reader, const struct er_place *place, void *entry,
                         const void *kept)
{
    (void)kept;
    struct er_header_piece *piece = entry;
    if (place->node->next == NULL) {
        piece->length = (double)INFINITY;
    } else if (!er_place_has(place, "length")) {
        const struct er_place at = er_place_key(place, "length");
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "this section needs \"length\": only the last one may leave it out");
    }
}

static const struct er_object piece_object = {
    .name = "a header section",
    .about = "a part of the header of one pipe",
    ER_KEYS(piece_keys),
    .entry_size = sizeof(struct er_header_piece),
    .kept_size = sizeof(struct er_header_piece),
    .finish = finish_piece,
};

/* In the order of enum er_feed. */
static const char *const feeds[] = {"first", "last", "middle", NULL};

#define IN_HEADER(member) offsetof(struct er_header_entry, member)

static const struct er_key header_keys[] = {
    ER_PIPE_KEY("pipe", IN_HEADER(pipe), "the pipe, if it is the same all along"),
    ER_LIST_KEY("sections", IN_HEADER(header.pieces), IN_HEADER(header.piece_count), &piece_object,
                "pipes of different sizes, outward from the feed point, the same on both sides",
                .least = 1),
    ER_CHOICE_OR_QUANTITY_KEY("feed", IN_HEADER(feed), IN_HEADER(header.feed_distance), feeds,
                              ER_LENGTH, ER_FROM_ZERO,
                              "where the water enters: at the first bed, the last, half way "
                              "between them, or at that distance from the first",
                              .presence = ER_DEFAULTED),
    ER_PERCENT_KEY("slope", IN_HEADER(header.ground.slope), ER_FROM_TO(-100.0, 100.0),
                   "percent, rising from the first bed toward the last", ER_DEFAULT(0.0, 0.0)),
    ER_POINTS_KEY("profile", IN_HEADER(header.ground.points), IN_HEADER(header.ground.count),
                  ER_LENGTH, ER_LENGTH,
                  "ground along the header, [[distance from the first bed, elevation], ...]"),
    ER_QUANTITY_KEY("lead", IN_HEADER(header.lead), ER_LENGTH, ER_FROM_ZERO,
                    "length of pipe, of the first section's kind, from the join to the feed point",
                    ER_DEFAULT(0.0, 0.0)),
};

static const struct er_rule header_rules[] = {
    {.kind = ER_EXACTLY_ONE,
     .keys = {"pipe", "sections"},
     .why = "one pipe all along, or a list of sections"},
    {.kind = ER_AT_MOST_ONE, .keys = {"slope", "profile"}, .why = NULL},
};

void er_ground_complete(struct er_reader *reader, const struct er_place *object, const char *key,
                        struct er_ground *ground)
{
    if (ground->count == 0) {
        return;
    }
    if (ground->points[0].at > 0.0) {
        const struct er_place profile = er_place_key(object, key);
        const struct er_place at = {.parent = &profile, .node = profile.node->child};
        er_reader_problem(reader, &at, ER_AT_VALUE,
                          "a profile's first point must be at distance 0, found %s",
                          er_reader_figure(reader, ER_LENGTH, ground->points[0].at));
    }
}

static void finish_header(struct er_reader *reader, const struct er_place *place, void *entry,
                          const void *kept)
{
    (void)kept;
    struct er_header_entry *header_entry = entry;
    struct er_header *header = &header_entry->header;
    header->feed = (enum er_feed)header_entry->feed;
    er_ground_complete(reader, place, "profile", &header->ground);
    if (header_entry->pipe != NULL) {
        struct er_header_piece *piece = er_reader_array(reader, 1, sizeof *piece);
        if (piece != NULL) {
            *piece = (struct er_header_piece){header_entry->pipe, (double)INFINITY};
            header->pieces = piece;
            header->piece_count = 1;
        }
    }
}

void er_ground_forget_slope(struct er_ground *ground, double left_out)
{
    if (ground->count > 0) {
        ground->slope = left_out;
    }
}

static void unfinish_header(struct er_writer *writer, void *entry, size_t index)
{
    (void)writer;
    (void)index;
    struct er_header_entry *header_entry = entry;
    struct er_header *header = &header_entry->header;
    header_entry->feed = (int)header->feed;
    if (header->piece_count == 1) {
        header_entry->pipe = header->pieces[0].pipe;
        header->piece_count = 0;
    }
    er_ground_forget_slope(&header->ground, 0.0);
}

static const struct er_stray_key header_stray[] = {
    {"length", "the header is as long as its beds' spacings make it"},
    {"rise", "the rise to the feed point belongs in the zone"},
    {NULL, NULL},
};

const struct er_object er_header_object = {
    .name = "a header",
    .about = "the pipe across the beds' ends",
    ER_KEYS(header_keys),
    ER_RULES(header_rules),
    .stray = header_stray,
    .entry_size = sizeof(struct er_header_entry),
    .kept_size = sizeof(struct er_header),
    .finish = finish_header,
    .unfinish = unfinish_header,
};
