/* The pressures, slopes and limits of 'reach', from its flags or else from the field. */
#include <math.h>
#include <string.h>

#include "cli/load.h"
#include "cli/message.h"
#include "cli/reach.h"
#include "field/keys.h"

#define MOST_LISTED 50    /* inlets, and slopes */
#define MOST_EMITTERS 1e6 /* in a row */
#define DEFAULT_INLETS 5
#define OWN_SLOPES 2 /* of the field's beds, beside the default ones: 80 columns hold no more */
#define SAME_SLOPE 1e-9

/* The values of a list "A,B,...", parted, without the blanks around them; *count is their
 * number. NULL where memory ran out. */
static char **part_list(const char *text, struct er_arena *arena, size_t *count)
{
    *count = 1;
    for (const char *at = text; *at != '\0'; at++) {
        *count += *at == ',';
    }
    char **parts = er_arena_array(arena, *count, sizeof *parts);
    char *rest = er_arena_text(arena, text);
    if (parts == NULL || rest == NULL) {
        return NULL;
    }
    for (size_t i = 0; i < *count; i++) {
        size_t length = strcspn(rest, ",");
        char *next = rest + length + (rest[length] == ',');
        rest[length] = '\0';
        parts[i] = rest + strspn(rest, " ");
        size_t kept = strlen(parts[i]);
        while (kept > 0 && parts[i][kept - 1] == ' ') {
            parts[i][--kept] = '\0';
        }
        rest = next;
    }
    return parts;
}

/* Reads one value of a list into SI. */
typedef double read_one(struct er_flags *flags, const char *text);

static double read_inlet(struct er_flags *flags, const char *text)
{
    double pressure = ER_NONE;
    er_flag_read_quantity(flags, "inlets", text, ER_PRESSURE, &pressure);
    return pressure;
}

static double read_slope(struct er_flags *flags, const char *text)
{
    double percent;
    if (!er_flag_bare_number(text, &percent) || !(fabs(percent) <= 100.0)) {
        er_message_append(&flags->faults, "--slopes: '%s' is no number of percent from -100 to 100",
                          text);
        return ER_NONE;
    }
    return percent / 100.0 + 0.0; /* no -0 */
}

/* The numbers of a list option. *count is 0 where there are none, after a fault. */
static const double *read_list(struct er_flags *flags, struct er_reach_ask *ask,
                               enum er_option_id id, read_one *read, size_t *count)
{
    char **parts = part_list(er_flag_text(flags, id), &ask->arena, count);
    double *values = parts != NULL ? er_arena_array(&ask->arena, *count, sizeof *values) : NULL;
    if (values == NULL) {
        ask->out_of_memory = true;
        *count = 0;
        return NULL;
    }
    if (*count > MOST_LISTED) {
        er_message_append(&flags->faults, "--%s: %zu values are more than %d",
                          er_option_of(flags->line, id)->name, *count, MOST_LISTED);
        *count = 0;
    }
    for (size_t i = 0; i < *count; i++) {
        values[i] = read(flags, parts[i]);
    }
    return values;
}

/* Pressures from the lowest to the highest that a tape is rated for, even and easy to say. */
static const double *make_inlets(const struct er_tape *tape, struct er_reach_ask *ask,
                                 size_t *count)
{
    enum er_system system = ask->answer.system;
    double low = er_from_si(ER_PRESSURE, system, tape->min_pressure);
    double step = (er_from_si(ER_PRESSURE, system, tape->max_pressure) - low) / DEFAULT_INLETS;
    double round_to = system == ER_US ? 1.0 : 5.0; /* psi, kPa */
    double *inlets = er_arena_array(&ask->arena, DEFAULT_INLETS, sizeof *inlets);
    *count = DEFAULT_INLETS;
    if (inlets == NULL) {
        ask->out_of_memory = true;
        *count = 0;
        return NULL;
    }
    if (!(step > 0.0)) {
        inlets[0] = er_given(tape->at_pressure) ? tape->at_pressure : tape->holds_from;
        *count = 1;
        return inlets;
    }
    for (size_t i = 0; i < *count; i++) {
        double pressure = low + step * (double)(i + 1);
        if (step >= 2.0 * round_to) {
            pressure = round_to * floor(pressure / round_to + 1e-9);
        }
        inlets[i] = er_to_si(ER_PRESSURE, system, pressure);
    }
    return inlets;
}

static void read_inlets(struct er_flags *flags, struct er_reach_ask *ask,
                        struct er_reach_table *tables)
{
    const double *given = NULL;
    size_t count = 0;
    bool listed = er_option_given(flags->line, ER_OPTION_INLETS);
    if (listed) {
        given = read_list(flags, ask, ER_OPTION_INLETS, read_inlet, &count);
    }
    for (size_t t = 0; t < ask->answer.table_count; t++) {
        tables[t].inlet_count = count;
        tables[t].inlets =
            listed ? given : make_inlets(tables[t].tape, ask, &tables[t].inlet_count);
        er_reach_ask_own(flags, ask, &tables[t]);
    }
}

/* As of a field file that names no limits: a fraction, alike in both systems. */
static double usual_limit(const char *key)
{
    return er_key_default(er_object_key(&er_limits_object, key), ER_US);
}

/* The limits: the flags', where one is given; else the field's, or what a check takes. */
static void read_limits(struct er_flags *flags, struct er_reach_ask *ask)
{
    bool has_field = flags->line->operand_count > 0;
    double uniformity = er_flag_number(flags, ER_OPTION_UNIFORMITY, "percent", 0.0, 100.0) / 100.0;
    double variation =
        er_flag_number(flags, ER_OPTION_FLOW_VARIATION, "percent", 0.0, 100.0) / 100.0;
    bool given = er_option_given(flags->line, ER_OPTION_UNIFORMITY) ||
                 er_option_given(flags->line, ER_OPTION_FLOW_VARIATION);
    if (!given) {
        const struct er_limits *limits = &ask->work->field.limits;
        uniformity = has_field ? limits->uniformity : usual_limit("uniformity");
        variation = has_field ? limits->flow_variation : usual_limit("flow_variation");
    }
    ask->answer.uniformity = uniformity;
    ask->answer.flow_variation = variation;
}

/* A row must have an emitter, and not too many to be tried. */
static void check_longest(struct er_flags *flags, const struct er_reach_ask *ask)
{
    double longest = ask->answer.longest;
    const char *text = er_flag_text(flags, ER_OPTION_LONGEST);
    for (size_t t = 0; t < ask->answer.table_count; t++) {
        double emitters = floor(longest / ask->answer.tables[t].tape->emitter_spacing + 1e-9);
        if (emitters < 1.0) {
            er_message_append(&flags->faults, "--longest: '%s' is shorter than one emitter spacing",
                              text);
        } else if (emitters > MOST_EMITTERS) {
            er_message_append(&flags->faults,
                              "--longest: '%s' makes a row of %.0f emitters; %.0f are the most",
                              text, emitters, MOST_EMITTERS);
        } else {
            continue;
        }
        return;
    }
}

/* Puts a slope in its place among the others, unless it is there. */
static void insert_slope(double *slopes, size_t *count, double slope)
{
    size_t place = 0;
    while (place < *count && slopes[place] < slope - SAME_SLOPE) {
        place++;
    }
    if (place < *count && slopes[place] < slope + SAME_SLOPE) {
        return;
    }
    memmove(&slopes[place + 1], &slopes[place], (*count - place) * sizeof *slopes);
    slopes[place] = slope;
    (*count)++;
}

/* The slopes of the field's own beds belong into the table, as many as there is room for. */
static void add_own_slopes(struct er_reach_ask *ask)
{
    struct er_reach_answer *answer = &ask->answer;
    size_t most = answer->slope_count + OWN_SLOPES;
    double *slopes = er_arena_array(&ask->arena, most, sizeof *slopes);
    if (slopes == NULL) {
        ask->out_of_memory = true;
        return;
    }
    memcpy(slopes, answer->slopes, answer->slope_count * sizeof *slopes);
    answer->slopes = slopes;
    for (size_t z = 0; z < ask->work->field.zone_count; z++) {
        const struct er_zone *zone = &ask->work->field.zones[z];
        for (size_t g = 0; g < zone->group_count && answer->slope_count < most; g++) {
            if (zone->groups[g].ground.count == 0) {
                insert_slope(slopes, &answer->slope_count, zone->groups[g].ground.slope);
            }
        }
    }
}

static void read_all(struct er_flags *flags, struct er_reach_ask *ask)
{
    struct er_reach_answer *answer = &ask->answer;
    answer->slopes = read_list(flags, ask, ER_OPTION_SLOPES, read_slope, &answer->slope_count);
    if (answer->slopes != NULL && !er_option_given(flags->line, ER_OPTION_SLOPES)) {
        add_own_slopes(ask);
    }
    answer->longest = er_flag_quantity(flags, ER_OPTION_LONGEST, ER_LENGTH);
    read_limits(flags, ask);
    read_inlets(flags, ask, er_reach_ask_tapes(flags, ask));
    if (flags->faults.length == 0) {
        check_longest(flags, ask);
    }
}

/* --set and --patch change a field file. */
static int changes_nothing(const struct er_command_line *line)
{
    if (line->operand_count > 0) {
        return 0;
    }
    bool set = er_option_given(line, ER_OPTION_SET);
    if (set || er_option_given(line, ER_OPTION_PATCH)) {
        return er_message(ER_EXIT_BAD_INPUT, "--%s changes a field file, and none is named",
                          set ? "set" : "patch");
    }
    return 0;
}

int er_reach_ask_read(struct er_work *work, struct er_reach_ask *ask)
{
    const struct er_command_line *line = work->line;
    *ask = (struct er_reach_ask){.work = work};
    int status = changes_nothing(line);
    if (status == 0 && line->operand_count > 0) {
        status = er_work_load(work);
    }
    if (status != 0) {
        return status;
    }
    if (line->operand_count > 0 || er_option_given(line, ER_OPTION_TAPE)) {
        ask->catalogue_open = er_catalogue_open(&ask->catalogue) == ER_OK;
        if (!ask->catalogue_open) {
            return er_message_no_memory();
        }
    }
    ask->answer.system = work->system;
    ask->answer.title = work->field.title;
    status = er_reach_ask_solve(ask);
    if (status != 0) {
        return status;
    }
    struct er_flags flags;
    er_flags_begin(&flags, line, ask->answer.system);
    read_all(&flags, ask);
    /* What could not be kept may have had a fault, too. */
    flags.faults.out_of_memory = flags.faults.out_of_memory || ask->out_of_memory;
    return er_flags_end(&flags);
}

void er_reach_ask_release(struct er_reach_ask *ask)
{
    er_arena_release(&ask->arena);
    if (ask->catalogue_open) {
        er_catalogue_release(&ask->catalogue);
    }
}
