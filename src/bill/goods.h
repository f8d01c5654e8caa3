/* Goods that are bought by the piece: the key of each, by which a file gives its price, and what it
 * is, in the order of enum er_good. That none is left out is seen where the keys are made. */
#ifndef ER_BILL_GOODS_H
#define ER_BILL_GOODS_H

#include "evenrow/bill.h"

/* A list for macros, since the table of the keys of "prices" is made of it at compile time. */
#define ER_EACH_GOOD(GOOD)                                                                         \
    GOOD(ER_TAPE_FITTING, "tape_fitting", "fitting between header and tape"),                      \
        GOOD(ER_TAPE_COUPLING, "tape_coupling", "coupling for tape"),                              \
        GOOD(ER_TAPE_END, "tape_end", "closure of a tape's far end"),                              \
        GOOD(ER_PIPE_COUPLING, "pipe_coupling", "coupling for pipe"),                              \
        GOOD(ER_PIPE_END, "pipe_end", "cap or plug at a pipe's end"),                              \
        GOOD(ER_TEE, "tee", "tee where one pipe leaves another"),                                  \
        GOOD(ER_VALVE, "valve", "valve that opens a zone"),                                        \
        GOOD(ER_REGULATOR, "regulator", "pressure regulator of a zone"),                           \
        GOOD(ER_FILTER, "filter", "filter of the headworks"),                                      \
        GOOD(ER_GAUGE, "gauge", "pressure gauge"),                                                 \
        GOOD(ER_TEST_POINT, "test_point", "tap to hold a gauge to"),                               \
        GOOD(ER_AIR_VENT, "air_vent", "air vent and vacuum relief"),                               \
        GOOD(ER_FLUSH_VALVE, "flush_valve", "valve at a pipe's end to flush it"),                  \
        GOOD(ER_CHECK_VALVE, "check_valve", "check valve"),                                        \
        GOOD(ER_BACKFLOW_ASSEMBLY, "backflow_assembly", "backflow prevention assembly"),           \
        GOOD(ER_INJECTOR, "injector", "fertilizer injector")

#endif
