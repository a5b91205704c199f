/* The table of kinds, and answers as a page and as JSON. */
#include "run.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "calc/json.h"
#include "calc/page.h"
#include "line.h"

/* Every row of the table is complete, and every example runs. */
START_TEST(the_table_is_complete)
{
    const struct calc_kind *k;
    size_t i, j;

    for (i = 0; (k = calc_kind_at(i)) != NULL; i++) {
        struct calc_answer a;
        struct error e;
        char line[LINE], *s;

        snprintf(line, sizeof line, "%s|%s", k->name, k->example);
        for (s = line; *s != '\0'; s++)
            *s = *s == ' ' ? '|' : *s;
        ck_assert_msg(run(line, UNITS_INCH, &a, &e) == 0, "%s: %s", line, e.text);
        ck_assert_uint_gt(a.figure_count, 0);
        for (j = 0; j < a.figure_count; j++)
            ck_assert_ptr_nonnull(a.figures[j].unit);
        calc_answer_free(&a);
        for (j = 0; k->outputs[j].key != NULL; j++) {
            const struct calc_output *o = &k->outputs[j];

            ck_assert_ptr_nonnull(o->label);
            ck_assert_ptr_nonnull(o->formula);
            ck_assert_ptr_nonnull(o->source);
            ck_assert(o->dimension == DIM_NUMBER || o->dimension == DIM_COUNT ||
                      calc_unit(o->dimension, o->unit) != NULL);
            ck_assert(o->twin_key == NULL || unit_shown(o->dimension, UNITS_INCH) != NULL);
        }
        ck_assert_uint_lt(j, CALC_OUTPUTS);
        for (j = 0; k->arguments[j].key != NULL; j++) {
            const struct calc_argument *x = &k->arguments[j];

            ck_assert_ptr_nonnull(x->help);
            ck_assert(x->dimension == DIM_NUMBER || x->dimension == DIM_COUNT ||
                      calc_unit(x->dimension, x->unit) != NULL);
            ck_assert((x->type == CALC_CHOICE) == (x->choices != NULL));
        }
        ck_assert_uint_lt(j, CALC_ARGUMENTS);
        ck_assert_ptr_nonnull(k->needs);
        ck_assert_ptr_nonnull(k->range);
    }
    ck_assert_uint_eq(i, 10);
}
END_TEST

/* Those that could be taken for permission carry the cautions. */
START_TEST(which_kinds_carry_the_cautions)
{
    static const char *const with[] = {"cooling", "preheat", "hinge", "bend", "duty"};
    size_t found = 0;

    for (size_t i = 0; i < sizeof with / sizeof *with; i++)
        ck_assert_msg(calc_kind_find(with[i])->permission, "%s", with[i]);
    for (size_t i = 0; calc_kind_at(i) != NULL; i++)
        found += calc_kind_at(i)->permission;
    ck_assert_uint_eq(found, sizeof with / sizeof *with);
}
END_TEST

/* A cell of the page's table, by the first cell of its row; NULL when there is no such row. */
static const char *cell(const struct page *p, const char *first, size_t column)
{
    for (size_t i = 0; i < p->count; i++)
        for (size_t row = 0; row < p->blocks[i].row_count; row++)
            if (strcmp(p->blocks[i].rows[row].cells[0], first) == 0)
                return p->blocks[i].rows[row].cells[column];
    return NULL;
}

static size_t blocks_of(const struct page *p, enum block_kind kind)
{
    size_t n = 0;

    for (size_t i = 0; i < p->count; i++)
        n += p->blocks[i].kind == kind;
    return n;
}

static size_t rows_of(const struct page *p)
{
    size_t n = 0;

    for (size_t i = 0; i < p->count; i++)
        n += p->blocks[i].row_count;
    return n;
}

START_TEST(pages_of_kinds)
{
    struct page p = {0};

    calc_kinds_page(&p);
    for (size_t i = 0; calc_kind_at(i) != NULL; i++)
        ck_assert_str_eq(cell(&p, calc_kind_at(i)->name, 1), calc_kind_at(i)->summary);
    page_free(&p);
    calc_kind_page(&calc_wire, &p);
    ck_assert_str_eq(cell(&p, "diameter", 1), "in mm");
    ck_assert_str_eq(cell(&p, "feed", 1), "in m/min");
    ck_assert_str_eq(cell(&p, "time", 1), "in s; 6 s if not said");
    ck_assert_str_eq(cell(&p, "kind", 1), "solid|cored; solid if not said");
    ck_assert_str_eq(cell(&p, "efficiency", 1), ""); /* a share of one or % */
    ck_assert_str_eq(cell(&p, "process", 1), "");
    ck_assert_str_eq(cell(&p, "dial", 1), "");
    page_free(&p);
    calc_kind_page(&calc_carbon, &p);
    ck_assert_str_eq(cell(&p, "C", 1), "in %");
    page_free(&p);
}
END_TEST

/* A verdict alone has no figures, so nothing it is worked out by. */
START_TEST(pages_of_answers)
{
    struct calc_answer a;
    struct error e;
    struct page p = {0};

    ck_assert_int_eq(run("bend|flaws=3", UNITS_METRIC, &a, &e), 0);
    calc_answer_page(&a, &p);
    ck_assert_uint_eq(blocks_of(&p, BLOCK_TABLE), 0);
    ck_assert_uint_eq(blocks_of(&p, BLOCK_HEADING), 0);
    ck_assert_uint_eq(blocks_of(&p, BLOCK_ANSWER), 1);
    calc_answer_free(&a);
    page_free(&p);
    ck_assert_int_eq(run("fillet|leg=6±0", UNITS_METRIC, &a, &e), 0);
    calc_answer_page(&a, &p);
    ck_assert_str_eq(cell(&p, "Throat", 1), "4.24 mm");
    ck_assert_uint_eq(blocks_of(&p, BLOCK_HEADING), 1);
    /* two notes; five figures, each with its formula */
    ck_assert_uint_eq(a.note_count, 2);
    ck_assert_uint_eq(rows_of(&p), 5);
    ck_assert_uint_eq(blocks_of(&p, BLOCK_ITEM), 2 + 5);
    ck_assert_uint_eq(blocks_of(&p, BLOCK_ANSWER), 0);
    calc_answer_free(&a);
    page_free(&p);
}
END_TEST

static json_t *json_of(const char *line)
{
    struct calc_answer a;
    struct error e;
    json_error_t where;
    json_t *root;
    char *text;

    ck_assert_msg(run(line, UNITS_INCH, &a, &e) == 0, "%s", e.text);
    text = calc_json(&a);
    root = json_loads(text, 0, &where);
    ck_assert_msg(root != NULL, "%s in %s", where.text, text);
    free(text);
    calc_answer_free(&a);
    return root;
}

START_TEST(json_has_every_figure_under_its_key)
{
    json_t *root = json_of("heat|volts=20|amps=300|speed=2.5mm/s|process=135");

    ck_assert_int_eq(json_integer_value(json_object_get(root, "schema")), 1);
    ck_assert_double_eq_tol(json_number_value(json_object_get(root, "arc_energy_kj_per_mm")), 2.4,
                            1e-12);
    ck_assert_double_eq_tol(json_number_value(json_object_get(root, "heat_input_kj_per_in")),
                            48.768, 1e-9);
    ck_assert_uint_gt(json_array_size(json_object_get(root, "figures")), 5);
    ck_assert_uint_gt(json_array_size(json_object_get(root, "inputs")), 3);
    json_decref(root);
    root = json_of("preheat|cet=.3|thickness=6|hydrogen=5|heat_input=1");
    ck_assert(json_is_null(json_object_get(root, "preheat_c")));
    ck_assert(json_is_true(json_object_get(root, "outside_range")));
    ck_assert(json_is_string(json_object_get(root, "caution")));
    json_decref(root);
    root = json_of("cooling|heat_input=1|thickness=6");
    ck_assert_str_eq(json_string_value(json_object_get(root, "regime")), "thin");
    json_decref(root);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("calc/pages");
    TCase *t = tcase_create("pages");

    tcase_add_test(t, the_table_is_complete);
    tcase_add_test(t, which_kinds_carry_the_cautions);
    tcase_add_test(t, pages_of_kinds);
    tcase_add_test(t, pages_of_answers);
    tcase_add_test(t, json_has_every_figure_under_its_key);
    suite_add_tcase(s, t);
    return s;
}
