/* From a field, or from a document, to the text of a field file. */
#include "field/guesses.h"
#include "field/writer.h"
#include "json/write.h"

static const struct er_layout page = {.columns = 100, .fills = true};

/* The tree as a text; NULL if memory ran out. */
static char *text_of(const cJSON *tree)
{
    struct er_text text;
    er_text_init(&text);
    er_json_write(tree, &page, &text);
    return er_text_take(&text);
}

/* What writing the whole file goes on with. */
struct file_writing {
    struct er_writer *writer;
    const struct er_field_entry *entry;
    cJSON *root;
};

static void write_key(const struct er_key *key, void *context)
{
    const struct file_writing *file = context;
    er_write_field_key(file->writer, file->entry, key->name, file->root);
}

/* Takes away what has its place before its content is known, and then has none. */
static void drop_if_empty(cJSON *root, const char *key)
{
    cJSON *member = cJSON_GetObjectItemCaseSensitive(root, key);
    if (member != NULL && member->child == NULL) {
        cJSON_Delete(cJSON_DetachItemViaPointer(root, member));
    }
}

/* What is not written cannot be guessed. */
static void drop_lost_guesses(struct er_writer *writer, cJSON *root)
{
    cJSON *guesses = er_guesses_carry(root, root, false, NULL, &writer->failed);
    cJSON_DeleteItemFromObjectCaseSensitive(root, "guessed");
    if (guesses != NULL) {
        er_build_add(root, "guessed", guesses, &writer->failed);
    }
}

/* The field as a tree that the caller deletes; NULL if memory ran out. */
static cJSON *tree_of(struct er_writer *writer)
{
    struct file_writing file = {.writer = writer, .root = cJSON_CreateObject()};
    file.entry = file.root == NULL ? NULL : er_writer_field_entry(writer);
    if (file.entry == NULL) {
        cJSON_Delete(file.root);
        return NULL;
    }
    er_object_each_key(&er_field_object, write_key, &file);
    er_write_definitions(writer, file.root, 0);
    if (writer->failed) {
        cJSON_Delete(file.root);
        return NULL;
    }
    drop_if_empty(file.root, "pipes");
    drop_if_empty(file.root, "tapes");
    drop_lost_guesses(writer, file.root);
    if (writer->failed) {
        cJSON_Delete(file.root);
        return NULL;
    }
    return file.root;
}

enum er_status er_field_write(const struct er_field *field, enum er_system system, char **text)
{
    *text = NULL;
    struct er_writer writer;
    if (er_writer_init(&writer, system) == ER_OK) {
        writer.field = field;
        writer.may_shadow = true;
        cJSON *root = tree_of(&writer);
        *text = root == NULL ? NULL : text_of(root);
        cJSON_Delete(root);
    }
    er_writer_release(&writer);
    return *text == NULL ? ER_NO_MEMORY : ER_OK;
}

enum er_status er_document_write(const struct er_document *document, char **text)
{
    *text = text_of(er_document_root(document));
    return *text == NULL ? ER_NO_MEMORY : ER_OK;
}
