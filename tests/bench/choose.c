/* How many designs 'choose' judges in a second, against as many checks of one plan each.
 *
 *   bench-choose PROGRAM [FIELD]       from the source folder, on a machine with little to do
 *
 * The floor is PROGRAM run as 'check --quiet FIELD', once for each design, as a shell would; it
 * is run RUNS times, and every RUN counts alike. Then all designs that choose would try of
 * itself are judged on one thread, and on two. */
#define _POSIX_C_SOURCE 200809L
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#define RUNS 40

static double now(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

/* Runs a program to its end, its standard output into `output` (NULL: nowhere). */
static void run(char *const *arguments, const char *output)
{
    pid_t child = fork();
    if (child == 0) {
        if (freopen(output ? output : "/dev/null", "w", stdout)) {
            execv(arguments[0], arguments);
        }
        _exit(127);
    }
    int status = 0;
    if (child < 0 || waitpid(child, &status, 0) != child || !WIFEXITED(status) ||
        WEXITSTATUS(status) > 1) {
        fprintf(stderr, "%s %s did not run\n", arguments[0], arguments[1]);
        exit(1);
    }
}

static double choosing(const char *program, const char *field, const char *threads,
                       const char *output)
{
    char *const arguments[] = {
        (char *)program,     (char *)"choose", (char *)"--format", (char *)"json",
        (char *)"--threads", (char *)threads,  (char *)field,      NULL};
    double began = now();
    run(arguments, output);
    return now() - began;
}

static double designs_tried(const char *report)
{
    char line[256];
    double designs = 0.0;
    FILE *file = fopen(report, "r");
    while (file && fgets(line, sizeof line, file)) {
        const char *tried = strstr(line, "\"tried\": ");
        if (tried) {
            designs = strtod(tried + 9, NULL);
        }
    }
    if (file) {
        fclose(file);
    }
    return designs;
}

int main(int count, char **arguments)
{
    if (count < 2) {
        fputs("usage: bench-choose PROGRAM [FIELD]\n", stderr);
        return 2;
    }
    const char *program = arguments[1];
    const char *field = count > 2 ? arguments[2] : "examples/pond-slope.json";
    char *const check[] = {(char *)program, (char *)"check", (char *)"--quiet", (char *)field,
                           NULL};
    char report[] = "/tmp/bench-choose-XXXXXX";
    close(mkstemp(report));

    double checks = 0.0, one = 0.0, two = 0.0;
    for (int turn = 0; turn < 3; turn++) { /* in turns, so that other work hits all alike */
        double began = now();
        for (int i = 0; i < RUNS; i++) {
            run(check, NULL);
        }
        checks += (now() - began) / RUNS / 3.0;
        one += choosing(program, field, "1", report) / 3.0;
        two += choosing(program, field, "2", NULL) / 3.0;
    }
    double designs = designs_tried(report);
    unlink(report);
    printf("%s: %.0f designs\n", field, designs);
    printf("a run of check         %8.3f ms\n", 1e3 * checks);
    printf("a design, one thread   %8.3f ms: %.0f times faster\n", 1e3 * one / designs,
           checks * designs / one);
    printf("a design, two threads  %8.3f ms: %.2f times as fast as one thread\n",
           1e3 * two / designs, one / two);
    return 0;
}
