/* Runs a fuzz target over files, or over all files of folders, without a fuzzer.
 * A target that finds something wrong aborts; so does a sanitizer. */
#define _POSIX_C_SOURCE 200809L

#include <dirent.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Runs one file; returns whether it could be read. */
static int run_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL) {
        perror(path);
        return 0;
    }
    uint8_t *data = NULL;
    size_t size = 0, room = 0;
    for (;;) {
        if (size == room) {
            room = room == 0 ? 4096 : 2 * room;
            uint8_t *grown = realloc(data, room);
            if (grown == NULL) {
                free(data);
                fclose(file);
                return 0;
            }
            data = grown;
        }
        size_t count = fread(data + size, 1, room - size, file);
        if (count == 0) {
            break;
        }
        size += count;
    }
    int good = ferror(file) == 0;
    fclose(file);
    /* A block of the exact size, so that a sanitizer sees a read past the end. */
    uint8_t *exact = malloc(size > 0 ? size : 1);
    if (exact != NULL && good) {
        if (size > 0) {
            memcpy(exact, data, size);
        }
        LLVMFuzzerTestOneInput(exact, size);
    }
    good = good && exact != NULL;
    free(exact);
    free(data);
    return good;
}

/* Runs all files of a folder; returns how many, or -1 if one could not be read. */
static int run_folder(DIR *folder, const char *path)
{
    int count = 0;
    for (struct dirent *entry = readdir(folder); entry != NULL; entry = readdir(folder)) {
        if (entry->d_name[0] == '.') {
            continue;
        }
        char name[4096];
        int length = snprintf(name, sizeof name, "%s/%s", path, entry->d_name);
        if (length < 0 || (size_t)length >= sizeof name || !run_file(name)) {
            return -1;
        }
        count++;
    }
    return count;
}

int main(int argc, char **argv)
{
    int total = 0;
    for (int i = 1; i < argc; i++) {
        DIR *folder = opendir(argv[i]);
        int count = folder != NULL ? run_folder(folder, argv[i]) : run_file(argv[i]) ? 1 : -1;
        if (folder != NULL) {
            closedir(folder);
        }
        if (count < 0) {
            return 1;
        }
        total += count;
    }
    printf("%d inputs\n", total);
    return total > 0 ? 0 : 1; /* no inputs: somebody named the wrong folder */
}
