/* Two levels of one variable side by side. */
#include <stdlib.h>
#include <string.h>

#include "app/answer.h"
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
    const struct unit *unit = v == NULL ? NULL : unit_shown(v->dimension, s->units);
    struct quantity q;
    struct text levels = {0};

    if (!c->category) {
        if (quantity_parse(text, v == NULL ? DIM_NUMBER : v->dimension, s->units, &q, e) < 0)
            return -1;
        *out = unit == NULL ? q.value : unit_from_base(unit, q.value);
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

static int compare_two(const struct session *s, struct compare_answer *a, const char *level_a,
                       const char *level_b, struct error *e)
{
    struct frame *f = &a->subject.frame;
    double x, y;

    if (find_level(s, f, a->column, level_a, &x, e) < 0 ||
        find_level(s, f, a->column, level_b, &y, e) < 0)
        return -1;
    a->list.items = mem_zero(1, sizeof *a->list.items);
    a->list.room = 1;
    if (compare_values(f, a->column, x, y, 1, &a->list.items[0], e) < 0)
        return -1;
    a->list.count = 1;
    return 0;
}

int compare_make(struct session *s, const struct rank_request *r, const char *variable,
                 const char *level_a, const char *level_b, struct compare_answer **out,
                 struct error *e)
{
    struct compare_answer *a = mem_zero(1, sizeof *a);
    int rc = subject_load(s, r, &a->subject, e);

    *out = NULL;
    if (rc == 0)
        rc = find_column(s, &a->subject.frame, variable, &a->column, e);
    if (rc == 0 && level_a != NULL && level_b != NULL)
        rc = compare_two(s, a, level_a, level_b, e);
    else if (rc == 0)
        rc = compare_variable(&a->subject.frame, a->column, 1, &a->list, e);
    if (rc < 0) {
        compare_free(a);
        return rc;
    }
    *out = a;
    return 0;
}

void compare_free(struct compare_answer *a)
{
    if (a == NULL)
        return;
    comparison_list_free(&a->list);
    subject_free(&a->subject);
    free(a);
}
