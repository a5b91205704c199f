#include "model/trial.h"
