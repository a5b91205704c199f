/*
 * The ranking as JSON. Numbers are in the units of the session, named beside them.
 */
#include <stdlib.h>

#include "analysis/format_json.h"
#include "analysis/rank.h"
#include "base/mem.h"

static void put_tied_with(struct json *object, const struct rank_answer *a, size_t column)
{
    struct json *array = json_put_array(object, "tied_with");

    for (size_t j = 0; j < a->data.frame.k; j++)
        if (j != column && aliasing_pair(&a->ranking.aliasing, column, j))
            json_add_text(array, a->data.frame.columns[j].key);
}

static void put_levels(struct json *object, const struct frame *f, const struct ranked *v)
{
    struct json *array;

    if (v->level_count == 0)
        return;
    array = json_put_array(object, "levels");
    for (size_t i = 0; i < v->level_count; i++) {
        const struct ranked_level *l = &v->levels[i];
        struct json *item = json_add_object(array);

        format_json_level(item, "level", f, v->column, (double)l->level);
        json_put_whole(item, "coupons", (long long)l->coupons);
        json_put_bool(item, "reference", l->reference);
        format_json_effect(item, f, l->effect, l->low, l->high);
        format_json_change(item, "effect_anyway", f, l->anyway);
    }
}

static void put_variable(struct json *array, const struct rank_answer *a,
                         const struct rank_line *line, const struct ranked *v)
{
    const struct frame *f = &a->data.frame;
    const struct column *c = &f->columns[v->column];
    struct json *item = json_add_object(array);

    json_put_text(item, "key", c->key);
    json_put_text(item, "label", c->label);
    json_put_whole(item, "rank", (long long)line->place);
    json_put_text(item, "kind", c->category ? "category" : "number");
    json_put_text(item, "unit", frame_unit(c));
    format_json_level(item, "from", f, v->column, v->from);
    format_json_level(item, "to", f, v->column, v->to);
    format_json_effect(item, f, v->effect, v->low, v->high);
    format_json_change(item, "effect_anyway", f, v->effect_anyway);
    json_put_number(item, "chance", v->chance);
    json_put_text(item, "word", sureness_word(v->word));
    json_put_number(item, "share", v->importance);
    json_put_number(item, "strongest", v->prob_largest);
    json_put_number(item, "shuffle_chance", v->permutation_chance);
    put_tied_with(item, a, v->column);
    put_levels(item, f, v);
}

/* Lines of several: what changing them together did. */
static void put_together(struct json *root, const struct rank_answer *a)
{
    struct json *array = json_put_array(root, "together");

    for (size_t i = 0; i < a->line_count; i++) {
        const struct rank_line *line = &a->lines[i];
        struct json *item, *names;

        if (line->count == 1)
            continue;
        item = json_add_object(array);
        names = json_put_array(item, "variables");
        for (size_t j = 0; j < line->count; j++)
            json_add_text(names,
                          a->data.frame.columns[a->ranking.items[line->first + j].column].key);
        json_put_number(item, "chance", line->chance);
        if (line->change == NULL)
            continue;
        format_json_level(item, "from", line->frame, line->change->column, line->change->from);
        format_json_level(item, "to", line->frame, line->change->column, line->change->to);
        format_json_effect(item, line->frame, line->change->effect, line->change->low,
                           line->change->high);
    }
}

static void put_aliasing(struct json *root, const struct rank_answer *a)
{
    struct json *tied = json_put_array(root, "tied"), *detail = json_put_array(root, "tied_detail");
    struct json *near = json_put_array(root, "nearly_tied");
    const struct frame *f = &a->data.frame;

    for (size_t i = 0; i < a->ranking.aliasing.count; i++) {
        const struct alias_set *t = &a->ranking.aliasing.sets[i];
        struct json *item = json_add_object(t->exact ? detail : near), *coupon;

        if (t->exact)
            format_json_keys(json_add_array(tied), f, t->columns, t->count);
        format_json_keys(json_put_array(item, "variables"), f, t->columns, t->count);
        format_json_marks(json_put_array(item, "coupons"), f, t->rows, t->row_count);
        json_put_number(item, "share", t->r_squared);
        json_put_number(item, "chance", t->chance);
        json_put_bool(item, "partly", t->partly);
        if (t->separated_by == NULL)
            continue;
        coupon = json_put_object(item, "broken_by");
        for (size_t j = 0; j < t->count; j++)
            format_json_level(coupon, f->columns[t->columns[j]].key, f, t->columns[j],
                              t->separated_by[j]);
    }
}

static void put_left_out(struct json *root, const struct rank_answer *a)
{
    struct json *array = json_put_array(root, "left_out");
    const struct frame *f = &a->data.frame;

    for (size_t i = 0; i < a->ranking.excluded.row_count; i++) {
        const struct left_out *l = &a->ranking.excluded.rows[i];
        struct json *item = json_add_object(array);
        char *why =
            mem_format("no %s", l->column == NO_COLUMN ? f->result_key : f->columns[l->column].key);

        json_put_text(item, "mark", f->marks[l->row]);
        json_put_text(item, "why", why);
        free(why);
    }
}

static void put_warnings(struct json *root, const struct rank_answer *a)
{
    const struct ranking *r = &a->ranking;
    const struct {
        bool is;
        const char *words;
    } warnings[] = {
        {r->aliasing.count > 0, "some variables cannot, or can hardly, be told apart"},
        {r->aliasing.short_of_coupons, "fewer different set-ups than the variables need"},
        {r->excluded.row_count > 0, "coupons with missing values were left out"},
        {r->repeats == 0, "no repeats: the scatter of like coupons was not seen"},
        {r->searched, "more than 12 variables: the sets of them were searched, not all tried"},
        {r->approximated, "many coupons: sets of variables judged from one full fit"},
        {a->has_outliers && !a->outliers.steady, "the order is not steady"},
    };
    struct json *array = json_put_array(root, "warnings");

    for (size_t i = 0; i < sizeof warnings / sizeof *warnings; i++)
        if (warnings[i].is)
            json_add_text(array, warnings[i].words);
}

static void put_outliers(struct json *root, const struct rank_answer *a)
{
    struct json *array;

    if (!a->has_outliers)
        return;
    json_put_bool(root, "steady", a->outliers.steady);
    array = json_put_array(root, "odd");
    for (size_t i = 0; i < a->outliers.count; i++) {
        const struct outlier_check *o = &a->outliers.coupons[i];
        struct json *item;

        if (!o->outlier)
            continue;
        item = json_add_object(array);
        json_put_text(item, "mark", a->data.frame.marks[o->row]);
        format_json_result(item, "expected", &a->data.frame, o->expected);
        format_json_result(item, "low", &a->data.frame, o->low);
        format_json_result(item, "high", &a->data.frame, o->high);
        json_put_number(item, "chance", o->chance);
        json_put_bool(item, "same_first", o->same_first);
    }
}

static void put_interactions(struct json *root, const struct rank_answer *a)
{
    struct json *array;

    if (!a->has_interactions)
        return;
    array = json_put_array(root, "combined");
    for (size_t i = 0; i < a->interactions.count; i++) {
        const struct interaction *c = &a->interactions.pairs[i];
        const size_t pair[] = {c->a, c->b};
        struct json *item = json_add_object(array);

        format_json_keys(json_put_array(item, "variables"), &a->data.frame, pair, 2);
        json_put_number(item, "chance", c->chance);
        json_put_text(item, "word", sureness_word(sureness_of(c->chance)));
        format_json_effect(item, &a->data.frame, c->effect, c->low, c->high);
        format_json_change(item, "first_at_low_of_second", &a->data.frame, c->a_at_low);
        format_json_change(item, "first_at_high_of_second", &a->data.frame, c->a_at_high);
    }
}

char *rank_json(const struct rank_answer *a)
{
    const struct ranking *r = &a->ranking;
    struct json *root = format_json_start(&a->data), *part;

    json_put_whole(root, "coupons", (long long)r->coupons);
    json_put_whole(root, "used", (long long)r->used);
    json_put_whole(root, "held", (long long)r->held);
    json_put_whole(root, "set_ups", (long long)r->set_ups);
    json_put_whole(root, "repeats", (long long)r->repeats);
    part = json_put_object(root, "scatter");
    format_json_change(part, "value", &a->data.frame, r->scatter);
    json_put_text(part, "from", scatter_from_code(r->scatter_from));
    part = json_put_array(root, "variables");
    for (size_t i = 0; i < a->line_count; i++)
        for (size_t j = 0; j < a->lines[i].count; j++)
            put_variable(part, a, &a->lines[i], &r->items[a->lines[i].first + j]);
    json_put_number(root, "unexplained", r->unexplained);
    put_together(root, a);
    put_aliasing(root, a);
    format_json_keys(json_put_array(root, "never_changed"), &a->data.frame,
                     r->excluded.never_changed, r->excluded.never_changed_count);
    format_json_keys(json_put_array(root, "too_seldom"), &a->data.frame, r->excluded.too_seldom,
                     r->excluded.too_seldom_count);
    put_left_out(root, a);
    put_outliers(root, a);
    put_interactions(root, a);
    put_warnings(root, a);
    return format_json_finish(root);
}
