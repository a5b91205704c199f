#include "app/cautions.h"

const char caution_scope[] =
    "This is an informal comparison of coupons. It is not a qualified procedure (WPS/PQR), not a "
    "welder qualification, and no basis for lifting, pressure, vehicle or structural work: that "
    "belongs to the local code and to licensed practice.";

const char caution_work[] =
    "Never weld, preheat or grind coated or solvent-wet metal before the coating is off (zinc fume "
    "fever, phosgene). Arc rays, a live wire and hot coupons hurt. A coupon under load can let go: "
    "face shield, guard, stand out of line. See ANSI Z49.1 and your local rules.";

const char caution_short[] =
    "Informal comparison, not a qualified procedure; no basis for structural work.";

void cautions_add(struct page *p)
{
    page_add(p, BLOCK_CAUTION, "%s", caution_scope);
    page_add(p, BLOCK_CAUTION, "%s", caution_work);
}
