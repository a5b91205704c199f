#include "stats/data/frame.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"

void frame_init(struct frame *f, const char *result_key, const char *label, const char *unit,
                double range)
{
    *f = (struct frame){.range = range};
    f->result_key = mem_copy(result_key);
    f->result_label = mem_copy(label);
    f->result_unit = mem_copy(unit);
}

static void column_free(struct column *c)
{
    for (size_t i = 0; i < c->level_count; i++)
        free(c->levels[i]);
    free(c->levels);
    free(c->key);
    free(c->label);
    free(c->unit);
    free(c->x);
}

void frame_free(struct frame *f)
{
    for (size_t i = 0; i < f->n; i++)
        free(f->marks[i]);
    for (size_t j = 0; j < f->k; j++)
        column_free(&f->columns[j]);
    free(f->marks);
    free(f->y);
    free(f->columns);
    free(f->result_key);
    free(f->result_label);
    free(f->result_unit);
    *f = (struct frame){0};
}

size_t frame_add_column(struct frame *f, const char *key, const char *label, const char *unit,
                        bool category)
{
    assert(f->n == 0);
    f->columns = array_reserve(f->columns, &f->column_capacity, f->k + 1, sizeof *f->columns);
    f->columns[f->k] = (struct column){.key = mem_copy(key),
                                       .label = mem_copy(label),
                                       .unit = mem_copy(unit),
                                       .category = category};
    return f->k++;
}

/* All arrays that hold one item a coupon grow together. */
static void grow_rows(struct frame *f)
{
    size_t before = f->row_capacity;

    f->marks = array_reserve(f->marks, &f->row_capacity, f->n + 1, sizeof *f->marks);
    if (f->row_capacity == before)
        return;
    f->y = mem_resize(f->y, f->row_capacity, sizeof *f->y);
    for (size_t j = 0; j < f->k; j++)
        f->columns[j].x = mem_resize(f->columns[j].x, f->row_capacity, sizeof(double));
}

size_t frame_add_row(struct frame *f, const char *mark, struct measure y)
{
    grow_rows(f);
    f->marks[f->n] = mem_copy(mark);
    f->y[f->n] = y;
    for (size_t j = 0; j < f->k; j++)
        f->columns[j].x[f->n] = NAN;
    return f->n++;
}

void frame_set_number(struct frame *f, size_t row, size_t column, double value)
{
    assert(row < f->n && column < f->k && !f->columns[column].category);
    f->columns[column].x[row] = value;
}

const char *frame_unit(const struct column *c)
{
    return c->shown != NULL ? c->shown->symbol : c->unit;
}

const char *frame_result_unit(const struct frame *f)
{
    return f->result_shown != NULL ? f->result_shown->symbol : f->result_unit;
}

static size_t level_index(struct column *c, const char *level)
{
    for (size_t i = 0; i < c->level_count; i++)
        if (strcmp(c->levels[i], level) == 0)
            return i;
    c->levels = array_reserve(c->levels, &c->level_capacity, c->level_count + 1, sizeof *c->levels);
    c->levels[c->level_count] = mem_copy(level);
    return c->level_count++;
}

size_t frame_level(struct frame *f, size_t column, const char *level)
{
    assert(column < f->k && f->columns[column].category);
    return level_index(&f->columns[column], level);
}

void frame_set_level(struct frame *f, size_t row, size_t column, const char *level)
{
    assert(row < f->n);
    f->columns[column].x[row] = (double)frame_level(f, column, level);
}

static int by_name(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

static void sort_levels(struct column *c, size_t n)
{
    char **before = mem_zero(c->level_count, sizeof *before);
    double *moved = mem_zero(c->level_count, sizeof *moved);

    memcpy(before, c->levels, c->level_count * sizeof *before);
    qsort(c->levels, c->level_count, sizeof *c->levels, by_name);
    for (size_t i = 0; i < c->level_count; i++)
        moved[i] = (double)level_index(c, before[i]);
    for (size_t row = 0; row < n; row++)
        if (!isnan(c->x[row]))
            c->x[row] = moved[(size_t)c->x[row]];
    free(before);
    free(moved);
}

void frame_sort_levels(struct frame *f)
{
    for (size_t j = 0; j < f->k; j++)
        if (f->columns[j].levels != NULL)
            sort_levels(&f->columns[j], f->n);
}

double frame_range(const struct frame *f)
{
    double low = NAN, high = NAN;

    if (f->range > 0)
        return f->range;
    for (size_t i = 0; i < f->n; i++) {
        double v = measure_point(f->y[i]);

        low = fmin(low, v); /* NAN counts for nothing */
        high = fmax(high, v);
    }
    return high > low ? high - low : 1;
}
