#include "model/measure.h"
