#include "run.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jansson.h>

#include "base/mem.h"
#include "exchange/export.h"
#include "exchange/mapping.h"

static struct variable_list variables;

static void add_own(const char *key, enum variable_kind kind, enum variable_role role,
                    enum dimension dimension, const char *unit)
{
    struct variable v = {.key = key,
                         .label = key,
                         .kind = kind,
                         .role = role,
                         .dimension = dimension,
                         .unit = unit,
                         .group = role == ROLE_RESULT ? GROUP_RESULT : GROUP_OTHER,
                         .can = {-INFINITY, INFINITY},
                         .usual = {-INFINITY, INFINITY}};

    ck_assert_int_eq(variable_add(&variables, &v, NULL), 0);
}

static void set_up(void)
{
    variable_list_init(&variables);
    add_own("plate_no", VARIABLE_CATEGORY, ROLE_CAUSE, DIM_NUMBER, NULL);
    add_own("hammer", VARIABLE_NUMBER, ROLE_CAUSE, DIM_NUMBER, "blows");
    add_own("overhang", VARIABLE_NUMBER, ROLE_CAUSE, DIM_NUMBER, "mm");
    add_own("strength", VARIABLE_NUMBER, ROLE_RESULT, DIM_NUMBER, "kg/mm2");
}

static void tear_down(void)
{
    variable_list_free(&variables);
}

/* A seeded stream, so that a failure can be seen again. */
static uint32_t draw(uint64_t *state, uint32_t below)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (uint32_t)(*state >> 33) % below;
}

static double draw_between(uint64_t *state, double low, double high)
{
    low = fmax(low, -1e6);
    high = fmin(high, 1e6);
    return low + (high - low) * (draw(state, 1u << 30) / (double)(1u << 30));
}

static const char *const texts[] = {
    "yes",   "no, not \"quite\"",   "Ar 82; CO2 18", "0,9", "007", "= SUM(A1)", "135+",
    "é ° ½", "a line\nand another",
};

static struct measure draw_measure(uint64_t *state, const struct variable *v)
{
    double a = draw_between(state, v->can.low, v->can.high),
           b = draw_between(state, v->can.low, v->can.high);

    if (v->dimension == DIM_COUNT)
        return measure_exact(floor(a) + 1);
    switch (v->role == ROLE_RESULT ? draw(state, 4) : 0) {
    case 1:
        return measure_at_least(a);
    case 2:
        return measure_at_most(a);
    case 3:
        return measure_between(a, b);
    default:
        return measure_exact(a);
    }
}

static void draw_value(uint64_t *state, struct coupon *c, const struct variable *v)
{
    if (v->group == GROUP_DERIVED || draw(state, 3) == 0)
        return;
    if (v->kind == VARIABLE_NUMBER)
        coupon_set_number(c, v->key, draw_measure(state, v), NULL);
    else if (v->choices_only)
        coupon_set_category(c, v->key, "DCEP");
    else /* one line; the last text is for notes */
        coupon_set_category(c, v->key, texts[draw(state, sizeof texts / sizeof *texts - 1)]);
}

static void draw_coupons(uint64_t *state, struct coupon_list *list, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        struct coupon *c = coupon_list_add(list);

        c->mark = mem_format("%c-%zu", (char)('A' + draw(state, 3)), i);
        c->when = (struct instant){(int64_t)draw(state, 1u << 30) * 1000 + 1000,
                                   (int)draw(state, 48) * 30 - 720};
        if (draw(state, 2))
            c->who = mem_copy(texts[draw(state, sizeof texts / sizeof *texts - 1)]);
        if (draw(state, 2))
            c->note = mem_copy(texts[draw(state, sizeof texts / sizeof *texts)]);
        if (draw(state, 4) == 0)
            c->struck_why = mem_copy("wrong, plate");
        for (size_t v = 0; v < variables.count; v++)
            draw_value(state, c, &variables.items[v]);
    }
}

static void ck_same_text(const char *a, const char *b)
{
    ck_assert_str_eq(a == NULL ? "" : a, b == NULL ? "" : b);
}

static void ck_same(const struct coupon *a, const struct coupon *b)
{
    ck_assert_str_eq(a->mark, b->mark);
    ck_assert_int_eq(a->when.utc_ms, b->when.utc_ms);
    ck_assert_int_eq(a->when.offset_minutes, b->when.offset_minutes);
    ck_same_text(a->who, b->who);
    ck_same_text(a->note, b->note);
    ck_same_text(a->struck_why, b->struck_why);
    ck_assert_uint_eq(a->value_count, b->value_count);
    for (size_t i = 0; i < a->value_count; i++) {
        const struct value *other = coupon_value(b, a->values[i].variable);

        ck_assert_msg(value_same(&a->values[i], other), "%s of %s", a->values[i].variable, a->mark);
    }
}

/* Written and read back into a book that knows only the built-in variables. */
static void go_round(const struct coupon_list *list, struct import *back, enum unit_system system)
{
    static const char *const results[] = {"strength"};
    struct import_options options = {system, results, 1};
    struct variable_list builtin;
    struct csv_table table;
    struct text csv = {0};
    struct error e = {0};

    variable_list_init(&builtin);
    free(export_csv(&csv, list, &variables, true));
    ck_assert_msg(csv_table_parse(text_str(&csv), csv.length, &table, &e) == 0, "%s", e.text);
    ck_assert_msg(import_table(&table, &builtin, &options, back, &e) == 0, "%s", e.text);
    csv_table_free(&table);
    text_free(&csv);
    variable_list_free(&builtin);
}

START_TEST(a_table_written_reads_back_without_loss)
{
    uint64_t state = (uint64_t)test_seed(20260307) + (unsigned)_i;
    struct coupon_list list = {0};
    struct import back;

    draw_coupons(&state, &list, 20);
    coupon_set_number(&list.items[0], "strength", measure_exact(1), NULL);
    go_round(&list, &back, _i % 2 ? UNITS_INCH : UNITS_METRIC);
    ck_assert_msg(back.rows_rejected == 0, "line %zu, %s: %s", back.rejects[0].line,
                  back.rejects[0].column, back.rejects[0].reason);
    ck_assert_uint_eq(back.coupons.count, list.count);
    for (size_t i = 0; i < list.count; i++)
        ck_same(&list.items[i], &back.coupons.items[i]);
    for (size_t i = back.own_from; i < back.variables.count; i++) {
        const struct variable *v = &back.variables.items[i];
        const struct variable *was = variable_find(&variables, v->key);

        ck_assert(was->kind == v->kind && was->role == v->role && was->dimension == v->dimension);
        ck_same_text(was->unit, v->unit);
    }
    import_free(&back);
    coupon_list_free(&list);
}
END_TEST

START_TEST(the_table_says_its_units)
{
    struct coupon_list list = {0};
    struct text csv = {0};
    struct coupon *c = coupon_list_add(&list);

    c->mark = mem_copy("07");
    c->when = (struct instant){1772888700000, 60};
    coupon_set_number(c, "thickness", measure_exact(7.9375), "5/16 in");
    coupon_set_number(c, "passes", measure_exact(2), NULL);
    coupon_set_number(c, "bend_angle", measure_at_least(135), NULL);
    coupon_set_number(c, "hammer", measure_exact(3), NULL);
    coupon_set_category(c, "plate_no", "7");
    coupon_set_category(c, "gas", "CO2");
    c = coupon_list_add(&list);
    c->mark = mem_copy("08");
    c->struck_why = mem_copy("wrong plate");
    free(export_csv(&csv, &list, &variables, false));
    ck_assert_str_eq(text_str(&csv),
                     "mark,when,gas,thickness (mm),passes,bend_angle (deg),plate_no (category),"
                     "hammer (blows)\n"
                     "07,2026-03-07T14:05:00+01:00,CO2,7.9375,2,135+,7,3\n");
    text_free(&csv);
    free(export_csv(&csv, &list, &variables, true));
    ck_assert_ptr_nonnull(strstr(text_str(&csv), ",struck\n"));
    ck_assert_ptr_nonnull(strstr(text_str(&csv), "\n08,,,,,,,,wrong plate\n"));
    text_free(&csv);
    coupon_list_free(&list);
}
END_TEST

/* A table of no coupons is still one that can be filled in and brought in. */
START_TEST(no_coupons_are_a_header)
{
    struct coupon_list none = {0};
    struct text csv = {0};

    ck_assert_ptr_null(export_csv(&csv, &none, &variables, true));
    ck_assert_str_eq(text_str(&csv), "mark\n");
    text_free(&csv);
}
END_TEST

/* What a spreadsheet would work out; numbers and limits, also negative ones, are none. */
static const struct {
    const char *cell;
    bool formula;
} cells[] = {
    {"=1+1", true}, {"@SUM", true}, {"+x", true},      {"-x", true},   {"-5", false},
    {"+5", false},  {"-5+", false}, {"-5..-3", false}, {"-5=", true},  {"-5.-3", true},
    {"5=", false},  {"a=b", false}, {"-5++", true},    {"\t=1", true},
};

START_TEST(cells_that_a_spreadsheet_would_work_out_are_named)
{
    struct coupon_list list = {0};
    struct text csv = {0};
    struct coupon *c = coupon_list_add(&list);
    char *remark;

    c->mark = mem_copy("07");
    coupon_set_category(c, "machine", cells[_i].cell);
    remark = export_csv(&csv, &list, &variables, false);
    if (cells[_i].formula)
        ck_assert_str_eq(remark, "1 cell begins like a formula (=, +, -, @), which a spreadsheet "
                                 "may work out; the first is machine of coupon 07");
    else
        ck_assert_ptr_null(remark);
    free(remark);
    text_free(&csv);
    coupon_list_free(&list);
}
END_TEST

START_TEST(formulas_are_counted)
{
    struct coupon_list list = {0};
    struct text csv = {0};
    char *remark;

    for (int i = 0; i < 3; i++) {
        struct coupon *c = coupon_list_add(&list);

        c->mark = mem_format("%d", i);
        c->note = mem_copy(i == 0 ? "no" : "=yes");
        c->who = mem_copy(i == 2 ? "-me" : "me");
    }
    remark = export_csv(&csv, &list, &variables, false);
    ck_assert_str_eq(remark, "3 cells begin like a formula (=, +, -, @), which a spreadsheet may "
                             "work out; the first is note of coupon 1");
    free(remark);
    text_free(&csv);
    free(list.items[0].mark);
    list.items[0].mark = mem_copy("=x");
    remark = export_csv(&csv, &list, &variables, false);
    ck_assert_str_eq(remark, "4 cells begin like a formula (=, +, -, @), which a spreadsheet may "
                             "work out; the first is mark of coupon =x");
    free(remark);
    text_free(&csv);
    coupon_list_free(&list);
}
END_TEST

static json_t *written(struct json *root)
{
    char *text = json_write(root);
    json_t *tree = json_loads(text, 0, NULL);

    ck_assert_msg(tree != NULL, "%s", text);
    free(text);
    json_drop(root);
    return tree;
}

static double number_at(json_t *tree, const char *key)
{
    ck_assert_msg(json_is_number(json_object_get(tree, key)), "%s", key);
    return json_number_value(json_object_get(tree, key));
}

/* Read with jansson itself, not with what wrote it. */
START_TEST(json_has_everything)
{
    struct coupon_list list = {0};
    struct coupon *c = coupon_list_add(&list);
    struct trial trial;
    json_t *tree, *coupon, *part;

    trial_init(&trial);
    trial.name = mem_copy("benches");
    level_set_add(trial_set_for(&trial, "sides"), "both");
    c->mark = mem_copy("07");
    c->when = (struct instant){1772888700000, 60};
    coupon_set_number(c, "thickness", measure_exact(7.9375), "5/16 in");
    coupon_set_number(c, "bend_angle", measure_at_least(135), NULL);
    coupon_set_category(c, "gas", "CO2");
    coupon_set_number(c, "hammer", measure_exact(3), NULL);
    coupon_set_number(c, "passes", measure_between(1, 2), NULL);
    coupon_add_pass(c)->arc_s = 25.5;
    coupon_add_pass(c)->side = 2;
    c->bend.end = BEND_HELD;
    c->bend.after_deg = 45;
    c->face_read = true;
    *coupon_add_flaw(c) = (struct flaw){0, 12, 4013, mem_copy("cold start")};
    coupon_add_photo(c)->path = mem_copy("face.jpg");
    tree = written(export_json(&trial, &list, &variables, false));

    ck_assert_int_eq(json_integer_value(json_object_get(tree, "schema")), 1);
    coupon = json_array_get(json_object_get(tree, "coupons"), 0);
    ck_assert_str_eq(json_string_value(json_object_get(coupon, "when")),
                     "2026-03-07T14:05:00+01:00");
    part = json_array_get(json_object_get(coupon, "values"), 0);
    ck_assert_str_eq(json_string_value(json_object_get(part, "unit")), "mm");
    ck_assert_double_eq(number_at(part, "low"), 7.9375);
    ck_assert_str_eq(json_string_value(json_object_get(part, "entry")), "5/16 in");
    part = json_array_get(json_object_get(coupon, "values"), 1);
    ck_assert_str_eq(json_string_value(json_object_get(part, "kind")), "at_least");
    ck_assert(json_is_null(json_object_get(part, "high")));
    part = json_array_get(json_object_get(coupon, "values"), 2);
    ck_assert_str_eq(json_string_value(json_object_get(part, "category")), "CO2");
    part = json_array_get(json_object_get(coupon, "values"), 3);
    ck_assert_str_eq(json_string_value(json_object_get(part, "variable")), "hammer");
    ck_assert_str_eq(json_string_value(json_object_get(part, "unit")), "blows");
    ck_assert(json_is_null(json_object_get(part, "entry")));
    part = json_array_get(json_object_get(coupon, "values"), 4);
    ck_assert(json_is_null(json_object_get(part, "unit")));
    ck_assert_double_eq(number_at(part, "high"), 2);
    ck_assert_int_eq((int)json_integer_value(json_object_get(coupon, "sequence")), 0);
    ck_assert(json_is_null(json_object_get(coupon, "id")));
    ck_assert(json_is_null(json_object_get(coupon, "trial")));
    ck_assert(json_is_null(json_object_get(coupon, "struck")));
    part = json_array_get(json_object_get(coupon, "passes"), 0);
    ck_assert_int_eq((int)number_at(part, "number"), 1);
    ck_assert_double_eq(number_at(part, "arc_s"), 25.5);
    ck_assert(json_is_null(json_object_get(part, "length_mm")));
    ck_assert(json_is_null(json_object_get(part, "side")));
    part = json_array_get(json_object_get(coupon, "passes"), 1);
    ck_assert_int_eq((int)number_at(part, "side"), 2);
    part = json_object_get(coupon, "bend");
    ck_assert_str_eq(json_string_value(json_object_get(part, "end")), "held");
    ck_assert_double_eq(number_at(part, "after_deg"), 45);
    ck_assert(json_is_true(json_object_get(json_object_get(coupon, "face"), "read")));
    part = json_array_get(json_object_get(json_object_get(coupon, "face"), "flaws"), 0);
    ck_assert_int_eq((int)number_at(part, "iso6520"), 4013);
    ck_assert_str_eq(json_string_value(json_object_get(part, "name")), "lack of root fusion");
    ck_assert_uint_eq(json_array_size(json_object_get(coupon, "photos")), 1);
    part = json_object_get(json_object_get(tree, "trial"), "sets");
    ck_assert_uint_eq(json_array_size(part), 1);
    ck_assert_uint_eq(json_array_size(json_object_get(tree, "variables")), 4 + 4);
    part = json_array_get(json_object_get(tree, "variables"), 0);
    ck_assert_str_eq(json_string_value(json_object_get(part, "key")), "gas");
    ck_assert_str_eq(json_string_value(json_object_get(part, "kind")), "category");
    ck_assert_str_eq(json_string_value(json_object_get(part, "role")), "cause");
    ck_assert(json_is_null(json_object_get(part, "unit")) &&
              json_is_false(json_object_get(part, "own")));
    part = json_array_get(json_object_get(tree, "variables"), 7);
    ck_assert_str_eq(json_string_value(json_object_get(part, "label")), "strength");
    ck_assert_str_eq(json_string_value(json_object_get(part, "role")), "result");
    ck_assert_str_eq(json_string_value(json_object_get(part, "kind")), "number");
    ck_assert_str_eq(json_string_value(json_object_get(part, "unit")), "kg/mm2");
    ck_assert(json_is_true(json_object_get(part, "own")));
    part = json_object_get(tree, "trial");
    ck_assert_str_eq(json_string_value(json_object_get(part, "name")), "benches");
    ck_assert(json_is_null(json_object_get(part, "when")) &&
              json_is_null(json_object_get(part, "stop_deg")));
    part = json_array_get(json_object_get(part, "sets"), 0);
    ck_assert_str_eq(json_string_value(json_object_get(part, "variable")), "sides");
    part = json_object_get(part, "levels");
    ck_assert_uint_eq(json_array_size(part), 1);
    ck_assert_str_eq(json_string_value(json_array_get(part, 0)), "both");
    json_decref(tree);
    trial_free(&trial);
    coupon_list_free(&list);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("exchange/export");
    TCase *t = tcase_create("export");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_loop_test(t, a_table_written_reads_back_without_loss, 0, 40);
    tcase_add_test(t, the_table_says_its_units);
    tcase_add_test(t, no_coupons_are_a_header);
    tcase_add_loop_test(t, cells_that_a_spreadsheet_would_work_out_are_named, 0,
                        sizeof cells / sizeof *cells);
    tcase_add_test(t, formulas_are_counted);
    tcase_add_test(t, json_has_everything);
    tcase_set_timeout(t, 60);
    suite_add_tcase(s, t);
    return s;
}
