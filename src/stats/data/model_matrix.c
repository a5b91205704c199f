#include "stats/data/model_matrix.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

#include "base/mem.h"
#include "stats/num/order.h"

/* The coupons and columns still in the running while the frame is being judged. */
struct choice {
    const struct frame *f;
    bool *column; /* k: in use */
    bool *row;    /* n: result known and no gap in a column in use */
    size_t *gaps; /* n: first column in use that is missing, k when none */
    size_t rows;
    double min, max; /* of what is finite in the results of the rows */
};

static bool known(const struct frame *f, size_t row, size_t column)
{
    return isfinite(f->columns[column].x[row]);
}

/* Marks the rows that can be used with the columns in use. */
static void choose_rows(struct choice *c)
{
    const struct frame *f = c->f;

    c->rows = 0;
    for (size_t i = 0; i < f->n; i++) {
        size_t j = 0;

        while (j < f->k && (!c->column[j] || known(f, i, j)))
            j++;
        c->gaps[i] = j;
        c->row[i] = j == f->k && measure_known(f->y[i]);
        c->rows += c->row[i];
    }
}

/* Does the column take two values among coupons with a result (or among the rows chosen)? */
static bool changes(const struct choice *c, size_t column, bool chosen_only)
{
    const struct frame *f = c->f;
    double first = NAN;

    for (size_t i = 0; i < f->n; i++) {
        if (chosen_only ? !c->row[i] : !measure_known(f->y[i]) || !known(f, i, column))
            continue;
        if (isnan(first))
            first = f->columns[column].x[i];
        else if (f->columns[column].x[i] != first)
            return true;
    }
    return false;
}

static size_t count_gaps(const struct choice *c, size_t column)
{
    size_t gaps = 0;

    for (size_t i = 0; i < c->f->n; i++)
        gaps += measure_known(c->f->y[i]) && !known(c->f, i, column);
    return gaps;
}

/* Sets aside the column in use with most gaps; false when none has any. */
static bool drop_sparsest(struct choice *c, struct exclusions *l)
{
    size_t worst = c->f->k, max = 0;

    for (size_t j = 0; j < c->f->k; j++) {
        size_t gaps = c->column[j] ? count_gaps(c, j) : 0;

        if (gaps > max) {
            max = gaps;
            worst = j;
        }
    }
    if (worst == c->f->k)
        return false;
    c->column[worst] = false;
    l->too_seldom[l->too_seldom_count++] = worst;
    return true;
}

/* Sets aside columns that do not change; true when there were any. */
static bool drop_unchanged(struct choice *c, bool chosen_only, struct exclusions *l)
{
    bool dropped = false;

    for (size_t j = 0; j < c->f->k; j++)
        if (c->column[j] && !changes(c, j, chosen_only)) {
            c->column[j] = false;
            l->never_changed[l->never_changed_count++] = j;
            dropped = true;
        }
    return dropped;
}

static void choose(struct choice *c, struct exclusions *l)
{
    for (size_t j = 0; j < c->f->k; j++)
        c->column[j] = true;
    drop_unchanged(c, false, l);
    do {
        choose_rows(c);
        while (c->rows < MODEL_MATRIX_MIN_ROWS && drop_sparsest(c, l))
            choose_rows(c);
    } while (drop_unchanged(c, true, l));
}

static void list_left_out(const struct choice *c, struct exclusions *l)
{
    for (size_t i = 0; i < c->f->n; i++)
        if (!c->row[i])
            l->rows[l->row_count++] =
                (struct left_out){i, measure_known(c->f->y[i]) ? c->gaps[i] : NO_COLUMN};
}

/* A result with the infinite end brought to the other one. */
static struct measure finite_part(struct measure m)
{
    if (m.kind == MEASURE_AT_LEAST)
        m.high = m.low;
    if (m.kind == MEASURE_AT_MOST)
        m.low = m.high;
    return m;
}

/* 0, or the error that no ranking is possible. */
static int refuse(struct choice *c, struct error *e)
{
    const struct frame *f = c->f;
    bool below = false, above = false, column = false, coarse = false;

    c->min = INFINITY;
    c->max = -INFINITY;
    for (size_t i = 0; i < f->n; i++)
        if (c->row[i]) {
            struct measure m = finite_part(f->y[i]);

            below |= isfinite(f->y[i].low);
            above |= isfinite(f->y[i].high);
            coarse |= f->y[i].kind != MEASURE_EXACT;
            c->min = fmin(c->min, m.low);
            c->max = fmax(c->max, m.high);
        }
    for (size_t j = 0; j < f->k; j++)
        column |= c->column[j];
    const struct {
        bool holds;
        const char *text;
    } reasons[] = {
        {c->rows == 0, "No coupon has a result yet: weld, fold and record some."},
        {!above, "Nothing broke: every result is only \"at least\", so nothing can be ranked. Fold "
                 "further, or make a harder test."},
        {!below, "Every result is only \"at most\", so nothing can be ranked. A result that can be "
                 "read is needed."},
        {c->min == c->max && !(coarse && f->range > 0),
         "All results are equal, so no change made a difference that can be seen."},
        {!column,
         "No variable was changed between the coupons: there is nothing to rank. Weld some "
         "with one thing changed."},
    };

    for (size_t i = 0; i < sizeof reasons / sizeof *reasons; i++)
        if (reasons[i].holds)
            return error_set(e, ERROR_ANSWER, "%s", reasons[i].text);
    return 0;
}

struct observation observation_coded(struct measure m, double centre, double unit)
{
    return (struct observation){m.kind, (m.low - centre) / unit, (m.high - centre) / unit, 1};
}

/* Centre and unit of the results, and the results in them. */
static void code_results(const struct choice *choice, struct model_matrix *c)
{
    const struct frame *f = choice->f;
    double sum = 0;

    for (size_t i = 0; i < c->n; i++) {
        struct measure m = finite_part(f->y[c->rows[i]]);

        sum += 0.5 * m.low + 0.5 * m.high;
    }
    c->centre = sum / (double)c->n;
    c->unit = (f->range > 0 ? f->range : choice->max - choice->min) / 6;
    c->y = mem_zero(c->n, sizeof *c->y);
    for (size_t i = 0; i < c->n; i++)
        c->y[i] = observation_coded(f->y[c->rows[i]], c->centre, c->unit);
}

void model_group_code(const double *values, size_t count, bool category, struct model_group *g)
{
    g->low = values[0];
    g->high = values[count - 1];
    if (category) {
        g->level_count = count;
        g->levels = mem_zero(count, sizeof *g->levels);
    }
    for (size_t l = 0; l < g->level_count; l++)
        g->levels[l] = (size_t)values[l];
    g->count = g->level_count > 2 ? g->level_count - 1 : 1;
    g->lambda = (g->count > 1 ? 2 : 1) / (MODEL_MATRIX_TAU * MODEL_MATRIX_TAU);
}

void model_matrix_level(const struct model_group *g, size_t at, double *x)
{
    assert(at < 2 || at < g->level_count);
    if (g->count == 1) {
        x[0] = at == 0 ? -0.5 : 0.5;
        return;
    }
    for (size_t c = 1; c <= g->count; c++) /* Helmert: level c against the mean of those before */
        x[c - 1] = (at < c ? -1.0 : at == c ? (double)c : 0.0) / sqrt((double)(c * (c + 1)));
}

static size_t level_place(const struct model_group *g, double value)
{
    size_t at = 0;

    while (at < g->level_count && g->levels[at] != (size_t)value)
        at++;
    assert(at < g->level_count);
    return at;
}

void model_group_row(const struct model_group *g, double value, double *x)
{
    if (g->level_count > 0)
        model_matrix_level(g, level_place(g, value), x);
    else
        x[0] = (value - g->low) / (g->high - g->low) - 0.5;
}

void model_matrix_row(const struct model_matrix *c, const double *values, double *x)
{
    x[0] = 1;
    for (size_t g = 0; g < c->group_count; g++)
        model_group_row(&c->groups[g], values[g], x + c->groups[g].first);
}

size_t model_matrix_columns(const struct model_matrix *c, uint64_t groups, size_t *columns)
{
    size_t count = 0;

    columns[count++] = 0;
    for (size_t g = 0; g < c->group_count; g++)
        for (size_t j = 0; (groups >> g & 1) && j < c->groups[g].count; j++)
            columns[count++] = c->groups[g].first + j;
    return count;
}

void model_matrix_set_lambda(struct model_matrix *c)
{
    c->lambda = mem_zero(c->p, sizeof *c->lambda);
    for (size_t g = 0; g < c->group_count; g++)
        for (size_t j = 0; j < c->groups[g].count; j++)
            c->lambda[c->groups[g].first + j] = c->groups[g].lambda;
}

static void code_columns(const struct choice *choice, struct model_matrix *c)
{
    const struct frame *f = choice->f;
    double *values = mem_zero(c->n, sizeof *values);

    c->groups = mem_zero(f->k, sizeof *c->groups);
    c->p = 1;
    for (size_t j = 0; j < f->k; j++)
        if (choice->column[j]) {
            struct model_group *g = &c->groups[c->group_count++];

            for (size_t i = 0; i < c->n; i++)
                values[i] = f->columns[j].x[c->rows[i]];
            g->column = j;
            g->first = c->p;
            model_group_code(values, order_distinct(values, c->n), f->columns[j].category, g);
            c->p += g->count;
        }
    free(values);
    model_matrix_set_lambda(c);
    c->x = mem_zero(c->n * c->p, sizeof *c->x);
    for (size_t i = 0; i < c->n; i++) {
        c->x[i * c->p] = 1;
        for (size_t g = 0; g < c->group_count; g++)
            model_group_row(&c->groups[g], f->columns[c->groups[g].column].x[c->rows[i]],
                            c->x + i * c->p + c->groups[g].first);
    }
}

static void exclusions_init(struct exclusions *l, const struct frame *f)
{
    *l = (struct exclusions){.rows = mem_zero(f->n, sizeof(struct left_out)),
                             .never_changed = mem_zero(f->k, sizeof(size_t)),
                             .too_seldom = mem_zero(f->k, sizeof(size_t))};
}

int model_matrix_make(const struct frame *f, struct model_matrix *out,
                      struct exclusions *exclusions, struct error *e)
{
    struct exclusions own;
    struct choice c = {f,
                       mem_zero(f->k, sizeof(bool)),
                       mem_zero(f->n, sizeof(bool)),
                       mem_zero(f->n, sizeof(size_t)),
                       0,
                       0,
                       0};
    int rc;

    *out = (struct model_matrix){0};
    exclusions_init(&own, f);
    choose(&c, &own);
    list_left_out(&c, &own);
    rc = refuse(&c, e);
    if (rc == 0) {
        out->rows = mem_zero(c.rows, sizeof *out->rows);
        for (size_t i = 0; i < f->n; i++)
            if (c.row[i])
                out->rows[out->n++] = i;
        code_results(&c, out);
        code_columns(&c, out);
    }
    free(c.column);
    free(c.row);
    free(c.gaps);
    if (exclusions != NULL)
        *exclusions = own;
    else
        exclusions_free(&own);
    return rc;
}

void model_matrix_free(struct model_matrix *c)
{
    for (size_t g = 0; g < c->group_count; g++)
        free(c->groups[g].levels);
    free(c->groups);
    free(c->x);
    free(c->lambda);
    free(c->y);
    free(c->rows);
    *c = (struct model_matrix){0};
}

void exclusions_free(struct exclusions *l)
{
    free(l->rows);
    free(l->never_changed);
    free(l->too_seldom);
    *l = (struct exclusions){0};
}
