#include "app/answer.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/interval.h"

/* Decimals that show about a three-hundredth of the range: 180° none, 7 kg/mm² one. */
static int decimals_for(double range)
{
    int decimals = range > 0 ? (int)ceil(1.5 - log10(range)) : 2;

    return decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
}

static const char *glue(const char *unit)
{
    return *unit == '\0' || strcmp(unit, "°") == 0 ? "" : " ";
}

double words_fine(double range, double low, double high)
{
    return high > low ? fmin(range, 30 * (high - low)) : range;
}

static double shown(const struct unit *unit, double value)
{
    return unit == NULL ? value : unit_from_base(unit, value);
}

double words_shown(const struct column *c, double value)
{
    return shown(c->shown, value);
}

double words_shown_result(const struct frame *f, double value)
{
    return shown(f->result_shown, value);
}

double words_shown_change(const struct frame *f, double change)
{
    return f->result_shown == NULL ? change : change / f->result_shown->scale;
}

/* A number as shown, rounded, never "-0"; with a plus sign when it is above 0. `range` in the base
 * unit. */
static void words_signed(const struct frame *f, double range, double value, char *out, size_t size)
{
    int decimals = decimals_for(words_shown_change(f, range));

    if (words_shown_change(f, range) < 1e-7 || fabs(value) >= 1e15) {
        snprintf(out, size, "%+.3g", value);
        return;
    }
    snprintf(out, size, "%+.*f", decimals, value);
    if (strtod(out, NULL) == 0)
        snprintf(out, size, "%.*f", decimals, 0.0);
}

static void with_unit(const struct frame *f, double range, double value, bool sign, char *out,
                      size_t size)
{
    const char *unit = frame_result_unit(f);
    char number[48];

    if (isnan(value)) {
        snprintf(out, size, "–");
        return;
    }
    words_signed(f, range, value, number, sizeof number);
    snprintf(out, size, "%s%s%s", number + (!sign && number[0] == '+'), glue(unit), unit);
}

void words_result(const struct frame *f, double range, double value, char *out, size_t size)
{
    with_unit(f, range, words_shown_result(f, value), false, out, size);
}

void words_change(const struct frame *f, double range, double change, bool sign, char *out,
                  size_t size)
{
    with_unit(f, range, words_shown_change(f, change), sign, out, size);
}

void words_level(const struct frame *f, size_t column, double value, char *out, size_t size)
{
    const struct column *c = &f->columns[column];
    char number[48];

    if (isnan(value)) {
        snprintf(out, size, "–");
    } else if (c->category) {
        size_t level = (size_t)value;

        snprintf(out, size, "%s", level < c->level_count ? c->levels[level] : "another");
    } else {
        text_from_figures(number, sizeof number, words_shown(c, value), 4);
        snprintf(out, size, "%s%s%s", number, glue(frame_unit(c)), frame_unit(c));
    }
}

void words_step(const struct frame *f, size_t column, double from, double to, char *out,
                size_t size)
{
    char first[WORDS_SIZE / 2], second[WORDS_SIZE / 2];

    words_level(f, column, to, second, sizeof second);
    if (f->columns[column].category)
        words_level(f, column, from, first, sizeof first);
    else
        text_from_figures(first, sizeof first, words_shown(&f->columns[column], from), 4);
    snprintf(out, size, "%s – %s", first, second);
}

void words_range(const struct frame *f, double range, double low, double high, char *out,
                 size_t size)
{
    char first[WORDS_SIZE / 2], second[WORDS_SIZE / 2];

    range = words_fine(range, low, high);
    words_signed(f, range, words_shown_change(f, low), first, sizeof first);
    words_change(f, range, high, true, second, sizeof second);
    snprintf(out, size, "%s … %s", first, second);
}

void words_label(const char *label, char *out, size_t size)
{
    snprintf(out, size, "%s", label);
    if (out[0] >= 'A' && out[0] <= 'Z' && !(out[1] >= 'A' && out[1] <= 'Z'))
        out[0] = (char)(out[0] - 'A' + 'a');
}

void words_labels(const struct frame *f, const size_t *columns, size_t count, const char *last,
                  struct text *out)
{
    char label[WORDS_SIZE];

    for (size_t i = 0; i < count; i++) {
        words_label(f->columns[columns[i]].label, label, sizeof label);
        text_addf(out, "%s%s", i == 0 ? "" : i + 1 == count ? last : ", ", label);
    }
}

void words_marks(const struct frame *f, const size_t *rows, size_t count, struct text *out)
{
    enum { NAMED = 12 };
    size_t named = count > NAMED ? NAMED : count;

    for (size_t i = 0; i < named; i++)
        text_addf(out, "%s%s", i == 0 ? "" : i + 1 == count ? " and " : ", ", f->marks[rows[i]]);
    if (count > named)
        text_addf(out, " and %zu more", count - named);
}

void words_set_up(const struct frame *f, const double *values, const size_t *columns, size_t count,
                  struct text *out)
{
    char label[WORDS_SIZE], level[WORDS_SIZE];

    for (size_t i = 0; i < count; i++) {
        words_label(f->columns[columns[i]].label, label, sizeof label);
        words_level(f, columns[i], values[columns[i]], level, sizeof level);
        text_addf(out, "%s%s %s", i == 0 ? "" : i + 1 == count ? " and " : ", ", label, level);
    }
}

static void add_start(const struct frame *f, const struct design_coupon *c, struct text *out)
{
    size_t *all = calloc(f->k, sizeof *all);

    if (c->repeat && c->like != SIZE_MAX) {
        text_addf(out, "Weld %s once more, nothing changed", f->marks[c->like]);
    } else if (c->like != SIZE_MAX) {
        text_addf(out, "Weld one like %s, but with ", f->marks[c->like]);
        words_set_up(f, c->values, c->changed, c->changed_count, out);
    } else if (c->like_chosen != SIZE_MAX) {
        text_addf(out, "Weld one like the proposed coupon %zu, but with ", c->like_chosen + 1);
        words_set_up(f, c->values, c->changed, c->changed_count, out);
    } else if (all != NULL) {
        for (size_t i = 0; i < f->k; i++)
            all[i] = i;
        text_add(out, "Weld one with ");
        words_set_up(f, c->values, all, f->k, out);
    }
    free(all);
}

enum { MANY = 3 }; /* more names in a row are read by nobody */

/* What was never changed before, in one clause. Returns whether there was any. */
static bool add_first_changes(const struct frame *f, const struct design_coupon *c,
                              struct text *out)
{
    size_t *columns = mem_zero(c->separate_count, sizeof *columns), count = 0;

    for (size_t i = 0; i < c->separate_count; i++)
        if (c->separates[i].count == 1)
            columns[count++] = c->separates[i].columns[0];
    if (count > 0) {
        text_add(out, ": it begins to show what ");
        words_labels(f, columns, count, " and ", out);
        text_add(out, count == 1 ? " does" : " do");
    }
    free(columns);
    return count > 0;
}

static void add_separated(const struct frame *f, const struct design_set *set, struct text *out)
{
    words_labels(f, set->columns, set->count > MANY ? 1 : set->count, " and ", out);
    if (set->count > MANY)
        text_addf(out, " apart from %zu others", set->count - 1);
    else
        text_add(out, " apart");
    text_add(out, set->exact ? "" : " more surely");
}

/* Before there are results the gain is in units of a scatter that nobody knows: a part is all that
 * can be said of it. */
static void add_sharpened(const struct frame *f, double range, const struct design_coupon *c,
                          struct text *out)
{
    const struct design_gain *gain = &c->gains[0];
    char before[WORDS_SIZE], after[WORDS_SIZE], label[WORDS_SIZE];

    words_label(f->columns[gain->column].label, label, sizeof label);
    text_addf(out, ": it sharpens %s most, ", label);
    if (isnan(c->expected)) {
        text_addf(out, "by %.0f %%", 100 * (1 - gain->after / gain->before));
        return;
    }
    words_change(f, range / 10, INTERVAL_REACH * gain->before, false, before, sizeof before);
    words_change(f, range / 10, INTERVAL_REACH * gain->after, false, after, sizeof after);
    text_addf(out, "from about ±%s to ±%s", before, after);
}

/* A variable told apart from many is named once, however many of its sets are separated. */
static bool told_before(const struct design_coupon *c, size_t i)
{
    for (size_t j = 0; j < i; j++)
        if (c->separates[j].count > MANY && c->separates[i].count > MANY &&
            c->separates[j].columns[0] == c->separates[i].columns[0])
            return true;
    return false;
}

static void add_purpose(const struct frame *f, double range, const struct design_coupon *c,
                        struct text *out)
{
    bool begun = add_first_changes(f, c, out);

    for (size_t i = 0; i < c->separate_count; i++) {
        if (c->separates[i].count == 1 || told_before(c, i))
            continue;
        text_add(out, begun ? "; it tells " : ": it tells ");
        add_separated(f, &c->separates[i], out);
        begun = true;
    }
    if (!begun && c->gain_count > 0 && c->gains[0].after < 0.995 * c->gains[0].before)
        add_sharpened(f, range, c, out);
}

void words_next(const struct frame *f, double range, const struct design_coupon *c,
                struct text *out)
{
    char expected[WORDS_SIZE];

    add_start(f, c, out);
    add_purpose(f, range, c, out);
    text_add(out, ".");
    if (!isnan(c->expected)) {
        words_result(f, range, c->expected, expected, sizeof expected);
        text_addf(out, " Expect about %s", expected);
        if (!isnan(c->chance_held) && c->chance_held >= 0.5)
            text_addf(out, "; %.0f in 100 that it holds to the stop", 100 * c->chance_held);
        text_add(out, ".");
    }
}
