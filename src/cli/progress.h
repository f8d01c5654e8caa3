/* How far a long search has come, on standard error where that is a terminal; and stopping it. */
#ifndef ER_CLI_PROGRESS_H
#define ER_CLI_PROGRESS_H

#include <stdbool.h>
#include <stddef.h>
#include <time.h>

struct er_progress {
    const char *what;  /* of what the search does many: "designs" */
    bool shown;        /* standard error is a terminal */
    int shown_columns; /* of the terminal's line that were written to, 0 before the first */
    struct timespec began, told;
};

/* From here to the end Ctrl-C only asks the search to stop. */
void er_progress_begin(struct er_progress *progress, const char *what);
void er_progress_end(struct er_progress *progress);

/* To be called as the search goes on. False: it was asked to stop. */
bool er_progress_watch(void *progress, size_t done, size_t total);

#endif
