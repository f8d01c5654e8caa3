/* Dosing: from a rate of nutrient to a stock solution and an injector. */
#include "evenrow/inject.h"

/* Standard atomic weights. */
#define PHOSPHORUS 30.973762
#define POTASSIUM 39.0983
#define OXYGEN 15.999

double er_nutrient_share(const struct er_product *product, enum er_nutrient nutrient)
{
    const double *analysis = product->analysis;
    switch (nutrient) {
    case ER_PHOSPHORUS:
        return analysis[ER_PHOSPHATE] * 2.0 * PHOSPHORUS / (2.0 * PHOSPHORUS + 5.0 * OXYGEN);
    case ER_POTASSIUM:
        return analysis[ER_POTASH] * 2.0 * POTASSIUM / (2.0 * POTASSIUM + OXYGEN);
    case ER_NITROGEN:
    case ER_PHOSPHATE:
    case ER_POTASH:
    case ER_NUTRIENT_COUNT:
        break;
    }
    return nutrient < ER_PHOSPHORUS ? analysis[nutrient] : ER_NONE;
}

double er_strongest_stock(const struct er_product *product)
{
    return er_given(product->density) ? product->density : product->solubility;
}

double er_dose_nutrient(const struct er_dose *dose, double area, double length, double flow,
                        double time)
{
    switch (dose->kind) {
    case ER_DOSE_PER_AREA:
        return dose->amount * area;
    case ER_DOSE_PER_LENGTH:
        return dose->amount * length;
    case ER_DOSE_CONCENTRATION:
        return dose->amount * flow * time;
    case ER_DOSE_NONE:
        break;
    }
    return 0.0;
}

/* As strong as is usual where nothing else is settled. */
static double usual_strength(const struct er_product *product)
{
    return er_given(product->density) ? product->density : ER_STOCK_SHARE * product->solubility;
}

struct er_stock er_stock_make(const struct er_inject *inject, double product, double time,
                              double flow)
{
    struct er_stock stock = {ER_NONE, ER_NONE, ER_NONE, ER_NONE};
    switch (inject->stock_kind) {
    case ER_STOCK_FREE:
        stock.volume = product / usual_strength(&inject->product);
        break;
    case ER_STOCK_STRENGTH:
        stock.volume = product / inject->stock;
        break;
    case ER_STOCK_TANK:
        stock.volume = inject->stock;
        break;
    case ER_STOCK_RATIO:
        stock.volume = flow / (inject->stock + 1.0) * time;
        break;
    case ER_STOCK_FLOW:
        stock.volume = inject->stock * time;
        break;
    }
    stock.strength = product / stock.volume;
    stock.flow = stock.volume / time;
    stock.ratio = flow / stock.flow - 1.0;
    return stock;
}
