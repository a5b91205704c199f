/* The rows of a part as fields of a form; the rows themselves are tested in tests/model. */
#include "run.h"

#include <math.h>

#include "model/coupon.h"
#include "tui/widget/part_form.h"

enum { STANDS_FOR = 7 };

START_TEST(every_row_is_a_field_with_what_it_holds)
{
    struct pass pass = {1, 2, 35, NAN, 18.5, NAN, NAN, NAN, NAN};
    struct form form = {0};
    size_t rows = 0;

    form_begin(&form);
    part_fill(&form, part_pass_rows, &pass, UNITS_INCH, STANDS_FOR);
    form_end(&form);
    while (part_pass_rows[rows].key != NULL)
        rows++;
    ck_assert_uint_eq(form.count, rows);
    for (size_t i = 0; i < rows; i++) {
        ck_assert_str_eq(form.items[i].label, part_pass_rows[i].as.label);
        ck_assert_str_eq(form.items[i].help, part_pass_rows[i].as.help);
        ck_assert_int_eq(form.items[i].part, STANDS_FOR);
        ck_assert_uint_eq(form.items[i].index, i);
    }
    ck_assert_str_eq(form.items[0].value, "2");
    ck_assert_str_eq(form.items[0].choices, "1|2");
    ck_assert_str_eq(form.items[1].value, "35 s");
    ck_assert_str_eq(form.items[2].value, "");
    ck_assert_str_eq(form.items[2].unit, "in");
    ck_assert_ptr_null(form.items[2].choices);
    form_free(&form);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/part");
    TCase *t = tcase_create("part");

    tcase_add_test(t, every_row_is_a_field_with_what_it_holds);
    suite_add_tcase(s, t);
    return s;
}
