/* Runs a program again and again, each time with another allocation that fails.
 *
 * This object is preloaded into the program under test. Before main begins it takes
 * over and lets a child run main. At each of its allocations that child, the leader, forks
 * twice: in one fork that allocation alone returns NULL, in the other it and all that follow;
 * the leader looks at how each ended, and goes on. So no fork has to do again what came
 * before its allocation. Where a fork would share more than memory with the leader (a file
 * that is being written, threads), main is run anew from its beginning instead.
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
    MOST_FILES = 64, /* that the program has open at once */
    SECONDS_FOR_A_RUN = 60,
    STREAM_BUFFER = 65536,
    STACK_DEPTH = 40, /* innermost callers that tell one call stack from another */
    TRIED_OF_A_STACK = 3,
    MOST_CALLS = 1 << 20 /* beyond, a call is always tried */
};

/* What a child tells its parent; it lives in memory that both share. */
struct ledger {
    unsigned long calls; /* allocations asked for */
    long live;           /* blocks not freed yet */
    bool finished;       /* the child came to its end, so `live` is the last word */
};

/* How one run ended, and what it wrote. */
struct outcome {
    int status; /* as waitpid gives it */
    int output, errors;
    int files; /* what its files hold, one after the other */
    size_t file_count;
    struct ledger ledger;
};

struct tally {
    unsigned long clean, harmless, faults;
};

/* Memory that all these processes share. */
static struct shared {
    struct ledger of_main, of_fork;
    struct tally tally;
    uint64_t stacks[MOST_CALLS];     /* of the undisturbed run: each call's, as a hash */
    bool from_beginning[MOST_CALLS]; /* the call must be tried so */
} * shared;
static bool noting_stacks;
static struct outcome undisturbed;
static int told; /* where what was found is told */

static struct ledger *ledger; /* of this process, if it is a child */
static bool armed;            /* in a child: counting, and failing when its turn comes */
static bool leading;          /* in the leader: forking, too */
static unsigned long turn;
static bool and_all_after;

static void fork_here(unsigned long n);

/* FNV-1a over the return addresses, which are the same in every child of one parent. */
static uint64_t stack_hash(void)
{
    void *callers[STACK_DEPTH];
    int depth = backtrace(callers, STACK_DEPTH);
    const unsigned char *bytes = (const unsigned char *)callers;
    uint64_t hash = 14695981039346656037u;
    for (size_t i = 0; i < (size_t)depth * sizeof *callers; i++) {
        hash = (hash ^ bytes[i]) * 1099511628211u;
    }
    return hash;
}

static bool must_fail(void)
{
    if (!armed) {
        return false;
    }
    if (noting_stacks && ledger->calls < MOST_CALLS) {
        shared->stacks[ledger->calls] = stack_hash();
    }
    ledger->calls++;
    if (leading) {
        fork_here(ledger->calls);
    }
    return turn != 0 && (ledger->calls == turn || (and_all_after && ledger->calls > turn));
}

static void *out_of_memory(void)
{
    errno = ENOMEM;
    return NULL;
}

static void *counted(void *block)
{
    if (armed && block) {
        ledger->live++;
    }
    return block;
}

void *malloc(size_t size) { return must_fail() ? out_of_memory() : counted(__libc_malloc(size)); }

void *calloc(size_t count, size_t size)
{
    return must_fail() ? out_of_memory() : counted(__libc_calloc(count, size));
}

void *realloc(void *block, size_t size)
{
    if (must_fail()) {
        return out_of_memory();
    }
    void *moved = __libc_realloc(block, size);
    if (armed && block && !moved) {
        ledger->live--; /* a realloc to nothing frees */
    }
    return block ? moved : counted(moved);
}

void free(void *block)
{
    if (armed && block) {
        ledger->live--;
    }
    __libc_free(block);
}

static void complain(const char *what)
{
    fprintf(stderr, "failing allocator: %s: %s\n", what, strerror(errno));
    _exit(EXIT_FAILURE);
}

static int empty_file(const char *name)
{
    int file = memfd_create(name, MFD_CLOEXEC);
    if (file < 0) {
        complain(name);
    }
    return file;
}

static void count_and_fail(unsigned long failing, bool sticky)
{
    alarm(leading ? 0 : SECONDS_FOR_A_RUN);
    turn = failing;
    and_all_after = sticky;
    armed = true;
}

static void write_into(const struct outcome *outcome)
{
    if (dup2(outcome->output, STDOUT_FILENO) < 0 || dup2(outcome->errors, STDERR_FILENO) < 0) {
        complain("output");
    }
}

/* Before main. */
static void prepare_streams(const struct outcome *outcome)
{
    /* Streams with buffers of their own, so that libc's do not look like leaks. */
    static char input_buffer[STREAM_BUFFER], output_buffer[STREAM_BUFFER],
        errors_buffer[STREAM_BUFFER];
    const char *input = getenv("EVENROW_FAIL_STDIN");
    int in = open(input ? input : "/dev/null", O_RDONLY);
    if (in < 0 || dup2(in, STDIN_FILENO) < 0) {
        complain("standard input");
    }
    close(in);
    write_into(outcome);
    setvbuf(stdin, input_buffer, _IOFBF, sizeof input_buffer);
    setvbuf(stdout, output_buffer, _IOFBF, sizeof output_buffer);
    setvbuf(stderr, errors_buffer, _IOLBF, sizeof errors_buffer);
}

__attribute__((destructor)) static void end_child(void)
{
    if (armed) {
        ledger->finished = true;
    }
    armed = false;
}

/* Appends what a file holds, from its beginning. */
static void append_file(int file, int to)
{
    char bytes[4096];
    ssize_t got;
    for (off_t at = 0; (got = pread(file, bytes, sizeof bytes, at)) > 0; at += got) {
        if (write(to, bytes, (size_t)got) != got) {
            complain("a copy");
        }
    }
    if (got < 0) {
        complain("a file");
    }
}

static void append_named(int folder, const char *name, int to)
{
    int file = openat(folder, name, O_RDONLY);
    if (file < 0) {
        complain(name);
    }
    append_file(file, to);
    close(file);
}

typedef void use_entry(int folder, const char *name, int to);

static void remove_named(int folder, const char *name, int to)
{
    (void)to;
    if (unlinkat(folder, name, 0) != 0) {
        complain(name);
    }
}

static void leave(int folder, const char *name, int to) { (void)folder, (void)name, (void)to; }

/* Uses what a folder holds, and counts it. */
static size_t in_folder(const char *name, use_entry *use, int to)
{
    DIR *folder = name ? opendir(name) : NULL;
    if (!folder) {
        return 0;
    }
    size_t count = 0;
    for (struct dirent *entry; (entry = readdir(folder));) {
        if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0) {
            continue;
        }
        count++;
        use(dirfd(folder), entry->d_name, to);
    }
    closedir(folder);
    return count;
}

static const char *output_folder(void) { return getenv("EVENROW_FAIL_FOLDER"); }

/* Forks. In the child returns true; in the parent, when the child has ended, false. */
static bool fork_and_wait(struct outcome *outcome, struct ledger *of_child)
{
    outcome->output = empty_file("output");
    outcome->errors = empty_file("errors");
    outcome->files = empty_file("files");
    pid_t child = fork();
    if (child < 0) {
        complain("fork");
    }
    if (child == 0) {
        ledger = of_child;
        return true;
    }
    if (waitpid(child, &outcome->status, 0) != child) {
        complain("waitpid");
    }
    outcome->ledger = *of_child;
    outcome->file_count = in_folder(output_folder(), append_named, outcome->files);
    in_folder(output_folder(), remove_named, 0);
    return false;
}

/* Runs main from its beginning with the given allocation failing (0: none). Returns true in the
 * child, which has to go on to main. */
static bool run(unsigned long failing, bool sticky, struct outcome *outcome)
{
    memset(&shared->of_main, 0, sizeof shared->of_main);
    if (!fork_and_wait(outcome, &shared->of_main)) {
        return false;
    }
    prepare_streams(outcome);
    count_and_fail(failing, sticky);
    return true;
}

/* Goes on from here with the given allocation failing, which is the one asked for just now.
 * Returns true in the child, which has to go on. */
static bool go_on(unsigned long failing, bool sticky, struct outcome *outcome)
{
    off_t at[MOST_FILES]; /* the child reads and moves on in the same files */
    for (int file = 0; file < MOST_FILES; file++) {
        at[file] = lseek(file, 0, SEEK_CUR);
    }
    shared->of_fork = *ledger;
    if (!fork_and_wait(outcome, &shared->of_fork)) {
        for (int file = 0; file < MOST_FILES; file++) {
            if (at[file] >= 0 && lseek(file, at[file], SEEK_SET) != at[file]) {
                complain("lseek");
            }
        }
        return false;
    }
    leading = false;
    append_file(STDOUT_FILENO, outcome->output);
    append_file(STDERR_FILENO, outcome->errors);
    write_into(outcome);
    count_and_fail(failing, sticky);
    return true;
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
    if (size < 0) {
        complain("lseek");
    }
    return (size_t)size;
}

static bool same_text(int one, int other)
{
    size_t size = size_of(one);
    if (size != size_of(other)) {
        return false;
    }
    char here[4096], there[4096];
    for (size_t at = 0; at < size;) {
        ssize_t got = pread(one, here, sizeof here, (off_t)at);
        if (got <= 0 || pread(other, there, (size_t)got, (off_t)at) != got ||
            memcmp(here, there, (size_t)got) != 0) {
            return false;
        }
        at += (size_t)got;
    }
    return true;
}

/* Whether standard error holds one line, and it speaks of memory. */
static bool clean_message(int errors)
{
    char text[1024];
    ssize_t size = pread(errors, text, sizeof text - 1, 0);
    if (size <= 0) {
        return false;
    }
    text[size] = '\0';
    return strchr(text, '\n') == text + size - 1 && strstr(text, "memory");
}

/* NULL if the run ended well. */
static const char *fault(const struct outcome *outcome)
{
    if (WIFSIGNALED(outcome->status)) {
        return strsignal(WTERMSIG(outcome->status));
    }
    if (!outcome->ledger.finished) {
        return "it left without ending in order";
    }
    if (outcome->ledger.live != 0) {
        return outcome->ledger.live > 0 ? "it leaked" : "it freed more than it had";
    }
    if (WEXITSTATUS(outcome->status) != NO_MEMORY_STATUS) {
        bool same = outcome->status == undisturbed.status &&
                    same_text(outcome->output, undisturbed.output) &&
                    same_text(outcome->errors, undisturbed.errors) &&
                    outcome->file_count == undisturbed.file_count &&
                    same_text(outcome->files, undisturbed.files);
        return same ? NULL : "its status, output or file is another than without the failure";
    }
    if (size_of(outcome->output) != 0) {
        return "status 3, but something on standard output";
    }
    if (!clean_message(outcome->errors)) {
        return "status 3, but not one clean line about memory";
    }
    return outcome->file_count == 0 ? NULL : "status 3, but a file was left behind";
}

/* Written without a stream: a child would inherit what the stream still holds. */
static void tell(unsigned long failing, bool sticky, const struct outcome *outcome,
                 const char *fault)
{
    char text[600];
    ssize_t size = pread(outcome->errors, text, sizeof text - 1, 0);
    text[size > 0 ? size : 0] = '\0';
    dprintf(told, "allocation %lu%s fails: %s (status %d, %ld blocks live)\n%s", failing,
            sticky ? " and all after it" : "", fault, WEXITSTATUS(outcome->status),
            outcome->ledger.live, text);
}

/* Whether the n-th call (from 1) is among the first of its stack. */
static bool worth_trying(unsigned long n)
{
    enum { FAULTS_TOLD = 10 };
    if (shared->tally.faults >= FAULTS_TOLD) {
        return false;
    }
    if (n > MOST_CALLS || getenv("EVENROW_FAIL_ALL")) {
        return true;
    }
    unsigned earlier = 0;
    for (unsigned long i = 0; i < n - 1 && earlier < TRIED_OF_A_STACK; i++) {
        earlier += shared->stacks[i] == shared->stacks[n - 1];
    }
    return earlier < TRIED_OF_A_STACK;
}

/* Looks at how a run ended, and tells what was wrong with it. */
static void weigh(unsigned long failing, bool sticky, struct outcome *outcome)
{
    const char *trouble = fault(outcome);
    if (trouble) {
        tell(failing, sticky, outcome, trouble);
        shared->tally.faults++;
    } else if (failing > 0 && WEXITSTATUS(outcome->status) == NO_MEMORY_STATUS) {
        shared->tally.clean++;
    } else if (failing > 0) {
        shared->tally.harmless++;
    }
}

/* Whether a fork is the leader again in all that matters. */
static bool can_fork(void)
{
    return in_folder(output_folder(), leave, 0) == 0 && in_folder("/proc/self/task", leave, 0) == 1;
}

static void fork_here(unsigned long n)
{
    if (!worth_trying(n)) {
        return;
    }
    armed = false; /* what follows allocates, too */
    if (can_fork()) {
        for (int sticky = 0; sticky < 2; sticky++) {
            struct outcome outcome;
            if (go_on(n, sticky, &outcome)) {
                return;
            }
            weigh(n, sticky, &outcome);
            forget(&outcome);
        }
    } else if (n <= MOST_CALLS) {
        shared->from_beginning[n - 1] = true;
    }
    armed = true;
}

/* Runs main with each allocation failing in turn. Returns true in a child. */
static bool run_all(void)
{
    struct outcome outcome;
    noting_stacks = true;
    if (run(0, false, &undisturbed)) {
        return true;
    }
    noting_stacks = false;
    leading = true;
    if (run(0, false, &outcome)) {
        return true;
    }
    leading = false;
    weigh(0, false, &outcome);
    forget(&outcome);
    for (unsigned long n = 1; n <= undisturbed.ledger.calls && n <= MOST_CALLS; n++) {
        for (int sticky = 0; sticky < 2 && shared->from_beginning[n - 1]; sticky++) {
            if (run(n, sticky, &outcome)) {
                return true;
            }
            weigh(n, sticky, &outcome);
            forget(&outcome);
        }
    }
    return false;
}

__attribute__((constructor)) static void take_over(void)
{
    void *caller;
    backtrace(&caller, 1); /* the first time it allocates */
    shared = mmap(NULL, sizeof *shared, PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
    told = fcntl(STDOUT_FILENO, F_DUPFD_CLOEXEC, MOST_FILES);
    if (shared == MAP_FAILED || told < 0) {
        complain("setting up");
    }
    in_folder(output_folder(), remove_named, 0);
    if (run_all()) {
        return;
    }
    dprintf(told, "%lu runs ended with status %d, %lu did without the allocation, %lu were wrong\n",
            shared->tally.clean, NO_MEMORY_STATUS, shared->tally.harmless, shared->tally.faults);
    _exit(shared->tally.faults == 0 && shared->tally.clean > 0 ? EXIT_SUCCESS : EXIT_FAILURE);
}
