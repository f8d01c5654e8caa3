/* The whole of the library: a field file read, solved and judged. */
#ifndef EVENROW_EVENROW_H
#define EVENROW_EVENROW_H

#include "evenrow/arena.h"
#include "evenrow/bill.h"
#include "evenrow/catalogue.h"
#include "evenrow/check.h"
#include "evenrow/demand.h"
#include "evenrow/field.h"
#include "evenrow/hydraulics.h"
#include "evenrow/inject.h"
#include "evenrow/problems.h"
#include "evenrow/reach.h"
#include "evenrow/reading.h"
#include "evenrow/status.h"
#include "evenrow/units.h"
#include "evenrow/writing.h"

#endif
