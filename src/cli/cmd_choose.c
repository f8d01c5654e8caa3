/* The best of many designs. */
#include "cli/choose.h"
#include "cli/commands.h"
#include "cli/load.h"
#include "cli/message.h"
#include "cli/progress.h"
#include "cli/shared_options.h"
#include "evenrow/writing.h"
#include "report/choose/report.h"

/* The picked design as a field file, made from the file that was read, and the report. */
static int write_design(struct er_work *work, const struct er_choose_ask *ask,
                        const struct er_design *design)
{
    struct er_designed designed;
    struct er_text new_field;
    er_text_init(&new_field);
    int status = er_design_make(ask, design, &designed) == ER_OK
                     ? er_work_new_field(work, &designed.field, ER_PART_MAINLINE | ER_PART_ZONES,
                                         designed.origins, &new_field)
                     : er_message_no_memory();
    if (status == 0) {
        status = er_work_write(work, &new_field);
    }
    er_text_release(&new_field);
    er_designed_release(&designed);
    return status;
}

/* Makes report and field file, and writes them. */
static int write_choice(struct er_work *work, const struct er_choices *choices,
                        const struct er_choice *choice)
{
    const struct er_chosen chosen = {&choices->ask, choice};
    const bool wanted = er_option_given(work->line, ER_OPTION_OUTPUT);
    int status = er_work_report(work, &er_choose_report, &chosen);
    if (status != 0) {
        return status;
    }
    if (wanted && choice->best_count >= choices->pick) {
        return write_design(work, &choices->ask, &choice->best[choices->pick - 1]);
    }
    status = er_work_write(work, NULL);
    return status == 0 && wanted
               ? er_message(0, "no field file is written: the list has %zu design%s, not %zu",
                            choice->best_count, choice->best_count == 1 ? "" : "s", choices->pick)
               : status;
}

static int choose(const struct er_work *work, const struct er_choices *choices,
                  struct er_choice *choice)
{
    struct er_choose_ask ask = choices->ask;
    struct er_progress progress;
    struct er_failure failure;
    er_progress_begin(&progress, "designs");
    ask.watch = er_progress_watch;
    ask.watch_context = &progress;
    enum er_status status = er_choose(&ask, choice, &failure);
    er_progress_end(&progress);
    return er_solving_status(work->label, status, &failure);
}

static int run_choose(struct er_work *work)
{
    struct er_choices choices = {0};
    struct er_choice choice = {0};
    int status = er_work_load(work);
    if (status == 0) {
        status = er_choices_read(work->line, &work->field, &choices);
    }
    if (status == 0) {
        status = choose(work, &choices, &choice);
    }
    if (status == 0) {
        status = write_choice(work, &choices, &choice);
    }
    if (status == 0 && choice.best_count < choices.pick) {
        status = ER_EXIT_FAILS;
    }
    er_choices_release(&choices);
    return status;
}

static const struct er_option options[] = {
    ER_NEW_FIELD_OPTIONS,
    ER_VALUE(ER_OPTION_TAPES, "tapes", "NAME,...",
             "Tapes to try; a * stands for anything, as in \"tape-16mm-*\". Without this the "
             "file's own, and the catalogue's with emitters as far apart as the field's."),
    ER_VALUE(ER_OPTION_PIPES, "pipes", "NAME,...",
             "Header pipes to try, as \"layflat-*,poly-2in\"; without this the file's own and the "
             "catalogue's."),
    ER_VALUE(ER_OPTION_FEEDS, "feeds", "PLACE,...",
             "Where headers may be fed: at the first bed, in the middle, at the last.",
             ER_USUAL("first,middle,last", "first,middle,last")),
    ER_VALUE(ER_OPTION_ZONES, "zones", "COUNT,...",
             "Numbers of zones to try, as in 2,3 or 1-6; without this from the file's own number "
             "to four more."),
    ER_VALUE(ER_OPTION_PICK, "pick", "K", "Writes the K-th of the list with -o.",
             ER_USUAL("1", "1")),
    ER_VALUE(ER_OPTION_THREADS, "threads", "COUNT",
             "Threads to work with; without this one for each processor. The answer is the same "
             "for any number."),
    ER_WASTE_OPTION,
    ER_LAST_OPTIONS};

const struct er_command er_choose_command = {
    .name = "choose",
    .operands = "FIELD",
    .least_operands = 1,
    .most_operands = 1,
    .summary = "Which tape and which header pipe, at what cost?",
    .about =
        "Tries tapes, header pipes, feed positions and numbers of zones, all with all, on the "
        "field's beds, and lists the best ten that hold: by cost where the field has \"prices\", "
        "else by the header's width, then by how even they are.\n-o writes the best, or the one "
        "that --pick names, as a field file. The exit status is 1 where nothing holds.",
    .exits = {"there is an answer, and the plan holds with it",
              "there is none, or the plan fails with it"},
    .examples =
        {"evenrow choose examples/bare-field.json --zones 1-4",
         "evenrow choose examples/bare-field.json --pipes \"layflat-*\" --pick 2 -o chosen.json"},
    .options = options,
    .run = run_choose};
