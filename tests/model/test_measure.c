#include "run.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "model/quantity.h"

START_TEST(kinds_keep_their_ends)
{
    ck_assert(!measure_known(measure_missing()));
    ck_assert_double_nan(measure_point(measure_missing()));
    ck_assert(measure_held(measure_at_least(135)));
    ck_assert(!measure_held(measure_exact(135)));
    ck_assert(isinf(measure_at_least(135).high));
    ck_assert(isinf(measure_at_most(40).low));
    ck_assert_double_eq(measure_point(measure_at_least(135)), 135);
    ck_assert_double_eq(measure_point(measure_at_most(40)), 40);
    ck_assert_double_eq(measure_point(measure_between(40, 60)), 50);
    ck_assert_int_eq(measure_between(40, 40).kind, MEASURE_EXACT);
    ck_assert(measure_same(measure_between(60, 40), measure_between(40, 60)));
    ck_assert_int_eq(measure_exact(NAN).kind, MEASURE_MISSING);
    ck_assert_int_eq(measure_at_most(INFINITY).kind, MEASURE_MISSING);
    ck_assert_int_eq(measure_at_least(-INFINITY).kind, MEASURE_MISSING);
    ck_assert(measure_same(measure_missing(), measure_missing()));
    ck_assert(!measure_same(measure_exact(135), measure_at_least(135)));
}
END_TEST

START_TEST(codes_go_both_ways)
{
    enum measure_kind back;

    for (enum measure_kind k = MEASURE_EXACT; k <= MEASURE_BETWEEN; k++) {
        ck_assert(measure_kind_from_code(measure_kind_code(k), &back));
        ck_assert_int_eq(back, k);
    }
    ck_assert_ptr_null(measure_kind_code(MEASURE_MISSING));
    ck_assert(!measure_kind_from_code("held", &back));
    ck_assert(!measure_kind_from_code(NULL, &back));
}
END_TEST

static const struct {
    const char *text;
    enum dimension dimension;
    enum unit_system system;
    enum measure_kind kind;
    double low, high;
    const char *entry;
} cells[] = {
    {"", DIM_ANGLE, UNITS_METRIC, MEASURE_MISSING, NAN, NAN, ""},
    {" – ", DIM_ANGLE, UNITS_METRIC, MEASURE_MISSING, NAN, NAN, ""},
    {"135", DIM_ANGLE, UNITS_METRIC, MEASURE_EXACT, 135, 135, "135°"},
    {"135+", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_LEAST, 135, INFINITY, "at least 135°"},
    {"135°+", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_LEAST, 135, INFINITY, "at least 135°"},
    {"135+ deg", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_LEAST, 135, INFINITY, "at least 135°"},
    {">=135", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_LEAST, 135, INFINITY, "at least 135°"},
    {"≥ 135", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_LEAST, 135, INFINITY, "at least 135°"},
    {">135", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_LEAST, 135, INFINITY, "at least 135°"},
    {"At least 135°", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_LEAST, 135, INFINITY, "at least 135°"},
    {"<=40", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_MOST, -INFINITY, 40, "at most 40°"},
    {"≤40", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_MOST, -INFINITY, 40, "at most 40°"},
    {"<40", DIM_ANGLE, UNITS_METRIC, MEASURE_AT_MOST, -INFINITY, 40, "at most 40°"},
    {"40..60", DIM_ANGLE, UNITS_METRIC, MEASURE_BETWEEN, 40, 60, "40° to 60°"},
    {"40 .. 60°", DIM_ANGLE, UNITS_METRIC, MEASURE_BETWEEN, 40, 60, "40° to 60°"},
    {"40° to 60°", DIM_ANGLE, UNITS_METRIC, MEASURE_BETWEEN, 40, 60, "40° to 60°"},
    {"40…60", DIM_ANGLE, UNITS_METRIC, MEASURE_BETWEEN, 40, 60, "40° to 60°"},
    {"60..60", DIM_ANGLE, UNITS_METRIC, MEASURE_EXACT, 60, 60, "60°"},
    {"-3..-1", DIM_NUMBER, UNITS_METRIC, MEASURE_BETWEEN, -3, -1, "-3 to -1"},
    {"40..60 mm", DIM_LENGTH, UNITS_INCH, MEASURE_BETWEEN, 40, 60, "40 mm to 60 mm"},
    {"1..2", DIM_LENGTH, UNITS_INCH, MEASURE_BETWEEN, 25.4, 50.8, "1 in to 2 in"},
    {"1 in..60 mm", DIM_LENGTH, UNITS_METRIC, MEASURE_BETWEEN, 25.4, 60, "1 in to 60 mm"},
    {"2+", DIM_LENGTH, UNITS_INCH, MEASURE_AT_LEAST, 50.8, INFINITY, "at least 2 in"},
    {"0,5+", DIM_NUMBER, UNITS_METRIC, MEASURE_AT_LEAST, 0.5, INFINITY, "at least 0.5"},
    {"1e+2", DIM_NUMBER, UNITS_METRIC, MEASURE_EXACT, 100, 100, "1e+2"},
    {"+5", DIM_NUMBER, UNITS_METRIC, MEASURE_EXACT, 5, 5, "+5"},
};

START_TEST(result_cells)
{
    struct measure m;
    struct error e = {0};
    char entry[ENTRY_SIZE];

    ck_assert_msg(
        measure_parse(cells[_i].text,
                      &(struct quantity_form){cells[_i].dimension, cells[_i].system, NULL}, &m,
                      entry, &e) == 0,
        "%s: %s", cells[_i].text, e.text);
    ck_assert_int_eq(m.kind, cells[_i].kind);
    if (m.kind == MEASURE_MISSING) {
        ck_assert(isnan(m.low) && isnan(m.high));
    } else {
        ck_assert_double_eq(m.low, cells[_i].low);
        ck_assert_double_eq(m.high, cells[_i].high);
    }
    ck_assert_str_eq(entry, cells[_i].entry);
}
END_TEST

static const struct {
    const char *text, *says;
} bad_cells[] = {
    {"60..40", "'60..40': the smaller value comes first"},
    {"held", "'held' is not an angle; write it like 90 or 90°"},
    {">=", "nothing is written; an angle is wanted, such as 90 or 90°"},
    {"..", NULL},
    {"40..", NULL},
    {"..60", NULL},
    {"+", NULL},
    {"135++", NULL},
    {">135+", NULL},
    {"1..2..3", NULL},
    {"135 mm", "'135 mm' is a length; an angle is wanted, in ° or rad"},
    {"\xc3\x28", NULL},
};

START_TEST(bad_result_cells)
{
    struct measure m;
    struct error e = {0};

    ck_assert_msg(measure_parse(bad_cells[_i].text, &(struct quantity_form){.dimension = DIM_ANGLE},
                                &m, NULL, &e) < 0,
                  "'%s' was taken", bad_cells[_i].text);
    if (bad_cells[_i].says != NULL)
        ck_assert_str_eq(e.text, bad_cells[_i].says);
    ck_assert_int_eq(m.kind, MEASURE_MISSING);
}
END_TEST

START_TEST(shown_in_words)
{
    char out[80];

    measure_format(out, sizeof out, measure_at_least(135), DIM_ANGLE, UNITS_METRIC);
    ck_assert_str_eq(out, "at least 135°");
    measure_format(out, sizeof out, measure_at_most(25.4), DIM_LENGTH, UNITS_INCH);
    ck_assert_str_eq(out, "at most 1 in");
    measure_format(out, sizeof out, measure_between(40, 60), DIM_ANGLE, UNITS_METRIC);
    ck_assert_str_eq(out, "40° to 60°");
    measure_format(out, sizeof out, measure_missing(), DIM_ANGLE, UNITS_METRIC);
    ck_assert_str_eq(out, "–");
}
END_TEST

/* A seeded stream of doubles of every size, so that a failure can be seen again. */
static double any_double(uint64_t *state)
{
    double value;

    do {
        *state = *state * 6364136223846793005u + 1442695040888963407u;
        memcpy(&value, &(uint64_t){*state ^ (*state >> 29)}, sizeof value);
    } while (!isfinite(value));
    return value;
}

START_TEST(plain_form_reads_back_exactly)
{
    uint64_t state = test_seed(20260307);

    for (int i = 0; i < 3000; i++) {
        double a = any_double(&state), b = any_double(&state);
        struct measure all[] = {measure_exact(a), measure_at_least(a), measure_at_most(a),
                                measure_between(a, b), measure_missing()};

        for (size_t k = 0; k < sizeof all / sizeof *all; k++) {
            struct measure back;
            char text[96];

            measure_format_plain(text, sizeof text, all[k]);
            ck_assert_msg(measure_parse(text, &(struct quantity_form){.dimension = DIM_LENGTH},
                                        &back, NULL, NULL) == 0,
                          "%s", text);
            ck_assert_msg(measure_same(back, all[k]), "%s", text);
        }
    }
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("model/measure");
    TCase *t = tcase_create("measure");

    tcase_add_test(t, kinds_keep_their_ends);
    tcase_add_test(t, codes_go_both_ways);
    tcase_add_loop_test(t, result_cells, 0, sizeof cells / sizeof *cells);
    tcase_add_loop_test(t, bad_result_cells, 0, sizeof bad_cells / sizeof *bad_cells);
    tcase_add_test(t, shown_in_words);
    tcase_add_test(t, plain_form_reads_back_exactly);
    tcase_set_timeout(t, 60);
    suite_add_tcase(s, t);
    return s;
}
