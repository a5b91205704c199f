/* A comparison as JSON. */
#include "analysis/compare.h"
#include "analysis/format_json.h"

static void put_group(struct json *root, const char *key, const struct frame *f,
                      const struct compare_group *g)
{
    struct json *item = json_put_object(root, key), *steps;

    json_put_text(item, "label", g->label);
    format_json_marks(json_put_array(item, "coupons"), f, g->rows, g->count);
    json_put_whole(item, "broke", (long long)g->broke);
    json_put_whole(item, "held", (long long)g->held);
    format_json_result(item, "middle", f, g->mean);
    steps = json_put_array(item, "unbroken");
    for (size_t i = 0; i < g->steps.step_count; i++) {
        struct json *step = json_add_object(steps);

        format_json_result(step, "at", f, g->steps.steps[i].at);
        json_put_number(step, "share", g->steps.steps[i].share);
        json_put_number(step, "low", g->steps.steps[i].low);
        json_put_number(step, "high", g->steps.steps[i].high);
    }
}

char *compare_json(const struct compare_answer *a)
{
    const struct frame *f = &a->data.frame;
    struct json *root = format_json_start(&a->data), *array;

    json_put_text(root, "variable", a->column == COMPARE_MARKS ? NULL : f->columns[a->column].key);
    array = json_put_array(root, "comparisons");
    for (size_t i = 0; i < a->list.count; i++) {
        const struct comparison *c = &a->list.items[i];
        struct json *item = json_add_object(array);

        put_group(item, "a", f, &c->a);
        put_group(item, "b", f, &c->b);
        format_json_change(item, "difference", f, c->difference);
        format_json_change(item, "low", f, c->low);
        format_json_change(item, "high", f, c->high);
        json_put_number(item, "permutation_chance", c->permutation.chance);
        json_put_bool(item, "permutation_all", c->permutation.all);
        json_put_number(item, "permutation_smallest", c->smallest);
        json_put_number(item, "log_rank_chi_square", c->log_rank.chi_square);
        json_put_number(item, "log_rank_chance", c->log_rank.chance);
    }
    return format_json_finish(root);
}
