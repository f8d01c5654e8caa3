/* What every part of the field writer needs. */
#include "field/writer.h"

#include <string.h>

#include "base/number.h"
#include "json/write.h"

enum er_status er_writer_init(struct er_writer *writer, enum er_system system)
{
    *writer = (struct er_writer){.system = system};
    return er_catalogue_open(&writer->catalogue);
}

void er_writer_release(struct er_writer *writer)
{
    er_catalogue_release(&writer->catalogue);
    er_arena_release(&writer->arena);
}

void *er_writer_array(struct er_writer *writer, size_t count, size_t size)
{
    void *array = er_arena_array(&writer->arena, count, size);
    writer->failed = writer->failed || array == NULL;
    return array;
}

bool er_writer_assumed(const struct er_writer *writer, const struct er_key *key, const void *of)
{
    for (size_t i = 0; i < writer->field->assumption_count; i++) {
        const struct er_assumption *assumption = &writer->field->assumptions[i];
        const char *last = strrchr(assumption->pointer, '/');
        if (assumption->of == of && last != NULL && strcmp(last + 1, key->name) == 0) {
            return true;
        }
    }
    return false;
}

/* A few times the error of a conversion: 12 in are 304.8 mm, and not 304.79999999999995. */
#define SLACK 1e-15

double er_writer_slack(const struct er_writer *writer)
{
    return writer->field->system == writer->system ? 0.0 : SLACK;
}

/* How a written quantity or percent will be read. */
struct reading {
    enum er_quantity quantity;
    enum er_system system;
    const struct er_key_range *range;
};

static double read_quantity(double number, const void *context)
{
    const struct reading *reading = context;
    const double value = er_to_si(reading->quantity, reading->system, number);
    return er_in_range(reading->range, value) ? value : (double)NAN;
}

static double read_percent(double number, const void *context)
{
    const struct reading *reading = context;
    return er_in_range(reading->range, number) ? number / 100.0 : (double)NAN;
}

double er_writer_quantity(const struct er_writer *writer, enum er_quantity quantity,
                          const struct er_key_range *range, double value)
{
    const struct reading reading = {quantity, writer->system, range};
    return er_number_for(value, er_writer_slack(writer),
                         er_from_si(quantity, writer->system, value), read_quantity, &reading);
}

double er_writer_percent(const struct er_key_range *range, double value)
{
    const struct reading reading = {.range = range};
    return er_number_for(value, 0.0, value * 100.0, read_percent, &reading);
}

void er_write_number(struct er_writer *writer, cJSON *parent, const char *key, double number)
{
    cJSON *item = cJSON_CreateNumber(number);
    if (item != NULL) {
        item->valueint = 0;
    }
    er_build_add(parent, key, item, &writer->failed);
}
