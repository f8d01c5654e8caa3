/* The list of what to buy, while it is made. */
#ifndef ER_BILL_LIST_H
#define ER_BILL_LIST_H

#include "bill/rolls.h"
#include "evenrow/bill.h"
#include "evenrow/materials.h"

struct er_list {
    struct er_materials *materials;
    const struct er_field *field;
    const struct er_result *result;
    struct er_prices prices; /* that figures are looked for in */
    size_t count, room;
    struct er_material *lines;
    struct er_material spare; /* written to when memory has run out */
    bool out_of_memory;
};

/* A new line with room for so many reasons. Never NULL. */
struct er_material *er_list_add(struct er_list *list, enum er_material_group group,
                                const char *about, const char *name, size_t reasons);

/* A new line of so many of the goods, with their price. */
struct er_material *er_list_add_goods(struct er_list *list, enum er_material_group group,
                                      enum er_good good, const char *name, double count,
                                      size_t reasons);

/* Puts a length into a line: what the plan takes, what one unit is and costs, and how many. */
void er_list_set_length(struct er_list *list, struct er_material *line, double takes,
                        struct er_price unit_length, struct er_price unit_price, double units);

/* One reason more; `count` of none is none. Where there is one of this kind with the same figures
 * its count grows. */
void er_list_reason(struct er_material *line, enum er_reason_kind kind, double count, double first,
                    double last);

/* A reason of which only the count tells. */
void er_list_count_reason(struct er_material *line, enum er_reason_kind kind, double count);

/* Memory from the materials' arena; NULL, with out_of_memory set, where there is none. */
void *er_list_array(struct er_list *list, size_t count, size_t size);

/* `length` with the waste share. */
double er_list_with_waste(const struct er_list *list, double length);

/* The largest flow that any set takes, m3/s. */
double er_list_largest_flow(const struct er_list *list);

/* Each group of lines, in a file of its own. */
void er_list_tape(struct er_list *list);
void er_list_pipe(struct er_list *list);
void er_list_zones(struct er_list *list);
void er_list_headworks(struct er_list *list);
void er_list_film(struct er_list *list);

/* list_vents.c: zones whose header rises above their valve, and high points of the mainline. */
size_t er_high_headers(const struct er_field *field);
size_t er_high_mainline(const struct er_field *field);

#endif
