/* The catalogue for programs and spreadsheets. */
#include "report/catalog/report.h"

/* The units of a list's members, by key. */
static void add_units(struct er_json *json, cJSON *units, const struct er_list *list)
{
    cJSON *object = er_json_object(json, units, list->name);
    for (const struct er_member *member = list->members; member->key != NULL; member++) {
        const char *unit = er_member_unit(member, json->system);
        if (unit != NULL) {
            er_json_text(json, object, member->key, unit);
        }
    }
}

static void write_json(struct er_teller *t, cJSON *root)
{
    const struct er_listing *listing = t->result;
    cJSON *units = er_json_object(&t->json, root, "units");
    for (unsigned k = 0; k < ER_CATALOGUE_KINDS; k++) {
        const enum er_catalogue_kind kind = (enum er_catalogue_kind)k;
        if (listing->kind == ER_CATALOGUE_KINDS || listing->kind == kind) {
            const struct er_list list = er_catalogue_list(&t->pen, listing->catalogue, kind);
            add_units(&t->json, units, &list);
            er_tell_list(t, root, list.name, list.members, list.entries, list.entry_count,
                         list.entry_size);
        }
    }
}

static void write_csv(struct er_teller *t, struct er_text *out)
{
    const struct er_listing *listing = t->result;
    const struct er_list list = er_catalogue_list(&t->pen, listing->catalogue, listing->kind);
    er_tell_csv(t, list.members, list.entries, list.entry_count, list.entry_size, out);
}

const struct er_report er_catalogue_report = {
    .page = er_catalogue_page, .json = write_json, .csv = write_csv};
