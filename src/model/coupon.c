#include "model/coupon.h"
