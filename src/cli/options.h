/* The options of the command line. One table (options.c) drives parsing and help. */
#ifndef ER_CLI_OPTIONS_H
#define ER_CLI_OPTIONS_H

#include <stdbool.h>
#include <stddef.h>

#include "evenrow/arena.h"

/* Which commands an option is for. */
enum {
    ER_FOR_CHECK = 1U << 0,
    ER_FOR_START = 1U << 1,
    ER_FOR_CATALOG = 1U << 2,
    ER_FOR_SCHEMA = 1U << 3,
    ER_FOR_REACH = 1U << 4,
    ER_FOR_SPLIT = 1U << 5,
    ER_FOR_CHOOSE = 1U << 6,
    ER_FOR_SUPPLY = 1U << 7,
    ER_FOR_SEASON = 1U << 8,
    ER_FOR_INJECT = 1U << 9,
    ER_FOR_BUY = 1U << 10,
    ER_FOR_VISIT = 1U << 11,
    ER_FOR_CARD = 1U << 12,
    ER_FOR_DRAW = 1U << 13,
    ER_FOR_COMPARE = 1U << 14,
    ER_FOR_ALL = (1U << 15) - 1U,
    /* Commands that read a field file, and those of them that write one with -o. */
    ER_FOR_NEW_FIELDS = ER_FOR_SPLIT | ER_FOR_CHOOSE | ER_FOR_SUPPLY,
    ER_FOR_FIELDS = ER_FOR_CHECK | ER_FOR_REACH | ER_FOR_NEW_FIELDS | ER_FOR_SEASON |
                    ER_FOR_INJECT | ER_FOR_BUY | ER_FOR_VISIT | ER_FOR_CARD | ER_FOR_DRAW |
                    ER_FOR_COMPARE
};

enum er_option_id {
    ER_OPTION_FORMAT,
    ER_OPTION_CARD_FORMAT,
    ER_OPTION_HANDS,
    ER_OPTION_OUTPUT,
    ER_OPTION_OUTPUT_FIELD, /* beside the report on standard output */
    ER_OPTION_FORCE,
    ER_OPTION_SET,
    ER_OPTION_PATCH,
    ER_OPTION_VARIANT,   /* a patch that makes a plan of its own */
    ER_OPTION_UNITS,     /* of a report on a field */
    ER_OPTION_NEW_UNITS, /* of what has no field to take them from */
    ER_OPTION_STRICT,
    ER_OPTION_QUIET,  /* the verdict alone */
    ER_OPTION_SILENT, /* no remarks */
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
    ER_OPTION_FLOW_LIMIT,
    ER_OPTION_PIPE,
    ER_OPTION_FEED,
    ER_OPTION_TAPE_LIST,
    ER_OPTION_PIPE_LIST,
    ER_OPTION_FEED_LIST,
    ER_OPTION_ZONE_LIST,
    ER_OPTION_PICK,
    ER_OPTION_THREADS,
    ER_OPTION_INLET,
    ER_OPTION_PUMP_EFFICIENCY,
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
    const char *name;  /* without the dashes */
    char letter;       /* its short form, or 0 */
    const char *value; /* what its value is, in capitals, or the choices "us|metric";
                          NULL: it takes none */
    unsigned commands; /* ER_FOR_... */
    const char *help;
    const char *defaults[2]; /* by enum er_system: what stands for a value that is not given;
                                NULL: nothing does */
};

/* The table, in the order of help; `id` is its index. A name may stand twice, for different
 * commands. */
const struct er_option *er_options(void);

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
    struct er_option_use *uses; /* in the order given */
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

#endif
