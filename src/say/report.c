/* The forms of a report, chosen in one place. */
#include "say/report.h"

static enum er_status write_page(struct er_page *page, enum er_told_as form, struct er_text *out)
{
    return form == ER_AS_HTML ? er_page_as_html(page, out) : er_page_as_text(page, out);
}

enum er_status er_report_as(const struct er_report *report, enum er_told_as form,
                            const void *result, enum er_system system, struct er_text *out)
{
    if (form == ER_AS_JSON) {
        return report->json(result, system, out);
    }
    if (form == ER_AS_CSV) {
        return report->csv(result, system, out);
    }
    struct er_page page;
    er_page_init(&page, system);
    report->page(result, &page);
    enum er_status status = write_page(&page, form, out);
    er_page_release(&page);
    return status;
}

enum er_status er_report_explained(const struct er_report *report, enum er_told_as form,
                                   const void *result, enum er_system system, struct er_text *out)
{
    struct er_page page;
    er_page_init(&page, system);
    report->page(result, &page);
    enum er_status status = report->explain(result, &page);
    if (status == ER_OK) {
        status = write_page(&page, form, out);
    }
    er_page_release(&page);
    return status;
}
