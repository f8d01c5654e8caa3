#include "report/figures.h"

#include <string.h>

#define AT(member) offsetof(struct er_zone_result, member)
#define COUNT(key, member)                                                                         \
    {                                                                                              \
        key, NULL, ER_FIGURE_COUNT, ER_QUANTITY_COUNT, AT(member)                                  \
    }
#define NUMBER(key, member)                                                                        \
    {                                                                                              \
        key, NULL, ER_FIGURE_NUMBER, ER_QUANTITY_COUNT, AT(member)                                 \
    }
#define PERCENT(key, member)                                                                       \
    {                                                                                              \
        key, NULL, ER_FIGURE_PERCENT, ER_QUANTITY_COUNT, AT(member)                                \
    }
#define QUANTITY(key, quantity, member)                                                            \
    {                                                                                              \
        key, NULL, ER_FIGURE_QUANTITY, quantity, AT(member)                                        \
    }
#define PART(key, part, quantity, member)                                                          \
    {                                                                                              \
        key, part, ER_FIGURE_QUANTITY, quantity, AT(member)                                        \
    }
#define PER_DEPTH(key, part, member)                                                               \
    {                                                                                              \
        key, part, ER_FIGURE_TIME_PER_DEPTH, ER_QUANTITY_COUNT, AT(member)                         \
    }

static const struct er_figure all_figures[] = {
    COUNT("beds", beds),
    QUANTITY("tape_length", ER_LENGTH, tape_length),
    NUMBER("emitters", emitters),
    QUANTITY("area", ER_AREA, area),
    QUANTITY("bed_area", ER_AREA, bed_area),
    QUANTITY("flow", ER_FLOW, flow),
    QUANTITY("join_pressure", ER_PRESSURE, join_pressure),
    QUANTITY("inlet_pressure", ER_PRESSURE, inlet_pressure),
    PART("tape_inlet_pressure", "min", ER_PRESSURE, tape_inlet_pressure.min),
    PART("tape_inlet_pressure", "max", ER_PRESSURE, tape_inlet_pressure.max),
    QUANTITY("far_end_pressure", ER_PRESSURE, far_end_pressure),
    PART("emitter_pressure", "min", ER_PRESSURE, emitter_pressure.min),
    PART("emitter_pressure", "max", ER_PRESSURE, emitter_pressure.max),
    PART("emitter_flow", "min", ER_EMITTER_FLOW, emitter_flow.min),
    PART("emitter_flow", "mean", ER_EMITTER_FLOW, mean_emitter_flow),
    PART("emitter_flow", "max", ER_EMITTER_FLOW, emitter_flow.max),
    PERCENT("emission_uniformity", emission_uniformity),
    PERCENT("flow_variation", flow_variation),
    PERCENT("christiansen", christiansen),
    PERCENT("low_quarter", low_quarter),
    PERCENT("statistical_uniformity", statistical_uniformity),
    QUANTITY("header_velocity", ER_VELOCITY, header_velocity),
    QUANTITY("gross_depth", ER_DEPTH, gross_depth),
    QUANTITY("run_time", ER_TIME, run_time),
    QUANTITY("gross_per_length", ER_VOLUME_PER_LENGTH, gross_per_length),
    PER_DEPTH("time_per_depth", "spacing", time_per_depth_spacing),
    PER_DEPTH("time_per_depth", "bed", time_per_depth_bed),
    PART("weekly_depth", "spacing", ER_DEPTH, weekly_depth_spacing),
    PART("weekly_depth", "bed", ER_DEPTH, weekly_depth_bed),
    COUNT("pulses", pulses),
};

const struct er_figure *er_figures(size_t *count)
{
    *count = sizeof all_figures / sizeof all_figures[0];
    return all_figures;
}

double er_time_per_depth(double seconds_per_metre, enum er_system system)
{
    double depth = system == ER_US ? ER_INCH : 0.010; /* m */
    return seconds_per_metre * depth / 3600.0;
}

double er_figure_value(const struct er_figure *figure, const struct er_zone_result *zone,
                       enum er_system system)
{
    const char *place = (const char *)zone + figure->offset;
    if (figure->kind == ER_FIGURE_COUNT) {
        size_t whole;
        memcpy(&whole, place, sizeof whole);
        return (double)whole;
    }
    double value;
    memcpy(&value, place, sizeof value);
    switch (figure->kind) {
    case ER_FIGURE_PERCENT:
        return 100.0 * value;
    case ER_FIGURE_QUANTITY:
        return er_from_si(figure->quantity, system, value);
    case ER_FIGURE_TIME_PER_DEPTH:
        return er_time_per_depth(value, system);
    case ER_FIGURE_COUNT:
    case ER_FIGURE_NUMBER:
        break;
    }
    return value;
}
