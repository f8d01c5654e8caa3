/* --set and --patch: what they put in place is no guess any more. */
#include "field/guesses.h"
#include "json/document.h"

enum er_status er_document_set(struct er_document *document, const char *assignment,
                               struct er_problems *problems)
{
    return er_document_assign(document, assignment, er_guesses_drop_set, problems);
}

enum er_status er_document_patch(struct er_document *document, const char *name, const char *text,
                                 size_t length, struct er_problems *problems)
{
    return er_document_merge(document, name, text, length, er_guesses_drop_patched, problems);
}
