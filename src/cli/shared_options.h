/* Options that several commands have: each told once. */
#ifndef ER_CLI_SHARED_OPTIONS_H
#define ER_CLI_SHARED_OPTIONS_H

#include "cli/options.h"

#define ER_FORMAT_OPTION                                                                           \
    ER_VALUE(                                                                                      \
        ER_OPTION_FORMAT, "format", "text|html|json|csv",                                          \
        "How the result is written: text and html are for people, text without this; json and "    \
        "csv for programs.")

#define ER_OUTPUT_OPTION                                                                           \
    ER_VALUE(ER_OPTION_OUTPUT, "output", "FILE",                                                   \
             "Writes to FILE instead of standard output, whole or not at all. A file that is "     \
             "there already is kept.",                                                             \
             .letter = 'o')

#define ER_OUTPUT_FIELD_OPTION                                                                     \
    ER_VALUE(ER_OPTION_OUTPUT, "output", "FILE",                                                   \
             "Writes the new field file to FILE, whole or not at all; - writes it to standard "    \
             "output, without the report. A file that is there already is kept.",                  \
             .letter = 'o')

#define ER_FORCE_OPTION ER_SWITCH(ER_OPTION_FORCE, "force", "Lets -o replace a file.")

#define ER_SET_OPTION                                                                              \
    ER_VALUE(ER_OPTION_SET, "set", "POINTER=VALUE",                                                \
             "Changes the field before it is read: the place that the JSON Pointer names gets "    \
             "VALUE, as in --set /zones/0/beds/0/length=250. May be given again; --set and "       \
             "--patch work in the order given.")

#define ER_PATCH_OPTION                                                                            \
    ER_VALUE(ER_OPTION_PATCH, "patch", "FILE",                                                     \
             "Changes the field by a JSON Merge Patch before it is read. May be given again.")

#define ER_UNITS_OPTION                                                                            \
    ER_VALUE(ER_OPTION_UNITS, "units", "us|metric",                                                \
             "Units of the report; without this the field's own.")

#define ER_NEW_UNITS_OPTION                                                                        \
    ER_VALUE(ER_OPTION_UNITS, "units", "us|metric", "Units of what is written; without this us.")

/* Of commands that report on a field, and of those of them that write a new one. */
#define ER_CHANGE_OPTIONS ER_SET_OPTION, ER_PATCH_OPTION, ER_UNITS_OPTION
#define ER_REPORT_OPTIONS ER_FORMAT_OPTION, ER_OUTPUT_OPTION, ER_FORCE_OPTION, ER_CHANGE_OPTIONS
#define ER_NEW_FIELD_OPTIONS                                                                       \
    ER_FORMAT_OPTION, ER_OUTPUT_FIELD_OPTION, ER_FORCE_OPTION, ER_CHANGE_OPTIONS

#define ER_TAPE_OPTIONS                                                                            \
    ER_VALUE(ER_OPTION_TAPE_FLOW, "tape-flow", "FLOW", "Nominal flow of the tape.",                \
             ER_USUAL("0.45 gpm/100ft", "3.3 L/h/m")),                                             \
        ER_VALUE(ER_OPTION_TAPE_PRESSURE, "tape-pressure", "PRESSURE",                             \
                 "Pressure at which the tape gives that flow.", ER_USUAL("8 psi", "55 kPa")),      \
        ER_VALUE(ER_OPTION_TAPE_DIAMETER, "tape-diameter", "LENGTH",                               \
                 "Inside diameter of the tape.", ER_USUAL("5/8 in", "16 mm")),                     \
        ER_VALUE(ER_OPTION_EMITTER_SPACING, "emitter-spacing", "LENGTH",                           \
                 "From one emitter to the next.", ER_USUAL("12 in", "300 mm"))

#define ER_WASTE_OPTION                                                                            \
    ER_VALUE(                                                                                      \
        ER_OPTION_WASTE, "waste", "PERCENT",                                                       \
        "What is bought of tape, pipe and film beyond what the plan takes, for cuts and mishaps.", \
        ER_USUAL("5", "5"))

#define ER_EXPLAIN_OPTION                                                                          \
    ER_SWITCH(ER_OPTION_EXPLAIN, "explain",                                                        \
              "Shows the arithmetic: each formula with its source, the numbers put in, and what "  \
              "comes out.",                                                                        \
              .only = "text")

/* Of all commands, at the end. */
#define ER_LAST_OPTIONS                                                                            \
    ER_SWITCH(ER_OPTION_HELP, "help", "Shows this help.", .letter = 'h'),                          \
        ER_SWITCH(ER_OPTION_VERSION, "version", "Shows the version."),                             \
    {                                                                                              \
        .name = NULL                                                                               \
    }

#endif
