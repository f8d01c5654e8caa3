/* 'evenrow reach': what its flags and field say of the tapes, pressures, slopes and limits. */
#ifndef ER_CLI_REACH_H
#define ER_CLI_REACH_H

#include "cli/flags.h"
#include "cli/work.h"
#include "evenrow/catalogue.h"
#include "report/reach/report.h"

struct er_reach_ask {
    struct er_work *work; /* its field is all zeros where none was named */
    bool is_solved;       /* then work->result is the field's check */
    bool catalogue_open;
    struct er_catalogue catalogue;
    struct er_arena arena;         /* of the lists and of what the answer points to */
    struct er_tape told;           /* by flags */
    struct er_reach_answer answer; /* complete but for the tables' cells */
    bool out_of_memory;
};

/* Reads the field, if there is one, and the flags. The caller releases *ask in any case.
 * 0, or an exit status after messages. */
int er_reach_ask_read(struct er_work *work, struct er_reach_ask *ask);
void er_reach_ask_release(struct er_reach_ask *ask);

/* reach_tapes.c: makes the answer's tables, one for each tape, still without inlets and cells.
 * Where there are none, a fault is told or memory ran out. */
struct er_reach_table *er_reach_ask_tapes(struct er_flags *flags, struct er_reach_ask *ask);

/* reach_own.c: solves the field where a zone has no regulator, for the pressures that it gives its
 * rows; a field that can't be solved goes without. 0, or an exit status. */
int er_reach_ask_solve(struct er_reach_ask *ask);

/* Lists the field's rows in a table that has its inlets; none without a field. */
void er_reach_ask_own(const struct er_flags *flags, struct er_reach_ask *ask,
                      struct er_reach_table *table);

#endif
