/*
 * A reading that only wobbles is not a change: amps and wire feed speed count as changed beyond 10
 * %, volts beyond 7 %, travel speed beyond 25 %, which is where AWS D1.1 asks for a new
 * qualification of the procedure [from memory].
 */
#include "app/differences.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"
#include "derived/derived.h"
#include "model/variable_key.h"

static const struct {
    const char *key;
    double part;
} wobble[] = {
    {KEY_AMPS, 0.10}, {KEY_WIRE_FEED_SPEED, 0.10}, {KEY_VOLTS, 0.07}, {KEY_TRAVEL_SPEED, 0.25}};

static double wobble_of(const char *key)
{
    for (size_t i = 0; i < sizeof wobble / sizeof *wobble; i++)
        if (strcmp(wobble[i].key, key) == 0)
            return wobble[i].part;
    return 1e-9;
}

/* A number that one coupon lacks is a change only where somebody wrote the other one down: what is
 * worked out from passes is missing from every coupon that has none. */
static bool number_differs(const struct coupon *a, const struct coupon *b, const char *key)
{
    double x = measure_point(coupon_measure(a, key)), y = measure_point(coupon_measure(b, key));

    if (isnan(x) && isnan(y))
        return false;
    if (isnan(x) || isnan(y))
        return coupon_value(isnan(x) ? b : a, key) != NULL;
    return fabs(x - y) > wobble_of(key) * fmax(fabs(x), fabs(y));
}

static bool has_words(const struct coupon *c, const char *key)
{
    const struct value *value = coupon_value(c, key);

    return value != NULL && value->kind == VARIABLE_CATEGORY;
}

static bool differs(const struct coupon *a, const struct coupon *b, const struct variable *v)
{
    if (v->role != ROLE_CAUSE || v->group == GROUP_DERIVED)
        return false;
    if (has_words(a, v->key) || has_words(b, v->key) || v->kind == VARIABLE_CATEGORY)
        return !value_same(coupon_value(a, v->key), coupon_value(b, v->key));
    return number_differs(a, b, v->key);
}

/* "wire diameter": the label as it stands inside a sentence. */
static void add_label(struct text *t, const char *label)
{
    bool word = label[0] >= 'A' && label[0] <= 'Z' && !(label[1] >= 'A' && label[1] <= 'Z');
    char first[2] = {(char)(word ? label[0] - 'A' + 'a' : label[0]), '\0'};

    text_add(t, first);
    text_add(t, label + 1);
}

struct differences differences_between(const struct variable_list *variables,
                                       const struct coupon *c, const struct coupon *from)
{
    struct differences d = {0};

    for (size_t i = 0; i < variables->count; i++)
        if (differs(c, from, &variables->items[i])) {
            d.items = array_reserve(d.items, &d.capacity, d.count + 1, sizeof *d.items);
            d.items[d.count++] = &variables->items[i];
        }
    return d;
}

void differences_free(struct differences *d)
{
    free(d->items);
    *d = (struct differences){0};
}

bool differences_have(const struct differences *d, const struct variable *v)
{
    for (size_t i = 0; i < d->count; i++)
        if (d->items[i] == v)
            return true;
    return false;
}

char *differences_names(const struct differences *d)
{
    struct text names = {0};

    for (size_t i = 0; i < d->count; i++) {
        text_add(&names, i == 0 ? "" : i + 1 == d->count ? " and " : ", ");
        add_label(&names, d->items[i]->label);
    }
    return d->count == 0 ? mem_copy("nothing") : text_steal(&names);
}

char *differences_sentence(const struct differences *d, const char *mark)
{
    static const char *const counts[] = {"nothing",      "one thing",   "two things",
                                         "three things", "four things", "five things"};
    const char *count =
        d->count < sizeof counts / sizeof *counts ? counts[d->count] : "many things";
    char *names = differences_names(d);
    char *sentence = mem_format("%s differ%s from %s%s%s", count, d->count < 2 ? "s" : "",
                                mark == NULL ? "the last" : mark, d->count == 0 ? "" : ": ",
                                d->count == 0 ? "" : names);

    free(names);
    return sentence;
}

char *differences_since(const struct variable_list *variables, const struct coupon *c,
                        const struct coupon *before)
{
    struct differences d;
    char *names;

    if (before == NULL)
        return mem_copy("the first");
    d = differences_between(variables, c, before);
    names = differences_names(&d);
    differences_free(&d);
    return names;
}
