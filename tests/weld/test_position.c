/* Welding positions, ISO 6947 and AWS A3.0 [mem]. */
#include "run.h"

#include "weld/position.h"

START_TEST(both_names_find_one_row)
{
    static const char *const pairs[][2] = {{"PA", "1F"},    {"PA", "1G"},     {"PB", "2F"},
                                           {"PC", "2G"},    {"PD", "4F"},     {"PE", "4G"},
                                           {"PF", "3F-up"}, {"PG", "3G-down"}};
    size_t i;

    for (i = 0; i < sizeof pairs / sizeof *pairs; i++) {
        ck_assert_ptr_nonnull(position_find(pairs[i][0]));
        ck_assert_ptr_eq(position_find(pairs[i][0]), position_find(pairs[i][1]));
    }
    ck_assert_ptr_eq(position_find("pb"), position_find("PB"));
}
END_TEST

/* Tables go round that number the positions straight through (PC 3G, PD 4G) or call PB 2G. */
START_TEST(wrong_tables)
{
    static const char *const wrong[][2] = {{"PC", "3G"}, {"PC", "3G-up"},   {"PD", "4G"},
                                           {"PB", "2G"}, {"PF", "3G-down"}, {"PE", "4F"}};
    size_t i;

    for (i = 0; i < sizeof wrong / sizeof *wrong; i++)
        ck_assert_ptr_ne(position_find(wrong[i][0]), position_find(wrong[i][1]));
    ck_assert_ptr_null(position_find("3G")); /* up or down? */
    ck_assert_ptr_null(position_find("PH"));
    ck_assert_ptr_null(position_find(""));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("weld/position");
    TCase *t = tcase_create("position");

    tcase_add_test(t, both_names_find_one_row);
    tcase_add_test(t, wrong_tables);
    suite_add_tcase(s, t);
    return s;
}
