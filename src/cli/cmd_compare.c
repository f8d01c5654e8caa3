/* Plans side by side. */
#include <string.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/folder.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "evenrow/bill.h"
#include "evenrow/reading.h"
#include "report/compare/report.h"

/* One plan, and what became of it. */
struct plan {
    const char *path;  /* of its field file */
    const char *patch; /* of the merge patch that makes it, or NULL */
    int status;        /* 0, or the exit status for what is wrong with it */
    struct er_problems problems;
    enum er_status solving;
    struct er_failure failure;
    struct er_field field;
    struct er_result result;
};

/* What the command has in hand. */
struct comparing {
    struct er_work *work;
    const struct er_command_line *line;
    struct er_arena arena;
    size_t count;
    struct plan *plans;
    const char *text_path; /* whose text is in `text`: variants are made of one file, read once */
    int text_status;       /* how reading it ended */
    struct er_text text;
};

/* How messages and the report call a plan. */
static const char *label_of(const struct plan *plan)
{
    return er_file_label(plan->patch != NULL ? plan->patch : plan->path);
}

static size_t count_patches(const struct er_command_line *line)
{
    size_t count = 0;
    for (size_t i = 0; i < line->use_count; i++) {
        count += line->uses[i].option->id == ER_OPTION_PATCH;
    }
    return count;
}

/* Standard input can be read but once, and patches make plans of one field. */
static int look_at_line(const struct er_command_line *line)
{
    size_t readers = 0;
    for (size_t i = 0; i < line->operand_count; i++) {
        readers += strcmp(line->operands[i], "-") == 0;
    }
    for (size_t i = 0; i < line->use_count; i++) {
        readers +=
            line->uses[i].option->id == ER_OPTION_PATCH && strcmp(line->uses[i].value, "-") == 0;
    }
    if (readers > 1) {
        return er_message(ER_EXIT_BAD_INPUT, "standard input can be read only once");
    }
    if (count_patches(line) > 0 && (line->operand_count > 1 || er_is_folder(line->operands[0]))) {
        return er_message(ER_EXIT_BAD_INPUT,
                          "--patch makes plans of one field file, and there is %s",
                          line->operand_count > 1 ? "more than one" : "a folder");
    }
    return 0;
}

/* Adds a plan that is yet to be read. */
static void add_plan(struct comparing *all, const char *path, const char *patch)
{
    struct plan *plan = &all->plans[all->count++];
    plan->path = path;
    plan->patch = patch;
    er_problems_init(&plan->problems);
}

/* Paths of one operand: its own, or a folder's files. What is wrong with a folder is told, and
 * leaves it without any. Returns 0, or the exit status. */
static int paths_of(struct comparing *all, size_t operand, const char ***paths, size_t *count)
{
    const char *path = all->line->operands[operand];
    *count = 0;
    if (strcmp(path, "-") != 0 && er_is_folder(path)) {
        return er_folder_files(path, &all->arena, paths, count);
    }
    *paths = &all->line->operands[operand];
    *count = 1;
    return 0;
}

/* Lists the plans. *status becomes the worst exit status met on the way; no memory ends it. */
static void list_plans(struct comparing *all, int *status)
{
    const struct er_command_line *line = all->line;
    size_t total = count_patches(line);
    const char ***paths = er_arena_array(&all->arena, line->operand_count, sizeof *paths);
    size_t *counts = er_arena_array(&all->arena, line->operand_count, sizeof *counts);
    if (paths == NULL || counts == NULL) {
        *status = er_message_no_memory();
        return;
    }
    for (size_t i = 0; i < line->operand_count && *status != ER_EXIT_UNFINISHED; i++) {
        int one = paths_of(all, i, &paths[i], &counts[i]);
        *status = one > *status ? one : *status;
        total += counts[i];
    }
    if (*status == ER_EXIT_UNFINISHED) {
        return;
    }
    all->plans = er_arena_array(&all->arena, total, sizeof *all->plans);
    if (all->plans == NULL) {
        *status = er_message_no_memory();
        return;
    }
    for (size_t i = 0; i < line->operand_count; i++) {
        for (size_t k = 0; k < counts[i]; k++) {
            add_plan(all, paths[i][k], NULL);
        }
    }
    for (size_t i = 0; i < line->use_count; i++) {
        if (line->uses[i].option->id == ER_OPTION_PATCH) {
            add_plan(all, line->operands[0], line->uses[i].value);
        }
    }
}

/* The text of a plan's field file, unless it is at hand. 0, or an exit status after a message. */
static int read_text(struct comparing *all, const char *path)
{
    if (all->text_path == NULL || strcmp(all->text_path, path) != 0) {
        er_text_clear(&all->text);
        all->text_path = path;
        all->text_status = er_read_file(path, &all->text);
    }
    return all->text_status;
}

/* Makes the changes that every plan gets, going on after a bad one so that all are told. */
static enum er_status apply_settings(const struct er_command_line *line,
                                     struct er_document *document, struct er_problems *problems)
{
    enum er_status status = ER_OK;
    for (size_t i = 0; i < line->use_count && status != ER_NO_MEMORY; i++) {
        if (line->uses[i].option->id == ER_OPTION_SET) {
            enum er_status one = er_document_set(document, line->uses[i].value, problems);
            status = one != ER_OK ? one : status;
        }
    }
    return status;
}

/* From the texts to the field. `patch` is empty for a plan without one. */
static enum er_status read_plan(const struct comparing *all, struct plan *plan,
                                const struct er_text *patch)
{
    struct er_document *document = NULL;
    enum er_status status = er_document_open(er_file_label(plan->path), er_text_string(&all->text),
                                             all->text.length, &document, &plan->problems);
    if (status == ER_OK) {
        status = apply_settings(all->line, document, &plan->problems);
    }
    if (status == ER_OK && plan->patch != NULL) {
        status = er_document_patch(document, er_file_label(plan->patch), er_text_string(patch),
                                   patch->length, &plan->problems);
    }
    if (status == ER_OK) {
        status = er_field_read(document, &plan->field, &plan->problems);
    }
    er_document_release(document);
    return status;
}

/* Reads a plan's field. Returns 0 where the work can go on: the plan's own status may tell of
 * bad input, to be told later. */
static int load_plan(struct comparing *all, struct plan *plan)
{
    struct er_text patch;
    er_text_init(&patch);
    plan->status = read_text(all, plan->path);
    if (plan->status == 0 && plan->patch != NULL) {
        plan->status = er_read_file(plan->patch, &patch);
    }
    int status = plan->status == ER_EXIT_UNFINISHED ? plan->status : 0;
    if (plan->status == 0) {
        enum er_status reading = read_plan(all, plan, &patch);
        plan->status = reading == ER_OK ? 0 : ER_EXIT_BAD_INPUT;
        status = reading == ER_NO_MEMORY ? er_message_no_memory() : 0;
    }
    er_text_release(&patch);
    return status;
}

/* Solves what was read, all in the units of the report. 0, or an exit status. */
static int solve_plans(struct comparing *all)
{
    for (size_t p = 0; p < all->count; p++) {
        struct plan *plan = &all->plans[p];
        if (plan->status != 0) {
            continue;
        }
        plan->solving = er_check(&plan->field, all->work->system, &plan->result, &plan->failure);
        if (plan->solving == ER_NO_MEMORY) {
            return er_message_no_memory();
        }
        plan->status = plan->solving == ER_OK ? 0 : ER_EXIT_UNFINISHED;
    }
    return 0;
}

static enum er_system system_of(const struct comparing *all)
{
    const char *units = er_option_value(all->line, ER_OPTION_UNITS);
    for (size_t p = 0; p < all->count; p++) {
        if (all->plans[p].status == 0) {
            return er_units_named(units, all->plans[p].field.system);
        }
    }
    return er_units_named(units, ER_US);
}

/* A plan's name as it may be shown anywhere; NULL if memory ran out. */
static const char *shown_name(struct comparing *all, const struct plan *plan)
{
    struct er_text text;
    er_text_init(&text);
    er_text_append_visible(&text, label_of(plan));
    const char *name =
        text.out_of_memory ? NULL : er_arena_text(&all->arena, er_text_string(&text));
    er_text_release(&text);
    return name;
}

/* Makes the report of the plans that are good; nothing where none is. 0, or an exit status. */
static int make_report(struct comparing *all)
{
    struct er_compared *good = er_arena_array(&all->arena, all->count, sizeof *good);
    const char **bad = er_arena_array(&all->arena, all->count, sizeof *bad);
    struct er_comparison comparison = {0, good, 0, bad};
    if (good == NULL || bad == NULL) {
        return er_message_no_memory();
    }
    for (size_t p = 0; p < all->count; p++) {
        const struct plan *plan = &all->plans[p];
        const char *name = shown_name(all, plan);
        if (name == NULL) {
            return er_message_no_memory();
        }
        if (plan->status != 0) {
            bad[comparison.unread_count++] = name;
            continue;
        }
        struct er_compared *one = &good[comparison.count++];
        *one = (struct er_compared){.name = name, .result = &plan->result};
        one->cost = er_field_cost(&plan->field, &one->placeholders);
    }
    return comparison.count == 0 ? 0 : er_work_report(all->work, &er_compare_report, &comparison);
}

static bool same_text(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

/* Whether two plans have the same problems: a fault of --set, or of the field that patches change,
 * is told once. */
static bool same_problems(const struct er_problems *a, const struct er_problems *b)
{
    bool same = a->count == b->count;
    for (size_t i = 0; same && i < a->count && i < ER_PROBLEMS_KEPT; i++) {
        const struct er_problem *one = &a->kept[i];
        const struct er_problem *other = &b->kept[i];
        same = one->line == other->line && one->column == other->column &&
               same_text(one->origin, other->origin) && same_text(one->pointer, other->pointer) &&
               same_text(one->text, other->text);
    }
    return same;
}

/* Tells what is wrong with one plan, unless the one before had the same. */
static void append_faults(const struct comparing *all, size_t p, struct er_text *lines)
{
    const struct plan *plan = &all->plans[p];
    if (plan->solving != ER_OK) {
        er_solving_status(label_of(plan), plan->solving, &plan->failure);
    } else if (p == 0 || !same_problems(&plan->problems, &all->plans[p - 1].problems)) {
        er_message_append_problems(lines, &plan->problems);
    }
    er_message_append(lines, "%s: left out", label_of(plan));
}

/* The worst exit status of all plans, after messages about those that are left out. *told: they
 * could be told. */
static int tell_plans(const struct comparing *all, bool *told)
{
    struct er_text lines;
    int status = 0;
    er_text_init(&lines);
    for (size_t p = 0; p < all->count; p++) {
        int one = all->plans[p].status;
        er_append_notices(&lines, label_of(&all->plans[p]), &all->plans[p].field);
        if (one != 0) {
            append_faults(all, p, &lines);
        }
        one = er_plan_status(all->line, one, all->plans[p].result.verdict);
        status = one > status ? one : status;
    }
    *told = !lines.out_of_memory;
    status = er_message_write(status, &lines);
    er_text_release(&lines);
    return status;
}

/* Worst first: 3, a plan that does not solve; 2, one that cannot be read; 1, one that fails. */
static int run(struct comparing *all)
{
    int listing = look_at_line(all->line);
    if (listing != 0) {
        return listing;
    }
    list_plans(all, &listing);
    int status = listing == ER_EXIT_UNFINISHED ? listing : 0;
    for (size_t p = 0; status == 0 && p < all->count; p++) {
        status = load_plan(all, &all->plans[p]);
    }
    all->work->system = system_of(all);
    if (status == 0) {
        status = solve_plans(all);
    }
    if (status == 0) {
        status = make_report(all);
    }
    if (status != 0) {
        return status;
    }
    bool told;
    int worst = tell_plans(all, &told);
    if (told && all->work->report.length > 0) {
        status = er_write_output(all->line, &all->work->report);
    }
    worst = worst > listing ? worst : listing;
    return status > worst ? status : worst;
}

static int run_compare(struct er_work *work)
{
    struct comparing all = {.work = work, .line = work->line};
    er_text_init(&all.text);
    int status = run(&all);
    for (size_t p = 0; p < all.count; p++) {
        er_result_release(&all.plans[p].result);
        er_field_release(&all.plans[p].field);
        er_problems_release(&all.plans[p].problems);
    }
    er_text_release(&all.text);
    er_arena_release(&all.arena);
    return status;
}

static const struct er_option options[] = {
    ER_FORMAT_OPTION,
    ER_OUTPUT_OPTION,
    ER_FORCE_OPTION,
    ER_SET_OPTION,
    ER_VALUE(ER_OPTION_PATCH, "patch", "FILE",
             "Another plan to compare: the one field that is named, with what --set has changed, "
             "changed by a JSON Merge Patch. May be given again, for one more plan each."),
    ER_UNITS_OPTION,
    ER_LAST_OPTIONS};

const struct er_command er_compare_command = {
    .name = "compare",
    .operands = "FIELD...",
    .least_operands = 1,
    .most_operands = SIZE_MAX,
    .summary = "Several plans side by side: which is better for what?",
    .about = "FIELD is a field file, or a folder: then every file in it that ends in .json, by "
             "name. The report tells which plan has the least flow, is the most even, runs the "
             "fewest hours and so on, then their figures side by side, those that differ from the "
             "first plan's marked.\nWith --patch, one field file is compared with what each patch "
             "makes of it. --set changes every plan, before its patch. Units are those of the "
             "first plan, or of --units.\nA plan that cannot be read or solved is left out with a "
             "message, and the others are shown; the highest exit status counts.",
    .exits = {"all plans hold, with cautions or without", "a plan fails",
              "a plan could not be read and is left out, or the command line is wrong",
              "a plan could not be solved and is left out; or the program could not finish, for "
              "want of memory or of room on a disk"},
    .examples = {"evenrow compare examples/pond-slope.json examples/middle-feed.json",
                 "evenrow compare examples"},
    .options = options,
    .run = run_compare};
