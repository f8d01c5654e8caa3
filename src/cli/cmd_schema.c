#include <stdlib.h>

#include "cli/commands.h"
#include "cli/files.h"
#include "cli/message.h"
#include "evenrow/reading.h"

int er_run_schema(const struct er_command_line *line)
{
    char *schema = er_schema_text();
    if (schema == NULL) {
        return er_message_no_memory();
    }
    struct er_text out;
    er_text_init(&out);
    er_text_append(&out, schema);
    if (out.length > 0 && out.data[out.length - 1] != '\n') {
        er_text_append(&out, "\n");
    }
    int status = out.out_of_memory ? er_message_no_memory() : er_write_output(line, &out);
    er_text_release(&out);
    free(schema);
    return status;
}
