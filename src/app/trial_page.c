#include "app/trial_page.h"

#include <math.h>
#include <stdlib.h>

#include "app/coupon_page.h"
#include "app/list_row.h"
#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "base/text.h"
#include "derived/strength_reached.h"
#include "model/quantity.h"
#include "model/variable_key.h"
#include "page/cautions.h"
#include "store/trials.h"

static void add_row(const struct session *s, const struct coupon *c, const struct coupon *before,
                    const struct variable *result, struct block *t)
{
    struct list_row row = list_row_make(s, c, before, result);

    PAGE_ROW(t, row.mark, row.mark, row.when, row.changed, row.result);
    list_row_free(&row);
}

int trial_page_coupons(struct session *s, const struct trial *t, bool with_struck, struct page *p,
                       struct error *e)
{
    const struct variable *result = task_trial_result(s, t, NULL, e);
    const struct coupon *before = NULL;
    struct coupon_list list;
    struct block *table;

    if (result == NULL || task_coupons(s, t, with_struck, &list, e) < 0)
        return -1;
    page_add(p, BLOCK_TITLE, "Trial %s: %zu coupon%s", t->name, list.count,
             list.count == 1 ? "" : "s");
    if (t->question != NULL)
        page_add(p, BLOCK_TEXT, "%s", t->question);
    table = PAGE_TABLE(p, {.title = "mark"}, {.title = "welded", .rank = 1},
                       {.title = "changed since the one before"}, {.title = result->label});
    for (size_t i = 0; i < list.count; i++) {
        add_row(s, &list.items[i], before, result, table);
        if (list.items[i].struck_why == NULL)
            before = &list.items[i];
    }
    coupon_list_free(&list);
    return 0;
}

/* The weld strength the trial's own coupons show, where they can show any. */
static void add_strength(struct session *s, const struct trial *t, struct page *p)
{
    struct coupon_list list;
    struct hinge_fit fit;
    char words[320];

    if (task_coupons(s, t, false, &list, NULL) < 0)
        return;
    fit = strength_reached(&list);
    strength_sentence(words, sizeof words, &fit, s->units);
    coupon_list_free(&list);
    if (*words == '\0')
        return;
    page_add(p, BLOCK_TEXT, "%s", words);
    page_add(p, BLOCK_CAUTION, "%s", caution_scope);
}

void trial_page(struct session *s, const struct trial *t, struct page *p)
{
    char stop[64];

    page_add(p, BLOCK_TITLE, "Trial %s", t->name);
    if (t->question != NULL)
        page_add(p, BLOCK_TEXT, "Question: %s", t->question);
    page_add(p, BLOCK_ITEM, "Judged by %s.", t->result == NULL ? KEY_BEND_ANGLE : t->result);
    if (!isnan(t->stop_deg)) {
        quantity_format(stop, sizeof stop, t->stop_deg, DIM_ANGLE, s->units);
        page_add(p, BLOCK_ITEM, "Folding ends at %s.", stop);
    }
    for (size_t i = 0; i < t->set_count; i++) {
        const struct variable *v = variable_find(&s->variables, t->sets[i].variable);
        struct text levels = {0};

        for (size_t j = 0; j < t->sets[i].count; j++)
            text_addf(&levels, "%s%s", j == 0 ? "" : ", ", t->sets[i].levels[j]);
        page_add(p, BLOCK_ITEM, "%s: %s.", v == NULL ? t->sets[i].variable : v->label,
                 text_str(&levels));
        text_free(&levels);
    }
    if (t->note != NULL)
        page_add(p, BLOCK_TEXT, "Note: %s", t->note);
    add_strength(s, t, p);
}

int trial_page_all(struct session *s, bool with_struck, struct page *p, struct error *e)
{
    struct trial_list list = {0};
    struct block *t;

    if ((with_struck ? trials_load_all : trials_load)(s->book, &list, e) < 0)
        return -1;
    page_add(p, BLOCK_TITLE, "%zu trial%s in %s", list.count, list.count == 1 ? "" : "s",
             book_path(s->book));
    if (list.count > 0) {
        t = PAGE_TABLE(p, {.title = "trial"}, {.title = "judged by"}, {.title = "question"});
        for (size_t i = 0; i < list.count; i++) {
            const struct trial *trial = &list.items[i];

            size_t row = PAGE_ROW(t, trial->name, trial->name,
                                  trial->result ? trial->result : KEY_BEND_ANGLE, trial->question);

            if (trial->struck_why != NULL)
                page_table_cell(t, row, 2, "struck out: %s", trial->struck_why);
        }
    }
    trial_list_free(&list);
    return 0;
}
