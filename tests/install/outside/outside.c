/* A program that knows of evenrow only what is installed: reads a field file, checks it, and
 * prints the verdict and the uniformity of its first zone. */
#include <evenrow/evenrow.h>

#include <stdio.h>
#include <stdlib.h>

static char text[1 << 16];

static int check(const struct er_field *field)
{
    static const char *const verdicts[] = {
        [ER_HOLDS] = "HOLDS", [ER_WITH_CAUTION] = "CAUTION", [ER_FAILS] = "FAILS"};
    struct er_result result;
    struct er_failure failure;
    if (er_check(field, field->system, &result, &failure) != ER_OK) {
        return EXIT_FAILURE;
    }
    printf("%s: EU is %.1f %%\n", verdicts[result.verdict],
           100.0 * result.zones[0].emission_uniformity);
    er_result_release(&result);
    return EXIT_SUCCESS;
}

static int read_and_check(const char *name, size_t length)
{
    struct er_problems problems;
    struct er_document *document = NULL;
    struct er_field field;
    int status = EXIT_FAILURE;
    er_problems_init(&problems);
    if (er_document_open(name, text, length, &document, &problems) == ER_OK &&
        er_field_read(document, &field, &problems) == ER_OK) {
        status = check(&field);
        er_field_release(&field);
    }
    er_document_release(document);
    er_problems_release(&problems);
    return status;
}

int main(int count, char **arguments)
{
    FILE *stream = count == 2 ? fopen(arguments[1], "rb") : NULL;
    if (stream == NULL) {
        return EXIT_FAILURE;
    }
    size_t length = fread(text, 1, sizeof text, stream);
    fclose(stream);
    return read_and_check(arguments[1], length);
}
