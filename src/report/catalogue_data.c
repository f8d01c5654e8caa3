/* The catalogue for programs and spreadsheets. */
#include "report/catalogue_lists.h"
#include "say/csv.h"
#include "say/json.h"

/* The units of a list's columns, by key. */
static void add_units(struct er_json *json, cJSON *parent, const struct er_list *list)
{
    cJSON *units = er_json_object(json, parent, list->name);
    for (size_t i = 0; i < list->column_count; i++) {
        const char *unit = er_list_unit(&list->columns[i], json->system);
        if (unit != NULL) {
            er_json_text(json, units, list->columns[i].key, unit);
        }
    }
}

static void add_entries(struct er_json *json, cJSON *parent, const struct er_list *list)
{
    cJSON *entries = er_json_array(json, parent, list->name);
    for (size_t entry = 0; entry < list->entry_count; entry++) {
        cJSON *object = er_json_object(json, entries, NULL);
        for (size_t i = 0; i < list->column_count; i++) {
            const struct er_listed *column = &list->columns[i];
            if (er_list_is_words(column)) {
                er_json_text(json, object, column->key, er_list_words(list, entry, i));
            } else {
                er_json_number(json, object, column->key,
                               er_list_number(list, entry, i, json->system));
            }
        }
    }
}

enum er_status er_report_catalogue_json(const struct er_catalogue *catalogue,
                                        enum er_catalogue_kind kind, enum er_system system,
                                        struct er_text *out)
{
    cJSON *root = cJSON_CreateObject();
    struct er_json json = {.system = system, .failed = root == NULL};
    er_json_text(&json, root, "evenrow", EVENROW_VERSION);
    cJSON *units = er_json_object(&json, root, "units");
    for (unsigned k = 0; k < ER_CATALOGUE_KINDS; k++) {
        if (kind == ER_CATALOGUE_KINDS || kind == (enum er_catalogue_kind)k) {
            struct er_list list = er_catalogue_list(catalogue, (enum er_catalogue_kind)k);
            add_units(&json, units, &list);
            add_entries(&json, root, &list);
        }
    }
    return er_json_end(&json, root, out);
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
