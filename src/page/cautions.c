#include "page/cautions.h"

const char caution_scope[] =
    "This is an informal comparison of coupons. It is not a qualified procedure (WPS/PQR), not a "
    "welder qualification, and no basis for lifting, pressure, vehicle or structural work: that "
    "belongs to the local code and to licensed practice.";

const char caution_work[] =
    "Never weld, preheat or grind coated or solvent-wet metal before the coating is off (zinc fume "
    "fever, phosgene). Fume, arc rays, shock, fire and hot coupons hurt. A coupon under load can "
    "let go: face shield, guard, stand out of line. 'coldlap --help' has the whole list; see ANSI "
    "Z49.1 and your local rules.";

const char caution_short[] =
    "Informal comparison, not a qualified procedure; no basis for structural work.";

const struct caution caution_list[] = {
    {"Coatings", "Never weld, preheat or grind coated or solvent-wet metal before the coating or "
                 "the solvent is off: zinc gives fume fever, some solvents give phosgene."},
    {"Fume",
     "Bare steel gives it too, self-shielded wire most: head out of the plume, air moving."},
    {"Arc rays", "They burn eyes and skin, also of those who stand by: screen and shade for all."},
    {"Shock", "A stick electrode is live whenever the machine is on, a wire while the trigger is "
              "pressed: dry gloves, dry clothes, nothing wet underfoot."},
    {"Fire", "Clear away what burns and watch afterwards; grinders and wire wheels throw sparks."},
    {"Hot metal", "Coupons stay hot longer than they look. Do not quench one to hurry."},
    {"Splinters", "Slag, grinding and brushing: glasses, under the hood as well."},
    {"Folding", "A coupon being folded stores energy and can let go, a bar can slip, a press "
                "pinches, broken edges cut: face shield, guard, nobody in line."},
    {"And more",
     "Bottles are chained upright; no welding in closed or confined spaces or on closed "
     "vessels; ears are guarded; a pacemaker stays away from machine and leads."},
    {NULL, NULL},
};

void cautions_add(struct page *p)
{
    page_add(p, BLOCK_CAUTION, "%s", caution_scope);
    page_add(p, BLOCK_CAUTION, "%s", caution_work);
}

void cautions_add_all(struct page *p)
{
    page_add(p, BLOCK_HEADING, "Cautions");
    for (const struct caution *c = caution_list; c->about != NULL; c++)
        page_add(p, BLOCK_ITEM, "%s: %s", c->about, c->text);
    page_add(p, BLOCK_TEXT, "ANSI Z49.1 and your local rules say the rest.");
    page_add(p, BLOCK_CAUTION, "%s", caution_scope);
}
