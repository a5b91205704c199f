/* What an answer says in words: verdicts, reasons why there is no figure, notes. */
#include "run.h"

#include <math.h>
#include <string.h>

#include "line.h"

static const char *word(const struct calc_answer *a, const char *key)
{
    size_t i;

    for (i = 0; i < a->word_count; i++)
        if (strcmp(a->words[i].key, key) == 0)
            return a->words[i].text;
    return "";
}

START_TEST(verdicts_in_words)
{
    static const char *const rows[][3] = {
        {"cooling|heat_input=1|thickness=20", "regime", "thick"},
        {"cooling|heat_input=1|thickness=6", "regime", "thin"},
        {"hinge|thickness=6|leg=4", "governs", "weld"},
        {"hinge|thickness=3|leg=5", "governs", "plate"},
        {"hinge|thickness=6|leg=6", "verdict", "too close to say: within its ± of 1"},
        {"hinge|thickness=6|leg=4", "verdict", "the weld hinges and breaks at a small angle"},
        {"hinge|thickness=6|leg=6|sides=2", "verdict", "the plate folds before the weld breaks"},
        {"bend|flaws=3.0", "guided_bend", "pass"},
        {"bend|flaws=2,5", "guided_bend", "pass"},
        {"bend|flaws=2,5,2", "guided_bend", "fail"},
        {"bend|flaws=2.5,3.5", "guided_bend", "fail"},
        {"bend|corners=3 fusion", "guided_bend", "pass"},
        {"bend|corners=3.01 fusion", "guided_bend", "fail"},
        {"bend|corners=6.01 clean", "guided_bend", "new specimen"},
        {"bend|flaws=120mil", "guided_bend", "pass"},
        {"bend|flaws=0.01ft", "guided_bend", "pass"},
        {"bend|flaws=0.011ft", "guided_bend", "fail"},
        {"bend|flaws=0.31cm", "guided_bend", "fail"},
        {"bend|fused_to_root=yes|specimen=6in|pores=0.09in", "fillet_break", "pass"},
        {"bend|fused_to_root=yes|specimen=150mm|pores=2.4", "fillet_break", "pass"},
        {"bend|fused_to_root=yes|pores=3/32in", "fillet_break", "pass"},
        {"bend|fused_to_root=yes|pores=0.1in", "fillet_break", "fail"},
        {"duty|rated=60|rated_amps=200|amps=200|log=0:00-6:00", "within", "yes"},
        {"duty|rated=60|rated_amps=200|amps=200|log=0:00-6:01", "within", "no"},
        {"bend|flaws=3.1mm", "guided_bend", "fail"},
        {"bend|flaws=2.5,2.5,2.5,2.4", "guided_bend", "pass"},
        {"bend|flaws=2,5; 2,5; 2,5; 2,5; 1,2", "guided_bend", "fail"},
        {"bend|flaws=1/8in", "guided_bend", "pass"},
        {"bend|flaws=0.126in", "guided_bend", "fail"},
        {"bend|flaws=0|corners=5 slag", "guided_bend", "fail"},
        {"bend|corners=7mm", "guided_bend", "new specimen"},
        {"bend|pores=2.5; 2.5|fused_to_root=yes", "fillet_break", "pass"},
        {"bend|pores=2.5; 2.6|fused_to_root=yes", "fillet_break", "fail"},
        {"bend|fused_to_root=no", "fillet_break", "fail"},
        {"bend|folded_flat=yes", "fillet_break", "pass"},
        {"bend|folded_flat=yes|specimen=60mm", "fillet_break", "outside the range of the limits"},
        {"duty|rated=60|rated_amps=200|amps=250|log=0:00-4:00", "within", "no"},
    };
    struct calc_answer a;
    struct error e;
    size_t i;

    for (i = 0; i < sizeof rows / sizeof *rows; i++) {
        ck_assert_msg(run(rows[i][0], UNITS_METRIC, &a, &e) == 0, "%s: %s", rows[i][0], e.text);
        ck_assert_msg(strcmp(word(&a, rows[i][1]), rows[i][2]) == 0, "%s: %s", rows[i][0],
                      word(&a, rows[i][1]));
        calc_answer_free(&a);
    }
}
END_TEST

START_TEST(outside_the_range_is_an_answer)
{
    const struct calc_figure *f;
    struct calc_answer a;
    struct error e;

    ck_assert_int_eq(
        run("preheat|cet=.3|thickness=6|hydrogen=5|heat_input=1", UNITS_METRIC, &a, &e), 0);
    f = calc_figure_find(&a, "preheat_c");
    ck_assert(isnan(f->value));
    ck_assert(f->outside);
    ck_assert_ptr_nonnull(strstr(f->why, "10 mm"));
    calc_answer_free(&a);
    ck_assert_int_eq(run("heat|volts=20|amps=300|speed=150", UNITS_METRIC, &a, &e), 0);
    f = calc_figure_find(&a, "heat_input_kj_per_mm");
    ck_assert(isnan(f->value) && !f->outside); /* no process: not said, not out of range */
    ck_assert_ptr_nonnull(f->why);
    calc_answer_free(&a);
    ck_assert_int_eq(run("fillet|leg=6|thickness=0", UNITS_METRIC, &a, &e), 0);
    f = calc_figure_find(&a, "throat_to_thickness");
    ck_assert(f == NULL || !f->outside); /* as if no plate had been said */
    calc_answer_free(&a);
}
END_TEST

/* A rule that ends below the plate as it lies asks for nothing: words, no figure. */
START_TEST(no_preheat_is_said_in_words)
{
    static const char none[] = "preheat|cet=.2|thickness=10|hydrogen=1|heat_input=4";
    const struct calc_figure *f;
    struct calc_answer a;
    struct error e;

    ck_assert_int_eq(run(none, UNITS_METRIC, &a, &e), 0);
    f = calc_figure_find(&a, "preheat_c");
    ck_assert(isnan(f->value) && !f->outside);
    ck_assert_str_eq(f->shown, "–");
    ck_assert_ptr_nonnull(strstr(f->why, "none is asked for"));
    ck_assert_ptr_null(strstr(f->why, "-"));
    calc_answer_free(&a);
    /* 697·0.302 + 160·tanh(10/35) + 62·5^0.35 + (53·0.302 − 32) − 328 = 19.91; at 0.3022 20.06 */
    ck_assert(isnan(figure("preheat|cet=.302|thickness=10|hydrogen=5|heat_input=1", "preheat_c")));
    ck_assert_double_eq_tol(
        figure("preheat|cet=.3022|thickness=10|hydrogen=5|heat_input=1", "preheat_c"), 20.06, 5e-3);
}
END_TEST

/* No figure is infinite, and one that cannot be said says why. */
START_TEST(no_figure_without_a_reason)
{
    static const char *const lines[] = {
        "heat|energy=1e300|length=1e-300|process=135",
        "heat|energy=1e300|length=1e-8±1|process=135",
        "heat|energy=0|length=10|process=135",
        "heat|energy=1e10|length=0.001|process=135",
        "heat|energy=100|length=0",
        "cooling|heat_input=1|thickness=0",
        "cooling|heat_input=1|thickness=6|preheat=600",
        "cooling|heat_input=1|thickness=6|preheat=499.9",
        "cooling|heat_input=50|thickness=6",
        "carbon|C=101",
        "fillet|leg=0",
        "hinge|thickness=6|leg=4|unfused=3",
        "bend|gap=130|leg=60",
        "bend|thickness=0|radius=3",
        "bend|thickness=6|radius=0",
        "wire|diameter=0.9|feed=6|efficiency=0",
        "wire|table=2: 4; 4: 8|dial=9",
        "duty|log=5-3",
        "duty|log=0-100,50-150",
        "stock|coupons=3|piece=9000",
    };
    size_t i, j;

    for (i = 0; i < sizeof lines / sizeof *lines; i++) {
        struct calc_answer a;
        struct error e;
        size_t silent = 0, said = 0;

        ck_assert_msg(run(lines[i], UNITS_METRIC, &a, &e) == 0, "%s: %s", lines[i], e.text);
        for (j = 0; j < a.figure_count; j++) {
            ck_assert(!isinf(a.figures[j].value) && !isinf(a.figures[j].error));
            ck_assert_ptr_null(strstr(a.figures[j].shown, "inf"));
            silent += isnan(a.figures[j].value) && a.figures[j].why == NULL;
            said += a.figures[j].outside;
        }
        ck_assert_msg(silent == 0 && said > 0, "%s", lines[i]);
        calc_answer_free(&a);
    }
}
END_TEST

static bool noted(const char *line, const char *words)
{
    struct calc_answer a;
    struct error e;
    bool found = false;
    size_t i;

    ck_assert_msg(run(line, UNITS_METRIC, &a, &e) == 0, "%s: %s", line, e.text);
    for (i = 0; i < a.note_count; i++)
        found = found || strstr(a.notes[i], words) != NULL;
    calc_answer_free(&a);
    return found;
}

/* Steel is not welded under inert gas; a shop's MIG is 135; a metal-cored wire has its efficiency.
 */
START_TEST(inert_gas_is_not_for_steel)
{
    ck_assert(noted("heat|volts=20|amps=130|speed=300|process=131", "active gas"));
    ck_assert(noted("wire|diameter=0.9|feed=6|process=131", "active gas"));
    ck_assert(!noted("heat|volts=20|amps=130|speed=300|process=MIG", "active gas"));
    ck_assert(!noted("heat|volts=20|amps=130|speed=300", "active gas"));
    ck_assert_double_eq_tol(figure("wire|diameter=1.2|feed=6|process=MIG", "efficiency_pct"), 95,
                            1e-12);
    ck_assert(isnan(figure("wire|diameter=1.2|feed=6|process=131", "deposition_kg_per_h")));
    ck_assert_double_eq_tol(
        figure("wire|kind=cored|grams_per_metre=7|feed=8|process=138", "efficiency_pct"), 95,
        1e-12);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("calc/words");
    TCase *t = tcase_create("words");

    tcase_add_test(t, verdicts_in_words);
    tcase_add_test(t, outside_the_range_is_an_answer);
    tcase_add_test(t, no_preheat_is_said_in_words);
    tcase_add_test(t, no_figure_without_a_reason);
    tcase_add_test(t, inert_gas_is_not_for_steel);
    suite_add_tcase(s, t);
    return s;
}
