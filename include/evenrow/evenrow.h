/* The whole of the library. */
#ifndef EVENROW_EVENROW_H
#define EVENROW_EVENROW_H

#include "evenrow/arena.h"
#include "evenrow/bill.h"
#include "evenrow/card.h"
#include "evenrow/catalogue.h"
#include "evenrow/check.h"
#include "evenrow/choose.h"
#include "evenrow/date.h"
#include "evenrow/demand.h"
#include "evenrow/divide.h"
#include "evenrow/evapotranspiration.h"
#include "evenrow/field.h"
#include "evenrow/hydraulics.h"
#include "evenrow/inject.h"
#include "evenrow/materials.h"
#include "evenrow/problems.h"
#include "evenrow/reach.h"
#include "evenrow/reading.h"
#include "evenrow/season.h"
#include "evenrow/split.h"
#include "evenrow/status.h"
#include "evenrow/units.h"
#include "evenrow/visit.h"
#include "evenrow/writing.h"

#endif
