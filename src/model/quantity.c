#include "model/quantity.h"
