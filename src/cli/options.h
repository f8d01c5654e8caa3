/* The options of the command line. Each command lists its own (struct er_command): parsing, help,
 * manual and completions follow from that. */
#ifndef ER_CLI_OPTIONS_H
#define ER_CLI_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/arena.h"

enum er_option_id {
    ER_OPTION_FORMAT,
    ER_OPTION_HANDS,
    ER_OPTION_OUTPUT,
    ER_OPTION_FORCE,
    ER_OPTION_SET,
    ER_OPTION_PATCH,
    ER_OPTION_UNITS,
    ER_OPTION_STRICT,
    ER_OPTION_QUIET,
    ER_OPTION_TITLE,
    ER_OPTION_BEDS,
    ER_OPTION_LENGTH,
    ER_OPTION_SPACING,
    ER_OPTION_BED_WIDTH,
    ER_OPTION_SLOPE,
    ER_OPTION_TAPES,
    ER_OPTION_TAPE_FLOW,
    ER_OPTION_TAPE_PRESSURE,
    ER_OPTION_TAPE_DIAMETER,
    ER_OPTION_EMITTER_SPACING,
    ER_OPTION_BUCKET,
    ER_OPTION_SOURCE_FLOW,
    ER_OPTION_SOURCE_PRESSURE,
    ER_OPTION_POND,
    ER_OPTION_NEED,
    ER_OPTION_TAPE,
    ER_OPTION_EXPONENT,
    ER_OPTION_CV,
    ER_OPTION_PLANT_SPACING,
    ER_OPTION_INLETS,
    ER_OPTION_SLOPES,
    ER_OPTION_UNIFORMITY,
    ER_OPTION_FLOW_VARIATION,
    ER_OPTION_LONGEST,
    ER_OPTION_ZONES,
    ER_OPTION_HOURS,
    ER_OPTION_FLOW,
    ER_OPTION_PIPE,
    ER_OPTION_FEED,
    ER_OPTION_PIPES,
    ER_OPTION_FEEDS,
    ER_OPTION_PICK,
    ER_OPTION_THREADS,
    ER_OPTION_INLET,
    ER_OPTION_EFFICIENCY,
    ER_OPTION_WASTE,
    ER_OPTION_EXPLAIN,
    ER_OPTION_PLOT,
    ER_OPTION_FORM,
    ER_OPTION_ZONE,
    ER_OPTION_WITHIN,
    ER_OPTION_WHAT,
    ER_OPTION_HELP,
    ER_OPTION_VERSION,
    ER_OPTION_COUNT
};

struct er_option {
    enum er_option_id id;
    const char *name;  /* without the dashes; NULL ends a command's list */
    char letter;       /* its short form, or 0 */
    const char *value; /* what its value is, in capitals, or the choices "us|metric";
                          NULL: it takes none */
    const char *help;
    const char *defaults[2]; /* by enum er_system: what stands for a value that is not given;
                                NULL: nothing does */
    const char *only;        /* it goes with reports for people: "--explain is text, not json" */
};

/* A row of a command's list: an option that takes a value, one that takes none, what stands for a
 * value that is not given. Behind its help there may be further members. */
#define ER_VALUE(is, called, takes, ...)                                                           \
    {                                                                                              \
        .id = (is), .name = (called), .value = (takes), .help = __VA_ARGS__                        \
    }
#define ER_SWITCH(is, called, ...)                                                                 \
    {                                                                                              \
        .id = (is), .name = (called), .help = __VA_ARGS__                                          \
    }
#define ER_USUAL(us, metric) .defaults = {(us), (metric)}

/* One option as it was given. */
struct er_option_use {
    const struct er_option *option;
    const char *value; /* NULL where it takes none */
};

struct er_command;

/* A command line that has been understood. Its texts are the program's arguments. */
struct er_command_line {
    struct er_arena arena;
    const struct er_command *command;
    size_t use_count;
    struct er_option_use *uses;                 /* in the order given */
    struct er_option_use last[ER_OPTION_COUNT]; /* of each option; its `option` NULL: not given */
    size_t operand_count;
    const char **operands;
};

/* Reads the arguments behind the command's name. 0, or an exit status after a message. With
 * --help it stops there; er_option_given tells. The caller releases line->arena in any case. */
int er_options_parse(const struct er_command *command, int argument_count,
                     const char *const *arguments, struct er_command_line *line);

bool er_option_given(const struct er_command_line *line, enum er_option_id id);

/* The value of the last use of an option, or NULL if it was not given. */
const char *er_option_value(const struct er_command_line *line, enum er_option_id id);

/* The command's own option of that kind. */
const struct er_option *er_option_of(const struct er_command_line *line, enum er_option_id id);

#endif
