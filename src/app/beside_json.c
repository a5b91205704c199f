/* Next coupons and comparisons as JSON. */
#include <stdint.h>

#include "app/answer_json.h"

static void put_next(struct json *array, const struct frame *f, const struct design_coupon *c)
{
    struct json *item = json_add_object(array), *part;
    struct text words = {0};

    part = json_put_object(item, "set_up");
    for (size_t j = 0; j < f->k; j++)
        answer_put_level(part, f->columns[j].key, f, j, c->values[j]);
    if (c->like != SIZE_MAX)
        json_put_text(item, "like", f->marks[c->like]);
    answer_put_keys(item, "changed", f, c->changed, c->changed_count);
    json_put_bool(item, "repeat", c->repeat);
    part = json_put_array(item, "separates");
    for (size_t i = 0; i < c->separate_count; i++) {
        struct json *set = json_add_array(part);

        for (size_t j = 0; j < c->separates[i].count; j++)
            json_add_text(set, f->columns[c->separates[i].columns[j]].key);
    }
    answer_put_result(item, "expected", f, c->expected);
    json_put_number(item, "chance_held", c->chance_held);
    json_put_number(item, "score", c->score);
    words_next(f, frame_range(f), c, &words);
    json_put_text(item, "words", text_str(&words));
    text_free(&words);
}

char *next_json(const struct next_answer *a)
{
    struct json *root = answer_json_start(&a->subject), *array;

    json_put_bool(root, "from_results", a->design.from_results);
    json_put_bool(root, "all_tried", a->design.all_tried);
    json_put_number(root, "combinations", a->design.combinations);
    json_put_number(root, "log_det_gain", a->design.log_det_gain);
    array = json_put_array(root, "next");
    for (size_t i = 0; i < a->design.count; i++)
        put_next(array, &a->subject.frame, &a->design.coupons[i]);
    return answer_json_finish(root);
}

static void put_group(struct json *root, const char *key, const struct frame *f,
                      const struct compare_group *g)
{
    struct json *item = json_put_object(root, key), *steps;

    json_put_text(item, "label", g->label);
    answer_put_marks(item, "coupons", f, g->rows, g->count);
    json_put_whole(item, "broke", (long long)g->broke);
    json_put_whole(item, "held", (long long)g->held);
    answer_put_result(item, "middle", f, g->mean);
    steps = json_put_array(item, "unbroken");
    for (size_t i = 0; i < g->steps.step_count; i++) {
        struct json *step = json_add_object(steps);

        answer_put_result(step, "at", f, g->steps.steps[i].at);
        json_put_number(step, "share", g->steps.steps[i].share);
        json_put_number(step, "low", g->steps.steps[i].low);
        json_put_number(step, "high", g->steps.steps[i].high);
    }
}

char *compare_json(const struct compare_answer *a)
{
    const struct frame *f = &a->subject.frame;
    struct json *root = answer_json_start(&a->subject), *array;

    json_put_text(root, "variable", a->column == COMPARE_MARKS ? NULL : f->columns[a->column].key);
    array = json_put_array(root, "comparisons");
    for (size_t i = 0; i < a->list.count; i++) {
        const struct comparison *c = &a->list.items[i];
        struct json *item = json_add_object(array);

        put_group(item, "a", f, &c->a);
        put_group(item, "b", f, &c->b);
        answer_put_change(item, "difference", f, c->difference);
        answer_put_change(item, "low", f, c->low);
        answer_put_change(item, "high", f, c->high);
        json_put_number(item, "permutation_chance", c->permutation.chance);
        json_put_bool(item, "permutation_all", c->permutation.all);
        json_put_number(item, "permutation_smallest", c->smallest);
        json_put_number(item, "log_rank_chi_square", c->log_rank.chi_square);
        json_put_number(item, "log_rank_chance", c->log_rank.chance);
    }
    return answer_json_finish(root);
}
