/* The forms of a report, chosen in one place. */
#include "say/report.h"

static enum er_status write_page(const struct er_report *report, enum er_told_as form,
                                 bool explained, const void *result, enum er_system system,
                                 struct er_text *out)
{
    struct er_page page;
    er_page_init(&page, system);
    report->page(result, &page);
    enum er_status status = explained ? report->explain(result, &page) : ER_OK;
    if (status == ER_OK) {
        status = form == ER_AS_HTML ? er_page_as_html(&page, out) : er_page_as_text(&page, out);
    }
    er_page_release(&page);
    return status;
}

static struct er_teller teller_of(const void *result, enum er_system system)
{
    return (struct er_teller){{.system = system}, {.system = system}, result};
}

static enum er_status write_json(const struct er_report *report, const void *result,
                                 enum er_system system, struct er_text *out)
{
    struct er_teller teller = teller_of(result, system);
    cJSON *root = er_json_root(&teller.json);
    report->json(&teller, root);
    teller.json.failed = teller.json.failed || teller.pen.out_of_memory;
    er_pen_release(&teller.pen);
    return er_json_end(&teller.json, root, out);
}

static enum er_status write_csv(const struct er_report *report, const void *result,
                                enum er_system system, struct er_text *out)
{
    struct er_teller teller = teller_of(result, system);
    report->csv(&teller, out);
    out->out_of_memory = out->out_of_memory || teller.pen.out_of_memory;
    er_pen_release(&teller.pen);
    return out->out_of_memory ? ER_NO_MEMORY : ER_OK;
}

enum er_status er_report_as(const struct er_report *report, enum er_told_as form,
                            const void *result, enum er_system system, struct er_text *out)
{
    switch (form) {
    case ER_AS_JSON:
        return write_json(report, result, system, out);
    case ER_AS_CSV:
        return write_csv(report, result, system, out);
    default:
        return write_page(report, form, false, result, system, out);
    }
}

enum er_status er_report_explained(const struct er_report *report, enum er_told_as form,
                                   const void *result, enum er_system system, struct er_text *out)
{
    return write_page(report, form, true, result, system, out);
}
