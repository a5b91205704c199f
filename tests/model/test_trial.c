#include "run.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/mem.h"
#include "model/trial.h"

START_TEST(sets_are_made_once_and_levels_kept_once)
{
    struct trial t;

    trial_init(&t);
    ck_assert_double_nan(t.stop_deg);
    level_set_add(trial_set_for(&t, "thickness"), "3 mm");
    level_set_add(trial_set_for(&t, "gas"), "CO2");
    level_set_add(trial_set_for(&t, "thickness"), "6 mm");
    level_set_add(trial_set_for(&t, "thickness"), "3 mm");
    ck_assert_uint_eq(t.set_count, 2);
    ck_assert_uint_eq(t.sets[0].count, 2);
    ck_assert_str_eq(t.sets[0].levels[1], "6 mm");
    trial_free(&t);
    ck_assert_ptr_null(t.sets);
}
END_TEST

START_TEST(a_copy_shares_nothing)
{
    struct trial from, to;

    trial_init(&from);
    memcpy(from.id, "0123456789abcdef", 16);
    from.name = mem_copy("benches");
    from.result = mem_copy("fused_share");
    from.note = mem_copy("the new bench");
    from.revision = 7;
    from.when = (struct instant){1700000000000, 60};
    level_set_add(trial_set_for(&from, "gas"), "CO2");
    level_set_add(trial_set_for(&from, "gas"), "M21");
    from.question = mem_copy("Does the second side matter?");
    from.stop_deg = 135;
    level_set_add(trial_set_for(&from, "sides"), "both");
    trial_copy(&to, &from);
    trial_free(&from);
    ck_assert_str_eq(to.name, "benches");
    ck_assert_str_eq(to.id, "0123456789abcdef");
    ck_assert_str_eq(to.question, "Does the second side matter?");
    ck_assert_str_eq(to.result, "fused_share");
    ck_assert_str_eq(to.note, "the new bench");
    ck_assert_int_eq(to.revision, 7);
    ck_assert_int_eq(to.when.utc_ms, 1700000000000);
    ck_assert_int_eq(to.when.offset_minutes, 60);
    ck_assert_uint_eq(to.set_count, 2);
    ck_assert_str_eq(to.sets[0].variable, "gas");
    ck_assert_uint_eq(to.sets[0].count, 2);
    ck_assert_str_eq(to.sets[0].levels[1], "M21");
    ck_assert_str_eq(to.sets[1].levels[0], "both");
    ck_assert_double_eq(to.stop_deg, 135);
    trial_free(&to);
    ck_assert_ptr_null(to.name);
    ck_assert_double_nan(to.stop_deg);
}
END_TEST

START_TEST(found_by_name_in_any_case)
{
    struct trial_list list = {0};

    for (int i = 0; i < 20; i++)
        trial_list_add(&list)->name = mem_format("Trial %d", i);
    ck_assert_ptr_eq(trial_list_find(&list, "tRIAL 11"), &list.items[11]);
    ck_assert_ptr_null(trial_list_find(&list, "Trial"));
    snprintf(list.items[7].id, ID_SIZE, "%s", "seventh");
    ck_assert_ptr_eq(trial_list_with_id(&list, "seventh"), &list.items[7]);
    ck_assert_ptr_null(trial_list_with_id(&list, "Seventh"));
    ck_assert_double_nan(list.items[19].stop_deg);
    trial_list_free(&list);
    ck_assert_uint_eq(list.count, 0);
    ck_assert_ptr_null(list.items);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("model/trial");
    TCase *t = tcase_create("trial");

    tcase_add_test(t, sets_are_made_once_and_levels_kept_once);
    tcase_add_test(t, a_copy_shares_nothing);
    tcase_add_test(t, found_by_name_in_any_case);
    suite_add_tcase(s, t);
    return s;
}
