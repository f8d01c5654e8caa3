/* Runs a program again and again, each time with another allocation that fails.
 *
 * This object is preloaded into the program under test. Before main begins it takes
 * over: for n = 1, 2, ... it forks a child in which the n-th allocation returns NULL,
 * lets that child run main, and looks at how it ended. Two rounds: in the first only the
 * n-th fails, in the second the n-th and all that follow.
 *
 * A program that reads a list makes the same allocation, called from the same functions,
 * thousands of times. Of those with the same call stack the first few are tried, and the
 * others are passed over, for that tells as much in seconds as all of them in many minutes.
 *
 * A run is good when it ends
 *   - with status 3, nothing on standard output and one line on standard error that
 *     speaks of memory; or
 *   - exactly as the undisturbed run does, the files it writes too (libc could do without that
 *     allocation);
 * and, either way, every block has been freed.
 *
 * Environment:
 *   EVENROW_FAIL_STDIN   a file to be standard input
 *   EVENROW_FAIL_FOLDER  a folder for the program's output files; emptied before each
 *                        run, and it must be empty after a run that ended with 3
 *   EVENROW_FAIL_ALL     set to anything: every allocation is tried
 *
 * It needs glibc, whose own allocator can be reached as __libc_malloc and so on. */
#define _GNU_SOURCE
#include <dirent.h>
#include <errno.h>
#include <execinfo.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

void *__libc_malloc(size_t size);
void *__libc_calloc(size_t count, size_t size);
void *__libc_realloc(void *block, size_t size);
void __libc_free(void *block);

enum {
    NO_MEMORY_STATUS = 3,
    SECONDS_FOR_A_RUN = 60,
    STREAM_BUFFER = 65536,
    STACK_DEPTH = 40, /* innermost callers that tell one call stack from another */
    TRIED_OF_A_STACK = 1,
    MOST_CALLS = 1 << 20 /* beyond, a call is always tried */
};

/* What a child tells its parent; it lives in memory that both share. */
struct ledger {
    unsigned long calls; /* allocations asked for */
    long live;           /* blocks not freed yet */
    bool finished;       /* the child came to its end, so `live` is the last word */
};

static uint64_t *stacks; /* of the undisturbed run: each call's stack as a hash, in shared memory */
static bool noting_stacks;

static struct ledger *ledger;
static bool armed; /* in a child: counting, and failing when its turn comes */
static unsigned long turn;
static bool and_all_after;

/* FNV-1a over the return addresses, which are the same in every child of one parent. */
static uint64_t stack_hash(void)
{
    void *callers[STACK_DEPTH];
    int depth = backtrace(callers, STACK_DEPTH);
    const unsigned char *bytes = (const unsigned char *)callers;
    uint64_t hash = 14695981039346656037u;
    for (size_t i = 0; i < (size_t)depth * sizeof *callers; i++)
        hash = (hash ^ bytes[i]) * 1099511628211u;
    return hash;
}

static bool must_fail(void)
{
    if (!armed)
        return false;
    if (noting_stacks && ledger->calls < MOST_CALLS)
        stacks[ledger->calls] = stack_hash();
    ledger->calls++;
    return turn != 0 && (ledger->calls == turn || (and_all_after && ledger->calls > turn));
}

static void *out_of_memory(void)
{
    errno = ENOMEM;
    return NULL;
}

static void *counted(void *block)
{
    if (armed && block)
        ledger->live++;
    return block;
}

void *malloc(size_t size) { return must_fail() ? out_of_memory() : counted(__libc_malloc(size)); }

void *calloc(size_t count, size_t size)
{
    return must_fail() ? out_of_memory() : counted(__libc_calloc(count, size));
}

void *realloc(void *block, size_t size)
{
    if (must_fail())
        return out_of_memory();
    void *moved = __libc_realloc(block, size);
    if (armed && block && !moved)
        ledger->live--; /* a realloc to nothing frees */
    return block ? moved : counted(moved);
}

void free(void *block)
{
    if (armed && block)
        ledger->live--;
    __libc_free(block);
}

/* How one run ended, and what it wrote. */
struct outcome {
    int status; /* as waitpid gives it */
    int output, errors;
    int files; /* what its files hold, one after the other */
    size_t file_count;
    struct ledger ledger;
};

static void complain(const char *what)
{
    fprintf(stderr, "failing allocator: %s: %s\n", what, strerror(errno));
    _exit(EXIT_FAILURE);
}

static int empty_file(const char *name)
{
    int file = memfd_create(name, MFD_CLOEXEC);
    if (file < 0)
        complain(name);
    return file;
}

static void be_child(const struct outcome *outcome, unsigned long failing, bool sticky)
{
    /* Streams with buffers of their own, so that libc's do not look like leaks. */
    static char input_buffer[STREAM_BUFFER], output_buffer[STREAM_BUFFER],
        errors_buffer[STREAM_BUFFER];
    const char *input = getenv("EVENROW_FAIL_STDIN");
    int in = open(input ? input : "/dev/null", O_RDONLY);
    if (in < 0 || dup2(in, STDIN_FILENO) < 0)
        complain("standard input");
    close(in);
    if (dup2(outcome->output, STDOUT_FILENO) < 0 || dup2(outcome->errors, STDERR_FILENO) < 0)
        complain("output");
    setvbuf(stdin, input_buffer, _IOFBF, sizeof input_buffer);
    setvbuf(stdout, output_buffer, _IOFBF, sizeof output_buffer);
    setvbuf(stderr, errors_buffer, _IOLBF, sizeof errors_buffer);
    alarm(SECONDS_FOR_A_RUN);
    turn = failing;
    and_all_after = sticky;
    noting_stacks = failing == 0;
    armed = true;
}

__attribute__((destructor)) static void end_child(void)
{
    if (armed)
        ledger->finished = true;
    armed = false;
}

/* Appends what a file of the folder holds. */
static void append_file(int folder, const char *name, int to)
{
    char bytes[4096];
    ssize_t got;
    int file = openat(folder, name, O_RDONLY);
    if (file < 0)
        complain(name);
    while ((got = read(file, bytes, sizeof bytes)) > 0)
        if (write(to, bytes, (size_t)got) != got)
            complain(name);
    if (got < 0)
        complain(name);
    close(file);
}

/* Counts the files in the folder for output; keeps what they hold in `copy`, and without one
 * removes them. */
static size_t files_in_folder(const int *copy)
{
    const char *name = getenv("EVENROW_FAIL_FOLDER");
    DIR *folder = name ? opendir(name) : NULL;
    if (!folder)
        return 0;
    size_t count = 0;
    for (struct dirent *entry; (entry = readdir(folder));) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
            continue;
        count++;
        if (copy)
            append_file(dirfd(folder), entry->d_name, *copy);
        else if (unlinkat(dirfd(folder), entry->d_name, 0) != 0)
            complain(entry->d_name);
    }
    closedir(folder);
    return count;
}

/* Runs main with the given allocation failing (0: none). Returns true in the child,
 * which has to go on to main. */
static bool run(unsigned long failing, bool sticky, struct outcome *outcome)
{
    files_in_folder(NULL);
    memset(ledger, 0, sizeof *ledger);
    outcome->output = empty_file("output");
    outcome->errors = empty_file("errors");
    outcome->files = empty_file("files");
    pid_t child = fork();
    if (child < 0)
        complain("fork");
    if (child == 0) {
        be_child(outcome, failing, sticky);
        return true;
    }
    if (waitpid(child, &outcome->status, 0) != child)
        complain("waitpid");
    outcome->ledger = *ledger;
    outcome->file_count = files_in_folder(&outcome->files);
    return false;
}

static void forget(struct outcome *outcome)
{
    close(outcome->output);
    close(outcome->errors);
    close(outcome->files);
}

static size_t size_of(int file)
{
    off_t size = lseek(file, 0, SEEK_END);
    if (size < 0)
        complain("lseek");
    return (size_t)size;
}

static bool same_text(int one, int other)
{
    size_t size = size_of(one);
    if (size != size_of(other))
        return false;
    char here[4096], there[4096];
    for (size_t at = 0; at < size;) {
        ssize_t got = pread(one, here, sizeof here, (off_t)at);
        if (got <= 0 || pread(other, there, (size_t)got, (off_t)at) != got ||
            memcmp(here, there, (size_t)got) != 0)
            return false;
        at += (size_t)got;
    }
    return true;
}

/* Whether standard error holds one line, and it speaks of memory. */
static bool clean_message(int errors)
{
    char text[1024];
    ssize_t size = pread(errors, text, sizeof text - 1, 0);
    if (size <= 0)
        return false;
    text[size] = '\0';
    return strchr(text, '\n') == text + size - 1 && strstr(text, "memory");
}

/* NULL if the run ended well. */
static const char *fault(const struct outcome *outcome, const struct outcome *undisturbed)
{
    if (WIFSIGNALED(outcome->status))
        return strsignal(WTERMSIG(outcome->status));
    if (!outcome->ledger.finished)
        return "it left without ending in order";
    if (outcome->ledger.live != 0)
        return outcome->ledger.live > 0 ? "it leaked" : "it freed more than it had";
    if (WEXITSTATUS(outcome->status) != NO_MEMORY_STATUS) {
        bool same = outcome->status == undisturbed->status &&
                    same_text(outcome->output, undisturbed->output) &&
                    same_text(outcome->errors, undisturbed->errors) &&
                    outcome->file_count == undisturbed->file_count &&
                    same_text(outcome->files, undisturbed->files);
        return same ? NULL : "its status, output or file is another than without the failure";
    }
    if (size_of(outcome->output) != 0)
        return "status 3, but something on standard output";
    if (!clean_message(outcome->errors))
        return "status 3, but not one clean line about memory";
    return outcome->file_count == 0 ? NULL : "status 3, but a file was left behind";
}

/* Written without a stream: a child would inherit what the stream still holds. */
static void tell(unsigned long failing, bool sticky, const struct outcome *outcome,
                 const char *fault)
{
    char text[600];
    ssize_t size = pread(outcome->errors, text, sizeof text - 1, 0);
    text[size > 0 ? size : 0] = '\0';
    dprintf(STDOUT_FILENO, "allocation %lu%s fails: %s (status %d, %ld blocks live)\n%s", failing,
            sticky ? " and all after it" : "", fault, WEXITSTATUS(outcome->status),
            outcome->ledger.live, text);
}

/* Whether the n-th call (from 1) is among the first of its stack. */
static bool worth_trying(unsigned long n)
{
    if (n > MOST_CALLS || getenv("EVENROW_FAIL_ALL"))
        return true;
    unsigned earlier = 0;
    for (unsigned long i = 0; i < n - 1 && earlier < TRIED_OF_A_STACK; i++)
        earlier += stacks[i] == stacks[n - 1];
    return earlier < TRIED_OF_A_STACK;
}

static void *shared(size_t size)
{
    void *memory = mmap(NULL, size, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    if (memory == MAP_FAILED)
        complain("mmap");
    return memory;
}

struct tally {
    unsigned long clean, harmless, faults;
};

/* Looks at how a run ended, and tells what was wrong with it. */
static void weigh(unsigned long failing, bool sticky, const struct outcome *outcome,
                  const struct outcome *undisturbed, struct tally *tally)
{
    const char *trouble = fault(outcome, undisturbed);
    if (trouble) {
        tell(failing, sticky, outcome, trouble);
        tally->faults++;
    } else if (failing > 0 && WEXITSTATUS(outcome->status) == NO_MEMORY_STATUS) {
        tally->clean++;
    } else if (failing > 0) {
        tally->harmless++;
    }
}

/* Runs main with each allocation failing in turn. Returns true in a child. */
static bool run_all(struct tally *tally)
{
    enum { FAULTS_TOLD = 10 };
    struct outcome undisturbed, outcome;
    if (run(0, false, &undisturbed))
        return true;
    weigh(0, false, &undisturbed, &undisturbed, tally);
    for (int round = 0; round < 2; round++) {
        for (unsigned long n = 1; n <= undisturbed.ledger.calls; n++) {
            if (!worth_trying(n) || tally->faults >= FAULTS_TOLD)
                continue;
            if (run(n, round == 1, &outcome))
                return true;
            weigh(n, round == 1, &outcome, &undisturbed, tally);
            forget(&outcome);
        }
    }
    return false;
}

__attribute__((constructor)) static void take_over(void)
{
    struct tally tally = {0};
    void *caller;
    backtrace(&caller, 1); /* the first time it allocates */
    ledger = shared(sizeof *ledger);
    stacks = shared(MOST_CALLS * sizeof *stacks);
    if (run_all(&tally))
        return;
    dprintf(STDOUT_FILENO,
            "%lu runs ended with status %d, %lu did without the allocation, %lu were wrong\n",
            tally.clean, NO_MEMORY_STATUS, tally.harmless, tally.faults);
    files_in_folder(NULL);
    _exit(tally.faults == 0 && tally.clean > 0 ? EXIT_SUCCESS : EXIT_FAILURE);
}
