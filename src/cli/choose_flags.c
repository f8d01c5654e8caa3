/* The lists and spans in the flags of 'choose', made into the designs to try. */
#define _POSIX_C_SOURCE 200809L /* fnmatch, sysconf */
#include <fnmatch.h>
#include <math.h>
#include <string.h>
#include <unistd.h>

#include "base/nearest.h"
#include "cli/choose.h"
#include "cli/flags.h"
#include "cli/message.h"
#include "evenrow/divide.h"

#define MOST_THREADS 256.0

/* What is read, and into what. */
struct reading {
    struct er_flags flags;
    const struct er_field *field;
    struct er_choices *choices;
    bool out_of_memory;
};

/* A list of names or numbers, cut at its commas. */
struct words {
    size_t count;
    char **list;
};

static struct words cut_words(struct reading *reading, const char *text)
{
    struct words words = {0};
    size_t commas = 0;
    for (const char *at = text; *at != '\0'; at++) {
        commas += *at == ',';
    }
    char *copy = er_arena_text(&reading->choices->arena, text);
    words.list = er_arena_array(&reading->choices->arena, commas + 1, sizeof *words.list);
    if (copy == NULL || words.list == NULL) {
        reading->out_of_memory = true;
        return words;
    }
    while (copy != NULL) {
        char *comma = strchr(copy, ',');
        words.list[words.count++] = copy;
        if (comma != NULL) {
            *comma++ = '\0';
        }
        copy = comma;
    }
    return words;
}

/* The names of what may be taken, and what of it is. */
struct names {
    size_t count;
    const char **list;
    bool *taken;
};

static struct names make_names(struct reading *reading, size_t room)
{
    struct names names = {0};
    names.list = er_arena_array(&reading->choices->arena, room, sizeof *names.list);
    names.taken = er_arena_array(&reading->choices->arena, room, sizeof *names.taken);
    reading->out_of_memory = reading->out_of_memory || names.list == NULL || names.taken == NULL;
    return names;
}

/* Adds a name; false where it is there already: the field's own come before the catalogue's. */
static bool add_name(struct names *names, const char *name)
{
    for (size_t i = 0; i < names->count; i++) {
        if (strcmp(names->list[i], name) == 0) {
            return false;
        }
    }
    names->list[names->count++] = name;
    return true;
}

static void tell_unknown(struct reading *reading, const char *flag, const char *word,
                         const struct names *names)
{
    struct er_nearest nearest;
    er_nearest_begin(&nearest, word);
    for (size_t i = 0; i < names->count; i++) {
        er_nearest_offer(&nearest, names->list[i]);
    }
    if (nearest.best != NULL) {
        er_message_append(&reading->flags.faults,
                          "--%s: neither the field file nor the catalogue has '%s'; did you mean "
                          "'%s'?",
                          flag, word, nearest.best);
    } else {
        er_message_append(&reading->flags.faults,
                          "--%s: neither the field file nor the catalogue has '%s'; 'evenrow "
                          "catalog %s' lists what there is",
                          flag, word, flag);
    }
}

/* Marks what the option's words name. Without the option nothing. */
static void take_named(struct reading *reading, enum er_option_id id, struct names *names)
{
    const char *text = er_flag_text(&reading->flags, id);
    if (text == NULL || reading->out_of_memory) {
        return;
    }
    struct words words = cut_words(reading, text);
    for (size_t w = 0; w < words.count; w++) {
        bool found = false;
        for (size_t i = 0; i < names->count; i++) {
            bool match = fnmatch(words.list[w], names->list[i], 0) == 0;
            names->taken[i] = names->taken[i] || match;
            found = found || match;
        }
        if (!found) {
            tell_unknown(reading, er_option_of(reading->flags.line, id)->name, words.list[w],
                         names);
        }
    }
}

static void read_tapes(struct reading *reading)
{
    const struct er_field *field = reading->field;
    const struct er_catalogue *catalogue = &reading->choices->catalogue;
    size_t room = field->own_tape_count + catalogue->tape_count;
    const struct er_tape **tapes = er_arena_array(&reading->choices->arena, room, sizeof *tapes);
    struct names names = make_names(reading, room);
    bool all = !er_option_given(reading->flags.line, ER_OPTION_TAPES);
    reading->out_of_memory = reading->out_of_memory || tapes == NULL;
    if (reading->out_of_memory) {
        return;
    }
    for (size_t t = 0; t < room; t++) {
        bool own = t < field->own_tape_count;
        const struct er_tape *tape =
            own ? &field->own_tapes[t] : &catalogue->tapes[t - field->own_tape_count].tape;
        if (add_name(&names, tape->name)) {
            tapes[names.count - 1] = tape;
            names.taken[names.count - 1] = all && (own || er_choose_tries_tape(field, tape));
        }
    }
    take_named(reading, ER_OPTION_TAPES, &names);
    struct er_choose_ask *ask = &reading->choices->ask;
    ask->tapes = tapes;
    for (size_t t = 0; t < names.count; t++) {
        if (names.taken[t]) {
            tapes[ask->tape_count++] = tapes[t];
        }
    }
}

static void read_pipes(struct reading *reading)
{
    const struct er_field *field = reading->field;
    const struct er_catalogue *catalogue = &reading->choices->catalogue;
    size_t room = field->own_pipe_count + catalogue->pipe_count;
    const struct er_pipe **pipes = er_arena_array(&reading->choices->arena, room, sizeof *pipes);
    struct names names = make_names(reading, room);
    bool all = !er_option_given(reading->flags.line, ER_OPTION_PIPES);
    reading->out_of_memory = reading->out_of_memory || pipes == NULL;
    if (reading->out_of_memory) {
        return;
    }
    for (size_t p = 0; p < room; p++) {
        const struct er_pipe *pipe = p < field->own_pipe_count
                                         ? &field->own_pipes[p]
                                         : &catalogue->pipes[p - field->own_pipe_count].pipe;
        if (add_name(&names, pipe->name)) {
            pipes[names.count - 1] = pipe;
            names.taken[names.count - 1] = all;
        }
    }
    take_named(reading, ER_OPTION_PIPES, &names);
    struct er_choose_ask *ask = &reading->choices->ask;
    ask->pipes = pipes;
    for (size_t p = 0; p < names.count; p++) {
        if (names.taken[p]) {
            pipes[ask->pipe_count++] = pipes[p];
        }
    }
}

static void read_feeds(struct reading *reading)
{
    static const char *const names[] = {
        [ER_FEED_FIRST] = "first", [ER_FEED_LAST] = "last", [ER_FEED_MIDDLE] = "middle"};
    struct er_choose_ask *ask = &reading->choices->ask;
    struct words words = cut_words(reading, er_flag_text(&reading->flags, ER_OPTION_FEEDS));
    enum er_feed *feeds = er_arena_array(&reading->choices->arena, words.count, sizeof *feeds);
    reading->out_of_memory = reading->out_of_memory || feeds == NULL;
    ask->feeds = feeds;
    for (size_t w = 0; feeds != NULL && w < words.count; w++) {
        size_t feed = 0;
        while (feed <= ER_FEED_MIDDLE && strcmp(words.list[w], names[feed]) != 0) {
            feed++;
        }
        if (feed > ER_FEED_MIDDLE) {
            er_message_append(&reading->flags.faults,
                              "--feeds: '%s' is not one of first, middle and last", words.list[w]);
            continue;
        }
        bool twice = false;
        for (size_t f = 0; f < ask->feed_count; f++) {
            twice = twice || feeds[f] == (enum er_feed)feed;
        }
        if (!twice) {
            feeds[ask->feed_count++] = (enum er_feed)feed;
        }
    }
}

/* The two numbers of a word like "3" or "1-6"; false if it is no such. */
static bool read_span(char *word, size_t *from, size_t *to)
{
    char *dash = strchr(word, '-');
    double low, high;
    if (dash != NULL) {
        *dash = '\0';
    }
    bool good = er_flag_bare_number(word, &low) &&
                er_flag_bare_number(dash != NULL ? dash + 1 : word, &high);
    if (dash != NULL) {
        *dash = '-';
    }
    if (!good || !(low >= 1.0 && high >= low && high <= 1e9) || low != floor(low) ||
        high != floor(high)) {
        return false;
    }
    *from = (size_t)low;
    *to = (size_t)high;
    return true;
}

/* Marks the numbers of zones that the option names; wanted[n] is for n zones. */
static void mark_divisions(struct reading *reading, const char *text, size_t least, size_t most,
                           bool *wanted)
{
    struct words words = cut_words(reading, text);
    for (size_t w = 0; w < words.count; w++) {
        size_t from = 0, to = 0;
        if (!read_span(words.list[w], &from, &to)) {
            er_message_append(&reading->flags.faults,
                              "--zones: '%s' is no whole number, nor two with a dash between "
                              "them, as in 2-5",
                              words.list[w]);
        } else if (from < least || to > most) {
            er_message_append(&reading->flags.faults,
                              "--zones: '%s': there can be from %zu zones, which the field has, "
                              "to %zu, one for each bed",
                              words.list[w], least, most);
        } else {
            for (size_t n = from; n <= to; n++) {
                wanted[n] = true;
            }
        }
    }
}

static void read_divisions(struct reading *reading)
{
    struct er_choose_ask *ask = &reading->choices->ask;
    const char *text = er_flag_text(&reading->flags, ER_OPTION_ZONES);
    size_t least = reading->field->zone_count, most = 0;
    for (size_t z = 0; z < least; z++) {
        most += er_zone_beds(&reading->field->zones[z]);
    }
    bool *wanted = er_arena_array(&reading->choices->arena, most + 1, sizeof *wanted);
    size_t *divisions = er_arena_array(&reading->choices->arena, most + 1, sizeof *divisions);
    if (wanted == NULL || divisions == NULL) {
        reading->out_of_memory = true;
        return;
    }
    if (text != NULL) {
        mark_divisions(reading, text, least, most, wanted);
    }
    ask->divisions = divisions;
    for (size_t n = least; n <= most; n++) {
        if (text != NULL ? wanted[n] : n <= er_choose_tries_zones(reading->field)) {
            divisions[ask->division_count++] = n;
        }
    }
}

static void read_threads(struct reading *reading)
{
    size_t threads = er_flag_count(&reading->flags, ER_OPTION_THREADS, MOST_THREADS);
    if (threads == 0) {
        long processors = sysconf(_SC_NPROCESSORS_ONLN);
        threads = processors > 1 ? (size_t)processors : 1;
    }
    reading->choices->ask.threads = threads < (size_t)MOST_THREADS ? threads : (size_t)MOST_THREADS;
}

/* --pick without -o would do nothing. */
static void check_pick(struct reading *reading)
{
    const struct er_command_line *line = reading->flags.line;
    reading->choices->pick = er_flag_count(&reading->flags, ER_OPTION_PICK, ER_CHOICE_BEST);
    if (er_option_given(line, ER_OPTION_PICK) && !er_option_given(line, ER_OPTION_OUTPUT)) {
        er_message_append(&reading->flags.faults,
                          "--pick says which design -o writes; give -o FILE too");
    }
}

int er_choices_read(const struct er_command_line *line, const struct er_field *field,
                    struct er_choices *choices)
{
    struct reading reading = {.field = field, .choices = choices};
    if (er_catalogue_open(&choices->catalogue) != ER_OK) {
        return er_message_no_memory();
    }
    choices->catalogue_open = true;
    choices->ask.field = field;
    er_flags_begin(&reading.flags, line, field->system);
    read_tapes(&reading);
    read_pipes(&reading);
    read_feeds(&reading);
    read_divisions(&reading);
    read_threads(&reading);
    choices->ask.list = &choices->catalogue.prices;
    choices->ask.waste =
        er_flag_number(&reading.flags, ER_OPTION_WASTE, "percent", 0.0, 100.0) / 100.0;
    check_pick(&reading);
    reading.flags.faults.out_of_memory =
        reading.flags.faults.out_of_memory || reading.out_of_memory;
    return er_flags_end(&reading.flags);
}

void er_choices_release(struct er_choices *choices)
{
    if (choices->catalogue_open) {
        er_catalogue_release(&choices->catalogue);
    }
    er_arena_release(&choices->arena);
    memset(choices, 0, sizeof *choices);
}
