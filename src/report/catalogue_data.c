/* The catalogue for programs and spreadsheets. */
#include "report/catalogue_lists.h"
#include "report/csv_text.h"
#include "report/json_build.h"

/* The units of a list's columns, by key. */
static void add_units(cJSON *parent, const struct er_list *list, enum er_system system,
                      bool *failed)
{
    cJSON *units = er_build_add(parent, list->name, cJSON_CreateObject(), failed);
    for (size_t i = 0; i < list->column_count; i++) {
        const char *unit = er_list_unit(&list->columns[i], system);
        if (unit != NULL) {
            er_build_string(units, list->columns[i].key, unit, failed);
        }
    }
}

static void add_entries(cJSON *parent, const struct er_list *list, enum er_system system,
                        bool *failed)
{
    cJSON *entries = er_build_add(parent, list->name, cJSON_CreateArray(), failed);
    for (size_t entry = 0; entry < list->entry_count; entry++) {
        cJSON *object = er_build_add(entries, NULL, cJSON_CreateObject(), failed);
        for (size_t i = 0; i < list->column_count; i++) {
            const struct er_listed *column = &list->columns[i];
            if (er_list_is_words(column)) {
                er_build_string(object, column->key, er_list_words(list, entry, i), failed);
            } else {
                er_build_number(object, column->key, er_list_number(list, entry, i, system),
                                failed);
            }
        }
    }
}

enum er_status er_report_catalogue_json(const struct er_catalogue *catalogue,
                                        enum er_catalogue_kind kind, enum er_system system,
                                        struct er_text *out)
{
    bool failed = false;
    cJSON *root = cJSON_CreateObject();
    if (root == NULL) {
        return ER_NO_MEMORY;
    }
    er_build_string(root, "evenrow", EVENROW_VERSION, &failed);
    cJSON *units = er_build_add(root, "units", cJSON_CreateObject(), &failed);
    for (unsigned k = 0; k < ER_CATALOGUE_KINDS; k++) {
        if (kind == ER_CATALOGUE_KINDS || kind == (enum er_catalogue_kind)k) {
            struct er_list list = er_catalogue_list(catalogue, (enum er_catalogue_kind)k);
            add_units(units, &list, system, &failed);
            add_entries(root, &list, system, &failed);
        }
    }
    if (!failed) {
        er_build_write(root, out);
    }
    cJSON_Delete(root);
    return failed || out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}

enum er_status er_report_catalogue_csv(const struct er_catalogue *catalogue,
                                       enum er_catalogue_kind kind, enum er_system system,
                                       struct er_text *out)
{
    struct er_list list = er_catalogue_list(catalogue, kind);
    for (size_t i = 0; i < list.column_count; i++) {
        const char *unit = er_list_unit(&list.columns[i], system);
        er_text_appendf(out, "%s%s%s", i > 0 ? "," : "", list.columns[i].key,
                        unit != NULL ? "_" : "");
        er_csv_unit(out, unit != NULL ? unit : "");
    }
    er_text_append(out, "\n");
    for (size_t entry = 0; entry < list.entry_count; entry++) {
        for (size_t i = 0; i < list.column_count; i++) {
            if (er_list_is_words(&list.columns[i])) {
                er_csv_text(out, i == 0, er_list_words(&list, entry, i));
            } else {
                er_csv_number(out, i == 0, er_list_number(&list, entry, i, system));
            }
        }
        er_text_append(out, "\n");
    }
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}
