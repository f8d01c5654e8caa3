/* The words for kinds of pipe (evenrow/catalogue.h). */
#include "layout/pipe_kinds.h"

#include "evenrow/catalogue.h"

const char *const er_pipe_kinds[] = {"pvc", "poly", "layflat", "oval", NULL};

const char *er_pipe_kind_name(enum er_pipe_kind kind)
{
    return kind == ER_PIPE_KIND_UNKNOWN ? NULL : er_pipe_kinds[kind - 1];
}
