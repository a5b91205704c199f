#include "analysis/next.h"

#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

#include "analysis/format.h"
#include "analysis/format_json.h"
#include "base/mem.h"
#include "page/cautions.h"
#include "stats/num/interval.h"

int next_make(struct session *s, const struct trial_question *q, size_t count,
              struct next_answer **out, struct error *e)
{
    struct next_answer *a = mem_zero(1, sizeof *a);
    struct design_request request = {0};
    int rc = trial_data_load(s, q, &a->data, e);

    if (rc == 0) {
        /* Without a ranking the next coupons are still worth knowing: the most even plan. */
        a->has_ranking = trial_data_rank(&a->data, q, false, &a->ranking, NULL) == 0;
        request = trial_data_request(s, &a->data, a->has_ranking ? &a->ranking : NULL, count);
        rc = design_next(&a->data.frame, &request, &a->design, e);
        trial_data_request_free(&request, &a->data);
    }
    if (rc < 0)
        next_free(a);
    *out = rc < 0 ? NULL : a;
    return rc;
}

void next_free(struct next_answer *a)
{
    if (a == NULL)
        return;
    ranking_free(&a->ranking);
    design_free(&a->design);
    trial_data_free(&a->data);
    free(a);
}

/* "sides welded both and preheat 20 °C"; NULL columns: all of them. */
static void add_set_up(const struct frame *f, const struct design_coupon *c, const size_t *columns,
                       size_t count, struct text *out)
{
    size_t *chosen = mem_zero(count, sizeof *chosen);
    double *values = mem_zero(count, sizeof *values);

    for (size_t i = 0; i < count; i++) {
        chosen[i] = columns == NULL ? i : columns[i];
        values[i] = c->values[chosen[i]];
    }
    format_add_set_up(f, values, chosen, count, out);
    free(chosen);
    free(values);
}

static void add_start(const struct frame *f, const struct design_coupon *c, struct text *out)
{
    bool welded = c->like != SIZE_MAX;

    if (c->repeat && welded) {
        text_addf(out, "Weld %s once more, nothing changed", f->marks[c->like]);
        return;
    }
    if (welded)
        text_addf(out, "Weld one like %s, but with ", f->marks[c->like]);
    else if (c->like_chosen != SIZE_MAX)
        text_addf(out, "Weld one like the proposed coupon %zu, but with ", c->like_chosen + 1);
    else
        text_add(out, "Weld one with ");
    if (welded || c->like_chosen != SIZE_MAX)
        add_set_up(f, c, c->changed, c->changed_count, out);
    else
        add_set_up(f, c, NULL, f->k, out);
}

enum { MANY = 3 }; /* more names in a row are read by nobody */

/* What was never changed before, in one clause. Returns whether there was any. */
static bool add_first_changes(const struct frame *f, const struct design_coupon *c,
                              struct text *out)
{
    size_t *columns = mem_zero(c->separate_count, sizeof *columns), count = 0;

    for (size_t i = 0; i < c->separate_count; i++)
        if (c->separates[i].count == 1)
            columns[count++] = c->separates[i].columns[0];
    if (count > 0) {
        text_add(out, ": it begins to show what ");
        format_add_labels(f, columns, count, " and ", out);
        text_add(out, count == 1 ? " does" : " do");
    }
    free(columns);
    return count > 0;
}

static void add_separated(const struct frame *f, const struct design_set *set, struct text *out)
{
    bool many = set->count > MANY;

    format_add_labels(f, set->columns, many ? 1 : set->count, " and ", out);
    text_add(out, " apart");
    if (many)
        text_addf(out, " from %zu others", set->count - 1);
    text_add(out, set->exact ? "" : " more surely");
}

/* Before there are results the gain is in units of a scatter that nobody knows: a part is all that
 * can be said of it. */
static void add_sharpened(const struct frame *f, double range, const struct design_coupon *c,
                          struct text *out)
{
    const struct design_gain *gain = &c->gains[0];

    text_addf(out, ": it sharpens %s most, ", format_label(f->columns[gain->column].label).s);
    if (isnan(c->expected))
        text_addf(out, "by %.0f %%", 100 * (1 - gain->after / gain->before));
    else
        text_addf(out, "from about ±%s to ±%s",
                  format_change(f, range / 10, INTERVAL_REACH * gain->before).s,
                  format_change(f, range / 10, INTERVAL_REACH * gain->after).s);
}

/* A variable told apart from many is named once, however many of its sets are separated. */
static bool told_before(const struct design_coupon *c, size_t i)
{
    for (size_t j = 0; j < i; j++)
        if (c->separates[j].count > MANY && c->separates[i].count > MANY &&
            c->separates[j].columns[0] == c->separates[i].columns[0])
            return true;
    return false;
}

static void add_purpose(const struct frame *f, double range, const struct design_coupon *c,
                        struct text *out)
{
    bool begun = add_first_changes(f, c, out);

    for (size_t i = 0; i < c->separate_count; i++) {
        if (c->separates[i].count == 1 || told_before(c, i))
            continue;
        text_add(out, begun ? "; it tells " : ": it tells ");
        add_separated(f, &c->separates[i], out);
        begun = true;
    }
    if (!begun && c->gains[0].after < 0.995 * c->gains[0].before)
        add_sharpened(f, range, c, out);
}

void next_sentence(const struct frame *f, double range, const struct design_coupon *c,
                   struct text *out)
{
    add_start(f, c, out);
    add_purpose(f, range, c, out);
    text_add(out, ".");
    if (isnan(c->expected))
        return;
    text_addf(out, " Expect about %s", format_result(f, range, c->expected).s);
    if (c->chance_held >= 0.5)
        text_addf(out, "; %.0f in 100 that it holds to the stop", 100 * c->chance_held);
    text_add(out, ".");
}

static double range_of(const struct next_answer *a)
{
    return a->has_ranking ? a->ranking.range : frame_range(&a->data.frame);
}

/* Whether a variable differs anywhere among the coupons welded and those proposed. */
static bool varies(const struct next_answer *a, size_t column)
{
    const struct frame *f = &a->data.frame;
    double first = a->design.coupons[0].values[column];

    for (size_t i = 0; i < a->design.count; i++)
        if (a->design.coupons[i].values[column] != first)
            return true;
    for (size_t i = 0; i < f->n; i++)
        if (!isnan(f->columns[column].x[i]) && f->columns[column].x[i] != first)
            return true;
    return false;
}

enum { ABREAST = 3 }; /* coupons that stand side by side on 80 cells */

/* One row a variable, one column a coupon, from `first` on: what is the same in all coupons needs
 * no row. */
static void add_set_ups(const struct next_answer *a, size_t first, struct page *p)
{
    const struct frame *f = &a->data.frame;
    size_t rest = a->design.count - first, count = rest < ABREAST ? rest : ABREAST;
    struct page_column heads[1 + ABREAST] = {{.title = "set-up"}};
    struct phrase numbers[ABREAST];
    struct block *t;

    for (size_t i = 0; i < count; i++) {
        numbers[i] = phrase("%zu.", first + i + 1);
        heads[1 + i].title = numbers[i].s;
    }
    t = page_add_table(p, heads, 1 + count);
    for (size_t j = 0; j < f->k; j++) {
        size_t row;

        if (!varies(a, j))
            continue;
        row = PAGE_ROW(t, f->columns[j].key, f->columns[j].label);
        for (size_t i = 0; i < count; i++)
            page_table_cell(t, row, 1 + i, "%s",
                            format_level(f, j, a->design.coupons[first + i].values[j]).s);
    }
}

void next_page(const struct next_answer *a, struct page *p)
{
    const struct frame *f = &a->data.frame;
    bool many = a->design.combinations >= 1e7;

    assert(a->design.count > 0);
    page_add(p, BLOCK_TITLE, "What to weld next: trial %s, judged by %s", a->data.trial.name,
             f->result_label);
    for (size_t i = 0; i < a->design.count; i++) {
        struct text s = {0};

        text_addf(&s, "%zu. ", i + 1);
        next_sentence(f, range_of(a), &a->design.coupons[i], &s);
        page_take(p, i == 0 ? BLOCK_ANSWER : BLOCK_TEXT, &s);
    }
    for (size_t i = 0; i < a->design.count; i += ABREAST)
        add_set_ups(a, i, p);
    page_add(p, BLOCK_TEXT, "Everything else as in the coupons so far.");
    page_add(p, BLOCK_TEXT, "%s",
             a->design.from_results
                 ? "Chosen to settle most of what is still open, weighed by how likely each "
                   "variable is to matter."
                 : "Nothing can be ranked yet, so the set-ups are spread as evenly as the levels "
                   "at hand allow.");
    if (!a->design.all_tried)
        page_add(p, BLOCK_TEXT,
                 "%.0f%s combinations are too many to try all; the best found by "
                 "changing one thing at a time from many starts.",
                 many ? a->design.combinations / 1e6 : a->design.combinations,
                 many ? " million" : "");
    cautions_add(p);
}

static void put_coupon(struct json *array, const struct next_answer *a,
                       const struct design_coupon *c)
{
    const struct frame *f = &a->data.frame;
    struct json *item = json_add_object(array), *part = json_put_object(item, "set_up");
    struct text words = {0};

    for (size_t j = 0; j < f->k; j++)
        format_json_level(part, f->columns[j].key, f, j, c->values[j]);
    if (c->like != SIZE_MAX)
        json_put_text(item, "like", f->marks[c->like]);
    format_json_keys(json_put_array(item, "changed"), f, c->changed, c->changed_count);
    json_put_bool(item, "repeat", c->repeat);
    part = json_put_array(item, "separates");
    for (size_t i = 0; i < c->separate_count; i++)
        format_json_keys(json_add_array(part), f, c->separates[i].columns, c->separates[i].count);
    format_json_result(item, "expected", f, c->expected);
    json_put_number(item, "chance_held", c->chance_held);
    json_put_number(item, "score", c->score);
    next_sentence(f, range_of(a), c, &words);
    json_put_text(item, "words", text_str(&words));
    text_free(&words);
}

char *next_json(const struct next_answer *a)
{
    struct json *root = format_json_start(&a->data), *array;

    json_put_bool(root, "from_results", a->design.from_results);
    json_put_bool(root, "all_tried", a->design.all_tried);
    json_put_number(root, "combinations", a->design.combinations);
    json_put_number(root, "log_det_gain", a->design.log_det_gain);
    array = json_put_array(root, "next");
    for (size_t i = 0; i < a->design.count; i++)
        put_coupon(array, a, &a->design.coupons[i]);
    return format_json_finish(root);
}
