/* The schema of the field file. */
#include <stdlib.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/message.h"
#include "cli/shared_options.h"
#include "evenrow/reading.h"

static int run_schema(struct er_work *work)
{
    struct er_text *out = &work->report;
    char *schema = er_schema_text();
    if (schema == NULL) {
        return er_message_no_memory();
    }
    er_text_append(out, schema);
    free(schema);
    if (out->length > 0 && out->data[out->length - 1] != '\n') {
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? er_message_no_memory() : er_write_output(work->line, out);
}

static const struct er_option options[] = {ER_OUTPUT_OPTION, ER_FORCE_OPTION, ER_LAST_OPTIONS};

const struct er_command er_schema_command = {
    .name = "schema",
    .operands = "",
    .summary = "The JSON Schema of the field file.",
    .about = "JSON Schema, draft 2020-12. Editors that know it offer the keys and check the file "
             "while it is written.",
    .exits = {"done"},
    .examples = {"evenrow schema -o field.schema.json", "evenrow schema | head -n 20"},
    .options = options,
    .run = run_schema};
