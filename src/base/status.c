/* The statuses in words for people. */
#include "evenrow/status.h"

const char *er_status_text(enum er_status status)
{
    switch (status) {
    case ER_OK:
        return "all went well";
    case ER_BAD_INPUT:
        return "the input cannot be used";
    case ER_NO_MEMORY:
        return "memory ran out";
    case ER_NOT_CLOSED:
        return "the solution did not close";
    case ER_IO:
        return "a file could not be read or written";
    case ER_STATUS_COUNT:
        break;
    }
    return "unknown status";
}
