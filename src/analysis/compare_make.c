/* Working out a comparison. */
#include <stdlib.h>
#include <string.h>

#include "analysis/compare.h"
#include "base/mem.h"
#include "model/quantity.h"

static int find_column(const struct session *s, const struct frame *f, const char *name,
                       size_t *out, struct error *e)
{
    const struct variable *v = variable_find(&s->variables, name);
    struct text names = {0};

    for (size_t j = 0; v != NULL && j < f->k; j++)
        if (strcmp(f->columns[j].key, v->key) == 0) {
            *out = j;
            return 0;
        }
    for (size_t j = 0; j < f->k; j++)
        text_addf(&names, "%s%s", j == 0 ? "" : ", ", f->columns[j].key);
    error_set(e, v == NULL ? ERROR_USAGE : ERROR_ANSWER, "%s '%s'; this trial has %s",
              v == NULL ? "there is no variable" : "no coupon of this trial has a value for", name,
              text_str(&names));
    text_free(&names);
    return -1;
}

static int find_level(const struct session *s, const struct frame *f, size_t column,
                      const char *text, double *out, struct error *e)
{
    const struct column *c = &f->columns[column];
    const struct variable *v = variable_find(&s->variables, c->key);
    struct quantity q;
    struct text levels = {0};

    if (!c->category) {
        if (quantity_parse(text, v == NULL ? DIM_NUMBER : v->dimension, s->units, &q, e) < 0)
            return -1;
        *out = q.value;
        return 0;
    }
    for (size_t i = 0; i < c->level_count; i++)
        if (text_same(c->levels[i], text)) {
            *out = (double)i;
            return 0;
        }
    for (size_t i = 0; i < c->level_count; i++)
        text_addf(&levels, "%s%s", i == 0 ? "" : ", ", c->levels[i]);
    error_set(e, ERROR_USAGE, "%s has no level '%s'; it has %s", c->key, text, text_str(&levels));
    text_free(&levels);
    return -1;
}

/* The one comparison of an answer, empty. */
static struct comparison *single(struct compare_answer *a)
{
    a->list.items = mem_zero(1, sizeof *a->list.items);
    a->list.capacity = a->list.count = 1;
    return a->list.items;
}

static int compare_two(const struct session *s, struct compare_answer *a, const char *level_a,
                       const char *level_b, struct error *e)
{
    struct frame *f = &a->data.frame;
    double x, y;

    if (find_level(s, f, a->column, level_a, &x, e) < 0 ||
        find_level(s, f, a->column, level_b, &y, e) < 0)
        return -1;
    return compare_values(f, a->column, x, y, 1, single(a), e);
}

/* The answer goes to the caller when it could be made, else it is released. */
static int hand_over(struct compare_answer *a, int rc, struct compare_answer **out)
{
    *out = rc < 0 ? NULL : a;
    if (rc < 0)
        compare_free(a);
    return rc;
}

int compare_make(struct session *s, const struct trial_question *q, const char *variable,
                 const char *level_a, const char *level_b, struct compare_answer **out,
                 struct error *e)
{
    struct compare_answer *a = mem_zero(1, sizeof *a);
    int rc = trial_data_load(s, q, &a->data, e);

    if (rc == 0)
        rc = find_column(s, &a->data.frame, variable, &a->column, e);
    if (rc == 0 && level_a != NULL && level_b != NULL)
        rc = compare_two(s, a, level_a, level_b, e);
    else if (rc == 0)
        rc = compare_variable(&a->data.frame, a->column, 1, &a->list, e);
    return hand_over(a, rc, out);
}

/* The row of one mark; refuses a mark no coupon in use has. */
static int find_row(const struct frame *f, const char *mark, size_t *out, struct error *e)
{
    for (size_t i = 0; i < f->n; i++)
        if (text_same(f->marks[i], mark)) {
            *out = i;
            return 0;
        }
    return error_set(e, ERROR_INPUT, "this trial has no coupon %s that counts", mark);
}

/* "01,02": the rows of these marks; the caller frees *rows. */
static int find_rows(const struct frame *f, const char *marks, size_t **rows, size_t *count,
                     struct error *e)
{
    char *copy = mem_copy(marks), *rest = copy, *mark;
    int rc = 0;

    *rows = mem_zero(strlen(marks) + 1, sizeof **rows);
    *count = 0;
    while (rc == 0 && (mark = strsep(&rest, ",")) != NULL) {
        mark = text_trim(mark);
        if (*mark != '\0')
            rc = find_row(f, mark, &(*rows)[(*count)++], e);
    }
    if (rc == 0 && *count == 0)
        rc = error_set(e, ERROR_USAGE, "name coupons by their marks, with commas between");
    free(copy);
    return rc;
}

static int refuse_shared(const struct frame *f, const size_t *a, size_t a_count, const size_t *b,
                         size_t b_count, struct error *e)
{
    for (size_t i = 0; i < a_count; i++)
        for (size_t j = 0; j < b_count; j++)
            if (a[i] == b[j])
                return error_set(e, ERROR_USAGE, "coupon %s is in both groups", f->marks[a[i]]);
    return 0;
}

static int compare_rows(struct compare_answer *a, const char *marks_a, const char *marks_b,
                        struct error *e)
{
    const struct frame *f = &a->data.frame;
    size_t *rows_a = NULL, *rows_b = NULL, count_a = 0, count_b = 0;
    int rc = find_rows(f, marks_a, &rows_a, &count_a, e);

    if (rc == 0)
        rc = find_rows(f, marks_b, &rows_b, &count_b, e);
    if (rc == 0)
        rc = refuse_shared(f, rows_a, count_a, rows_b, count_b, e);
    if (rc == 0)
        rc = compare_groups(f, rows_a, count_a, marks_a, rows_b, count_b, marks_b, 1, single(a), e);
    free(rows_a);
    free(rows_b);
    return rc;
}

int compare_marks(struct session *s, const struct trial_question *q, const char *marks_a,
                  const char *marks_b, struct compare_answer **out, struct error *e)
{
    struct compare_answer *a = mem_zero(1, sizeof *a);
    int rc = trial_data_load(s, q, &a->data, e);

    a->column = COMPARE_MARKS;
    if (rc == 0)
        rc = compare_rows(a, marks_a, marks_b, e);
    return hand_over(a, rc, out);
}

void compare_free(struct compare_answer *a)
{
    if (a == NULL)
        return;
    comparison_list_free(&a->list);
    trial_data_free(&a->data);
    free(a);
}
