#include "model/variable.h"
