#include "app/list_row.h"

#include <stdlib.h>
#include <string.h>

#include "app/coupon_page.h"
#include "app/differences.h"
#include "base/clock.h"
#include "base/mem.h"
#include "base/text.h"
#include "store/coupons.h"

enum { SHOWN = 160 };

struct list_row list_row_make(const struct session *s, const struct coupon *c,
                              const struct coupon *before, const struct variable *result)
{
    char when[40], shown[SHOWN];

    clock_format_short(when, sizeof when, c->when);
    coupon_result(s, c, result, shown, sizeof shown);
    return (struct list_row){
        .number = c->sequence,
        .mark = mem_copy(c->mark),
        .when = mem_copy(when),
        .changed = differences_since(&s->variables, c, before),
        .result =
            c->struck_why == NULL ? mem_copy(shown) : mem_format("struck out: %s", c->struck_why),
        .struck = c->struck_why != NULL,
    };
}

int list_row_read(struct session *s, long number, const struct variable *result,
                  struct list_row *out, struct error *e)
{
    struct coupon c, before;
    int got = coupon_load_number(s->book, number, &c, e);

    if (got < 0)
        return -1;
    got = coupon_load_before(s->book, &c, &before, e);
    if (got >= 0)
        *out = list_row_make(s, &c, got > 0 ? &before : NULL, result);
    coupon_free(&before);
    coupon_free(&c);
    return got < 0 ? -1 : 0;
}

void list_row_free(struct list_row *row)
{
    free(row->mark);
    free(row->when);
    free(row->changed);
    free(row->result);
}

bool list_row_holds(const struct list_row *row, const struct coupon *c, const char *letters)
{
    const char *const texts[] = {row->mark, row->changed, row->result, row->when, c->who, c->note};

    for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
        if (texts[i] != NULL && strcasestr(texts[i], letters) != NULL)
            return true;
    for (size_t i = 0; i < c->value_count; i++)
        if (c->values[i].text != NULL && strcasestr(c->values[i].text, letters) != NULL)
            return true;
    return false;
}

/* One result of every kind, in words. */
static void add_results(struct text *t, const struct session *s, const struct variable *result)
{
    const struct measure measures[] = {measure_missing(), measure_exact(1), measure_at_least(1),
                                       measure_at_most(1), measure_between(1, 2)};

    for (size_t i = 0; i < sizeof measures / sizeof *measures; i++)
        for (int end = BEND_NOT_DONE; end <= BEND_HELD; end++) {
            char shown[SHOWN];
            struct coupon c;

            coupon_init(&c);
            c.bend.end = (enum bend_end)end;
            coupon_set_number(&c, result->key, measures[i], NULL);
            coupon_result(s, &c, result, shown, sizeof shown);
            text_addf(t, "%s\n", shown);
            coupon_free(&c);
        }
}

/* Every word that is not kept in the book. */
static char *words_said(const struct session *s, const struct variable *result)
{
    struct text t = {0};

    text_add(&t, "the first\nnothing\nand\nstruck out\n");
    for (size_t i = 0; i < s->variables.count; i++)
        text_addf(&t, "%s\n%s\n", s->variables.items[i].label,
                  s->variables.items[i].unit == NULL ? "" : s->variables.items[i].unit);
    for (size_t i = 0; unit_at(i) != NULL; i++)
        text_addf(&t, "%s\n", unit_at(i)->symbol);
    add_results(&t, s, result);
    return text_steal(&t);
}

/* What is no plain letter may be part of a number, a unit or a day. Words are held against the
 * others one by one, as they may come together in many ways. */
bool list_row_may_say(const struct session *s, const struct variable *result, const char *letters)
{
    char *said = words_said(s, result), *copy = mem_copy(letters), *more = NULL;
    bool may =
        letters[strspn(letters, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ, ")] != '\0';
    bool all = true;

    for (char *word = strtok_r(copy, ", ", &more); word != NULL; word = strtok_r(NULL, ", ", &more))
        all = all && strcasestr(said, word) != NULL;
    free(copy);
    free(said);
    return may || all;
}
