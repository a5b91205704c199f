#include "analysis/format.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct phrase phrase(const char *format, ...)
{
    struct phrase out;
    va_list args;

    va_start(args, format);
    vsnprintf(out.s, sizeof out.s, format, args);
    va_end(args);
    return out;
}

/* Decimals that show about a three-hundredth of the range, which is above 0: 180° none, 7 kg/mm²
 * one. */
static int decimals_for(double range)
{
    return (int)fmax(0, ceil(1.5 - log10(range)));
}

/* What stands between a number and its unit. */
static const char *gap(const char *unit)
{
    return *unit == '\0' || strcmp(unit, "°") == 0 ? "" : " ";
}

double format_fine_range(double range, double low, double high)
{
    return high > low ? fmin(range, 30 * (high - low)) : range;
}

static double shown(const struct unit *unit, double value)
{
    return unit == NULL ? value : unit_from_base(unit, value);
}

double format_shown(const struct column *c, double value)
{
    return shown(c->shown, value);
}

double format_shown_result(const struct frame *f, double value)
{
    return shown(f->result_shown, value);
}

double format_shown_change(const struct frame *f, double change)
{
    return f->result_shown == NULL ? change : change / f->result_shown->scale;
}

/* A number as shown, rounded, never "-0"; with a plus sign when it is above 0. `range` in the base
 * unit. */
static struct phrase signed_number(const struct frame *f, double range, double value)
{
    double shown_range = format_shown_change(f, range);
    struct phrase out;
    int decimals;

    if (!(shown_range >= 1e-7) || fabs(value) >= 1e15)
        return phrase("%+.3g", value);
    decimals = decimals_for(shown_range);
    out = phrase("%+.*f", decimals, value);
    return strtod(out.s, NULL) == 0 ? phrase("%.*f", decimals, 0.0) : out;
}

static struct phrase with_unit(const struct frame *f, double range, double value, bool sign)
{
    const char *unit = frame_result_unit(f);
    struct phrase number = signed_number(f, range, value);

    if (isnan(value))
        return phrase("–");
    return phrase("%s%s%s", number.s + (!sign && number.s[0] == '+'), gap(unit), unit);
}

struct phrase format_result(const struct frame *f, double range, double value)
{
    return with_unit(f, range, format_shown_result(f, value), false);
}

struct phrase format_change(const struct frame *f, double range, double change)
{
    return with_unit(f, range, format_shown_change(f, change), false);
}

struct phrase format_signed_change(const struct frame *f, double range, double change)
{
    return with_unit(f, range, format_shown_change(f, change), true);
}

struct phrase format_range(const struct frame *f, double range, double low, double high)
{
    double fine = format_fine_range(range, low, high);

    return phrase("%s … %s", signed_number(f, fine, format_shown_change(f, low)).s,
                  format_signed_change(f, fine, high).s);
}

static struct phrase number(const struct column *c, double value)
{
    struct phrase out = {.s = ""};

    text_from_figures(out.s, sizeof out.s, format_shown(c, value), 4);
    return out;
}

struct phrase format_level(const struct frame *f, size_t column, double value)
{
    const struct column *c = &f->columns[column];

    if (isnan(value))
        return phrase("–");
    if (c->category)
        return phrase("%s", c->levels[(size_t)value]);
    return phrase("%s%s%s", number(c, value).s, gap(frame_unit(c)), frame_unit(c));
}

struct phrase format_step(const struct frame *f, size_t column, double from, double to)
{
    const struct column *c = &f->columns[column];

    return phrase("%s – %s", c->category ? format_level(f, column, from).s : number(c, from).s,
                  format_level(f, column, to).s);
}

struct phrase format_label(const char *label)
{
    struct phrase out = phrase("%s", label);

    if (out.s[0] >= 'A' && out.s[0] <= 'Z' && !(out.s[1] >= 'A' && out.s[1] <= 'Z'))
        out.s[0] = (char)(out.s[0] - 'A' + 'a');
    return out;
}

/* What stands before the i-th of `count` names. */
static const char *before(size_t i, size_t count, const char *last)
{
    return i == 0 ? "" : i + 1 == count ? last : ", ";
}

void format_add_labels(const struct frame *f, const size_t *columns, size_t count, const char *last,
                       struct text *out)
{
    for (size_t i = 0; i < count; i++)
        text_addf(out, "%s%s", before(i, count, last),
                  format_label(f->columns[columns[i]].label).s);
}

void format_add_marks(const struct frame *f, const size_t *rows, size_t count, struct text *out)
{
    enum { NAMED = 12 };

    for (size_t i = 0; i < count && i < NAMED; i++)
        text_addf(out, "%s%s", before(i, count, " and "), f->marks[rows[i]]);
    if (count > NAMED)
        text_addf(out, " and %zu more", count - NAMED);
}

void format_add_set_up(const struct frame *f, const double *values, const size_t *columns,
                       size_t count, struct text *out)
{
    for (size_t i = 0; i < count; i++)
        text_addf(out, "%s%s %s", before(i, count, " and "),
                  format_label(f->columns[columns[i]].label).s,
                  format_level(f, columns[i], values[i]).s);
}
