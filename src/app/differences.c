/*
 * What differs between two coupons, in words. A reading that only wobbles is not a change: amps and
 * wire feed speed count as changed beyond 10 %, volts beyond 7 %, travel speed beyond 25 %, which
 * is where AWS D1.1 asks for a new qualification of the procedure [from memory].
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "app/tasks.h"
#include "app/values.h"
#include "base/text.h"

static const struct {
    const char *key;
    double part;
} wobble[] = {{"amps", 0.10}, {"wire_feed_speed", 0.10}, {"volts", 0.07}, {"travel_speed", 0.25}};

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

static const char *count_word(int n)
{
    static const char *const words[] = {"nothing",      "one thing",   "two things",
                                        "three things", "four things", "five things"};

    return n < (int)(sizeof words / sizeof *words) ? words[n] : "many things";
}

int coupon_differences(const struct session *s, const struct coupon *c, const struct coupon *from,
                       char *out, size_t size, char *keys, size_t keys_size)
{
    const struct variable *found[64];
    struct text names = {0}, all = {0};
    int n = 0;

    for (size_t i = 0; i < s->variables.count && n < 64; i++)
        if (differs(c, from, &s->variables.items[i]))
            found[n++] = &s->variables.items[i];
    for (int i = 0; i < n; i++) {
        text_add(&names, i == 0 ? ": " : i == n - 1 ? " and " : ", ");
        add_label(&names, found[i]->label);
        text_addf(&all, "%s%s", i == 0 ? "" : " ", found[i]->key);
    }
    snprintf(out, size, "%s differ%s from %s%s", count_word(n), n < 2 ? "s" : "",
             from->mark == NULL ? "the last" : from->mark, text_str(&names));
    if (keys != NULL)
        snprintf(keys, keys_size, "%s", text_str(&all));
    text_free(&names);
    text_free(&all);
    return n;
}
