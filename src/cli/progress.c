/* A line on the terminal that is written over, and a first Ctrl-C that only asks to stop. */
#define _POSIX_C_SOURCE 200809L /* sigaction, isatty */
#include "cli/progress.h"

#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define SILENT 1.0 /* s; a search that is over by then says nothing */
#define PAUSE 0.2  /* s between two lines */

/* A signal has no other way to tell. Set by the first Ctrl-C; the second ends the program, as
 * it does everywhere. */
static volatile sig_atomic_t asked_to_stop;

static void ask_to_stop(int signal_number)
{
    (void)signal_number;
    asked_to_stop = 1;
}

static double seconds_since(const struct timespec *then, const struct timespec *now)
{
    return (double)(now->tv_sec - then->tv_sec) + 1e-9 * (double)(now->tv_nsec - then->tv_nsec);
}

void er_progress_begin(struct er_progress *progress, const char *what)
{
    struct sigaction action;
    memset(&action, 0, sizeof action);
    action.sa_handler = ask_to_stop;
    action.sa_flags = (int)SA_RESETHAND;
    sigemptyset(&action.sa_mask);
    asked_to_stop = 0;
    sigaction(SIGINT, &action, NULL);
    *progress = (struct er_progress){.what = what, .shown = isatty(STDERR_FILENO) == 1};
    clock_gettime(CLOCK_MONOTONIC, &progress->began);
    progress->told = progress->began;
}

void er_progress_end(struct er_progress *progress)
{
    signal(SIGINT, SIG_DFL);
    if (progress->shown_columns > 0) {
        fprintf(stderr, "\r%*s\r", progress->shown_columns, ""); /* an empty line again */
        fflush(stderr);
    }
}

/* Blanks wipe out what was longer: they work on every terminal. */
static void show(struct er_progress *progress, size_t done, size_t total, double gone)
{
    double left = gone * (double)(total - done) / (double)done;
    fputs("\r", stderr);
    int columns =
        fprintf(stderr, "%zu of %zu %s, about %.0f s left; Ctrl-C stops with the best so far", done,
                total, progress->what, left);
    if (columns > 0 && columns < progress->shown_columns) {
        fprintf(stderr, "%*s", progress->shown_columns - columns, "");
    }
    fflush(stderr);
    progress->shown_columns = columns;
}

bool er_progress_watch(void *context, size_t done, size_t total)
{
    struct er_progress *progress = context;
    struct timespec now;
    if (progress->shown && done > 0 && clock_gettime(CLOCK_MONOTONIC, &now) == 0) {
        double gone = seconds_since(&progress->began, &now);
        if (gone > SILENT && seconds_since(&progress->told, &now) > PAUSE) {
            show(progress, done, total, gone);
            progress->told = now;
        }
    }
    return !asked_to_stop;
}
