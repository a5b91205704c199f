#include "model/units.h"
