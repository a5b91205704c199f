/*
 * From inputs to an answer: the work of the kind, the ± of the readings carried through it, and
 * every figure as it is to be shown.
 */
#include "calc/answer.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "model/quantity.h"

static void work_start(struct calc_work *w, const double *in, char *const *text)
{
    memset(w, 0, sizeof *w);
    w->in = in;
    w->text = text;
    for (size_t i = 0; i < CALC_OUTPUTS; i++)
        w->out[i] = NAN;
}

/* What uncertainty_carry() moves the readings of. */
struct carried {
    const struct calc_kind *kind;
    char *const *text;
};

static void carried_work(const double *in, double *out, void *context)
{
    const struct carried *c = context;
    struct calc_work w;
    struct error e;

    work_start(&w, in, c->text);
    c->kind->work(&w, &e); /* went well at the readings themselves; else its figures are NAN */
    memcpy(out, w.out, sizeof w.out);
}

/* Decimals that show two figures of the ±. */
static int decimals_of(double error)
{
    int d = 1 - (int)floor(log10(error * (1 + 1e-6)));

    return d < 0 ? 0 : d > 9 ? 9 : d;
}

static void show_with_error(char *out, size_t size, double value, double error, const char *unit)
{
    char number[40], width[40];
    int decimals = decimals_of(error);

    snprintf(number, sizeof number, "%.*f", decimals, value);
    snprintf(width, sizeof width, "%.*f", decimals, error);
    snprintf(out, size, "%s ± %s%s%s", number, width,
             *unit == '\0' || strcmp(unit, "°") == 0 ? "" : " ", unit);
}

/* The words behind a bare number: its unit when it has one. */
static void show_number(struct calc_figure *f)
{
    char number[40];

    text_from_rounded(number, sizeof number, f->value,
                      fabs(f->value) < 10     ? 4
                      : fabs(f->value) < 1000 ? 1
                                              : 0);
    snprintf(f->shown, sizeof f->shown, "%s%s%s", number, *f->unit == '\0' ? "" : " ", f->unit);
}

static void show(struct calc_figure *f, const struct calc_output *row, double value, double error,
                 enum unit_system units)
{
    const struct unit *unit = unit_shown(row->dimension, units);

    if (isnan(value))
        snprintf(f->shown, sizeof f->shown, "–");
    else if (error > 0 && isfinite(value) && unit != NULL)
        show_with_error(f->shown, sizeof f->shown, unit_from_base(unit, value), error / unit->scale,
                        unit->symbol);
    else if (error > 0 && isfinite(value))
        show_with_error(f->shown, sizeof f->shown, value, error, f->unit);
    else if (unit != NULL)
        quantity_format(f->shown, sizeof f->shown, value, row->dimension, units);
    else
        show_number(f);
}

void calc_figure_fill(struct calc_figure *f, const struct calc_output *row, bool twin, double value,
                      double error, enum unit_system units)
{
    const struct unit *unit =
        twin ? unit_shown(row->dimension, UNITS_INCH) : calc_unit(row->dimension, row->unit);

    memset(f, 0, sizeof *f);
    f->key = twin ? row->twin_key : row->key;
    f->label = row->label;
    f->unit = unit != NULL ? unit->symbol : row->unit != NULL ? row->unit : "";
    f->value = unit == NULL ? value : unit_from_base(unit, value);
    f->error = !(error > 0) ? NAN : unit == NULL ? error : error / unit->scale;
    f->twin = twin;
    f->card = row->card && !twin;
    f->formula = row->formula;
    f->source = row->source;
    show(f, row, value, error, units);
}

static void add_figure(struct calc_answer *a, const struct calc_work *w, size_t row, bool twin,
                       double error)
{
    struct calc_figure *f;

    f = &a->figures[a->figure_count++];
    calc_figure_fill(f, &a->kind->outputs[row], twin, w->out[row], error, a->units);
    f->outside = w->why[row] != NULL;
    f->why = f->outside ? w->why[row] : w->want[row];
}

static void add_figures(struct calc_answer *a, const struct calc_work *w, const double *error)
{
    const struct calc_output *row = a->kind->outputs;

    for (size_t i = 0; row[i].key != NULL; i++) {
        if (isnan(w->out[i]) && w->why[i] == NULL && w->want[i] == NULL)
            continue;
        add_figure(a, w, i, false, error[i]);
        if (row[i].twin_key != NULL)
            add_figure(a, w, i, true, error[i]);
    }
}

/* As given; a ± that was taken by default is shown behind it. */
static char *input_text(const struct calc_inputs *in, size_t i, const struct calc_input *x)
{
    const char *given = in->text[i] == NULL ? "" : in->text[i];
    char width[40];

    if (isnan(x->error) || strstr(given, "±") != NULL)
        return mem_copy(given);
    text_from_rounded(width, sizeof width, x->error, decimals_of(x->error));
    return mem_format("%s ± %s%s%s", given, width, *x->unit == '\0' ? "" : " ", x->unit);
}

static void add_input(struct calc_answer *a, const struct calc_argument *row,
                      const struct calc_inputs *in, size_t i)
{
    bool number = row->type == CALC_QUANTITY;
    const struct unit *unit = number ? calc_unit(row->dimension, row->unit) : NULL;
    struct calc_input *x;

    x = &a->inputs[a->input_count++];
    x->key = row->key;
    x->unit = unit == NULL ? "" : unit->symbol;
    x->value = !number ? NAN : unit == NULL ? in->value[i] : unit_from_base(unit, in->value[i]);
    x->error = !(in->error[i] > 0) ? NAN : in->error[i] / (unit == NULL ? 1 : unit->scale);
    x->text = input_text(in, i, x);
    x->given = in->given[i];
}

static void add_inputs(struct calc_answer *a, const struct calc_inputs *in)
{
    for (size_t i = 0; a->kind->arguments[i].key != NULL; i++)
        if (!isnan(in->value[i]) || in->text[i] != NULL)
            add_input(a, &a->kind->arguments[i], in, i);
}

static void note_error(struct calc_answer *a)
{
    for (size_t i = 0; i < a->figure_count; i++)
        if (a->figures[i].error > 0) {
            calc_note(a, "The ± comes from the readings' own, taken as independent, first order "
                         "(JCGM 100:2008 5.1.2).");
            return;
        }
}

#define BEYOND 1e12 /* of any base unit */

/* Readings far beyond any shop give figures that are none, or a ± that is none. */
static void drop_boundless(struct calc_work *w, double *error)
{
    for (size_t i = 0; i < CALC_OUTPUTS; i++)
        if (fabs(w->out[i]) > BEYOND || error[i] > BEYOND) {
            w->out[i] = error[i] = NAN;
            w->why[i] = "the readings are beyond all measure";
        }
}

void calc_answer_free(struct calc_answer *a)
{
    for (size_t i = 0; i < a->input_count; i++)
        free(a->inputs[i].text);
    for (size_t i = 0; i < a->note_count; i++)
        free(a->notes[i]);
    memset(a, 0, sizeof *a);
}

int calc_answer_make(const struct calc_kind *kind, const struct calc_inputs *in,
                     enum unit_system units, struct calc_answer *out, struct error *e)
{
    struct carried carried = {kind, in->text};
    double error[CALC_OUTPUTS];
    struct calc_work w;

    memset(out, 0, sizeof *out);
    work_start(&w, in->value, in->text);
    if (kind->work(&w, e) != 0)
        return -1;
    uncertainty_carry(carried_work, &carried, in->value, in->error, CALC_ARGUMENTS, error,
                      CALC_OUTPUTS);
    drop_boundless(&w, error);
    out->kind = kind;
    out->units = units;
    add_figures(out, &w, error);
    for (size_t i = 0; kind->remarks[i].text != NULL; i++)
        if (!isnan(w.out[kind->remarks[i].figure]))
            calc_note(out, "%s", kind->remarks[i].text);
    if (kind->say != NULL)
        kind->say(&w, out);
    if (out->figure_count == 0 && out->word_count == 0) {
        calc_answer_free(out);
        return error_set(e, ERROR_USAGE, "calc %s needs %s", kind->name, kind->needs);
    }
    add_inputs(out, in);
    note_error(out);
    return 0;
}

void calc_word(struct calc_answer *a, const char *key, const char *label, const char *text)
{
    assert(a->word_count < CALC_WORDS);
    a->words[a->word_count++] = (struct calc_word){key, label, text};
}

void calc_note(struct calc_answer *a, const char *format, ...)
{
    va_list args;

    assert(a->note_count < CALC_NOTES);
    va_start(args, format);
    a->notes[a->note_count++] = mem_vformat(format, args);
    va_end(args);
}

const struct calc_figure *calc_figure_find(const struct calc_answer *a, const char *key)
{
    for (size_t i = 0; i < a->figure_count; i++)
        if (strcmp(a->figures[i].key, key) == 0)
            return &a->figures[i];
    return NULL;
}
