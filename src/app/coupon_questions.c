#include "app/coupon_questions.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "app/differences.h"
#include "derived/derived.h"
#include "model/variable_key.h"

/* A wire classed for a single pass, welded in several (AWS A5.20: E71T-GS [from memory]). */
static void ask_about_wire(const struct coupon *c, struct page *p)
{
    const struct value *wire = coupon_value(c, KEY_WIRE_CLASS);
    double passes = measure_point(coupon_measure(c, KEY_PASSES));

    if (wire != NULL && wire->text != NULL && passes > 1 &&
        (strstr(wire->text, "T-GS") != NULL || strstr(wire->text, "TGS") != NULL))
        page_add(p, BLOCK_ITEM,
                 "%s is classed for a single pass; this coupon has %.0f. Is that "
                 "meant?",
                 wire->text, passes);
}

/* What was answered for the coupon before, and has not changed since, is not asked again. */
static bool asked_before(const struct coupon *c, const struct coupon *last, const char *key)
{
    const struct value *now = coupon_value(c, key);

    return last != NULL && now != NULL && value_same(now, coupon_value(last, key));
}

static void ask_about_limits(const struct session *s, const struct coupon *c,
                             const struct coupon *last, struct page *p)
{
    for (size_t i = 0; i < s->variables.count; i++) {
        const struct variable *v = &s->variables.items[i];
        double x = v->kind == VARIABLE_NUMBER ? measure_point(coupon_measure(c, v->key)) : NAN;
        char why[256];

        if (!isnan(x) && !asked_before(c, last, v->key) &&
            variable_judge(v, x, s->units, why, sizeof why) != VALUE_USUAL)
            page_add(p, BLOCK_ITEM, "%s", why);
    }
}

static void ask_about_changes(const struct session *s, const struct coupon *c,
                              const struct coupon *last, struct page *p)
{
    struct differences d = differences_between(&s->variables, c, last);
    char *words = differences_sentence(&d, last->mark);

    if (d.count > 1)
        page_add(p, BLOCK_ITEM, "%s; what each did cannot be told from these two alone.", words);
    free(words);
    differences_free(&d);
}

void coupon_questions(const struct session *s, const struct coupon *c, const struct coupon *last,
                      struct page *p)
{
    ask_about_limits(s, c, last, p);
    ask_about_wire(c, p);
    if (last != NULL)
        ask_about_changes(s, c, last, p);
}
