/* What a change did to a coupon: one difference in every part, told from and to. */
#include "run.h"

#include <stdlib.h>
#include <string.h>

#include "app/coupon_changes.h"
#include "base/mem.h"
#include "model/variable_key.h"

static struct coupon before, after;
static struct variable_list variables;
static struct trial_list trials;

static void set_up(void)
{
    struct trial *t;

    coupon_init(&before);
    variable_list_init(&variables);
    trials = (struct trial_list){0};
    t = trial_list_add(&trials);
    strcpy(t->id, "a");
    t->name = mem_copy("laps");
    t = trial_list_add(&trials);
    strcpy(t->id, "b");
    t->name = mem_copy("tees");
    strcpy(before.trial, "a");
    before.mark = mem_copy("07");
    before.when = (struct instant){1772888700000, 60};
    coupon_set_number(&before, KEY_VOLTS, measure_exact(20), NULL);
    coupon_set_category(&before, "joint", "tee");
    coupon_add_pass(&before)->arc_s = 14;
    before.bead_mm = 80;
    coupon_copy(&after, &before);
}

static void tear_down(void)
{
    coupon_free(&before);
    coupon_free(&after);
    trial_list_free(&trials);
    variable_list_free(&variables);
}

/* "What: from → to" of all, one a line. */
static void changes_are(const char *expected)
{
    struct coupon_changes all =
        coupon_changes_between(&variables, &trials, &before, &after, UNITS_METRIC);
    char *text = mem_copy("");

    for (size_t i = 0; i < all.count; i++) {
        char *longer = mem_format("%s%s: %s → %s\n", text, all.items[i].what, all.items[i].from,
                                  all.items[i].to);

        free(text);
        text = longer;
    }
    ck_assert_str_eq(text, expected);
    free(text);
    coupon_changes_free(&all);
}

START_TEST(like_coupons_have_no_changes)
{
    changes_are("");
}
END_TEST

START_TEST(every_part_is_told_from_and_to)
{
    strcpy(after.trial, "b");
    free(after.mark);
    after.mark = mem_copy("08");
    after.who = mem_copy("bench 2");
    coupon_set_number(&after, KEY_VOLTS, measure_exact(22), NULL);
    coupon_unset(&after, "joint");
    coupon_set_number(&after, KEY_BEND_ANGLE, measure_at_least(90), NULL);
    after.passes[0].arc_s = 20;
    coupon_add_pass(&after)->side = 2;
    after.bend.end = BEND_HELD;
    after.bend.before_deg = 90;
    after.bead_mm = 60;
    coupon_add_flaw(&after)->iso6520 = 4013;
    coupon_add_photo(&after)->path = mem_copy("face.jpg");
    after.note = mem_copy("second try");
    after.struck_why = mem_copy("wrong plate");
    changes_are("Trial: laps → tees\n"
                "Mark: 07 → 08\n"
                "Logged by:  → bench 2\n"
                "Joint: tee → \n"
                "Volts: 20 V → 22 V\n"
                "Bend angle:  → at least 90°\n"
                "pass 1: arc 14 s → arc 20 s\n"
                "pass 2:  → side 2\n"
                "How it ended: not bent yet → held to the stop\n"
                "Included angle before:  → 90°\n"
                "Length of face read: 80 mm → 60 mm\n"
                "flaw 1:  → 4013 lack of root fusion\n"
                "photograph 1:  → face.jpg\n"
                "Note:  → second try\n"
                "Struck out:  → wrong plate\n");
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("app/coupon_changes");
    TCase *t = tcase_create("coupon_changes");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_test(t, like_coupons_have_no_changes);
    tcase_add_test(t, every_part_is_told_from_and_to);
    suite_add_tcase(s, t);
    return s;
}
