#include "tui/screen/rack_list.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "app/coupon_page.h"
#include "app/differences.h"
#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "base/array.h"
#include "base/clock.h"
#include "base/mem.h"
#include "base/text.h"

enum { SHOWN = 512 };

static void free_row(struct rack_row *row)
{
    free(row->mark);
    free(row->when);
    free(row->changed);
    free(row->result);
}

static void clear_rows(struct rack *r)
{
    for (size_t i = 0; i < r->list.count; i++)
        free_row(&r->rows[i]);
    r->list.count = 0;
}

void rack_free(struct rack *r)
{
    clear_rows(r);
    free(r->rows);
    free(r->filter);
    if (r->has_trial)
        trial_free(&r->trial);
}

static struct rack_row make_row(const struct session *s, const struct coupon *c,
                                const struct coupon *before, const struct variable *result)
{
    char when[40], shown[SHOWN];
    struct rack_row row;

    clock_format_short(when, sizeof when, c->when);
    coupon_result(s, c, result, shown, sizeof shown);
    row = (struct rack_row){
        .number = c->sequence,
        .mark = mem_copy(c->mark),
        .when = mem_copy(when),
        .changed = differences_since(&s->variables, c, before),
        .result =
            c->struck_why == NULL ? mem_copy(shown) : mem_format("struck out: %s", c->struck_why),
        .struck = c->struck_why != NULL,
    };
    return row;
}

static bool holds(const char *text, const char *word)
{
    return strcasestr(text, word) != NULL;
}

static bool passes_filter(const struct rack *r, const struct rack_row *row, const struct coupon *c)
{
    if (r->filter == NULL || holds(row->mark, r->filter) || holds(row->changed, r->filter) ||
        holds(row->result, r->filter) || holds(row->when, r->filter) ||
        (c->who != NULL && holds(c->who, r->filter)) ||
        (c->note != NULL && holds(c->note, r->filter)))
        return true;
    for (size_t i = 0; i < c->value_count; i++)
        if (c->values[i].text != NULL && holds(c->values[i].text, r->filter))
            return true;
    return false;
}

static void add_row(struct rack *r, struct rack_row row)
{
    r->rows = array_reserve(r->rows, &r->row_capacity, r->list.count + 1, sizeof *r->rows);
    r->rows[r->list.count++] = row;
}

static void fill_rows(struct rack *r, const struct coupon_list *coupons,
                      const struct variable *result)
{
    const struct coupon *before = NULL;

    clear_rows(r);
    r->total = coupons->count;
    for (size_t i = 0; i < coupons->count; i++) {
        const struct coupon *c = &coupons->items[i];
        struct rack_row row = make_row(&r->ui->session, c, before, result);

        if (c->struck_why == NULL)
            before = c;
        if (passes_filter(r, &row, c))
            add_row(r, row);
        else
            free_row(&row);
    }
}

/* The trial to show: the one named, else the one shown, else the last; none in an empty book. */
static int load_trial(struct rack *r, const char *name, struct error *e)
{
    struct trial_list all = {0};
    struct trial trial;
    int rc = task_trials(&r->ui->session, &all, e);
    size_t count = all.count;

    trial_list_free(&all);
    if (name == NULL && r->has_trial)
        name = r->trial.name;
    if (rc == 0 && count > 0)
        rc = task_trial(&r->ui->session, name, &trial, e);
    if (rc < 0 || count == 0)
        return rc;
    if (r->has_trial)
        trial_free(&r->trial);
    r->trial = trial;
    r->has_trial = true;
    return 0;
}

void rack_focus(struct rack *r, const char *mark)
{
    for (size_t i = 0; mark != NULL && i < r->list.count; i++)
        if (strcmp(r->rows[i].mark, mark) == 0)
            list_focus(&r->list, i, ui_body().rows - 1);
}

static int load_rows(struct rack *r, struct error *e)
{
    struct session *s = &r->ui->session;
    const struct variable *result = task_trial_result(s, &r->trial, NULL, e);
    struct coupon_list coupons = {0};
    int rc = result == NULL ? -1 : task_coupons(s, &r->trial, r->with_struck, &coupons, e);

    if (rc == 0) {
        r->result_label = result->label;
        fill_rows(r, &coupons, result);
    }
    coupon_list_free(&coupons);
    return rc;
}

int rack_load(struct rack *r, const char *trial, struct error *e)
{
    const struct rack_row *focused = rack_focused(r);
    char *mark = focused == NULL ? NULL : mem_copy(focused->mark);
    size_t focus = r->list.focus;
    int rc;

    r->seen = session_changes(&r->ui->session);
    rc = load_trial(r, trial, e);
    if (rc == 0 && r->has_trial)
        rc = load_rows(r, e);
    r->list.focus = focus;
    list_resize(&r->list, r->list.count);
    rack_focus(r, mark);
    free(mark);
    return rc;
}

const struct rack_row *rack_focused(const struct rack *r)
{
    return r->list.focus < r->list.count ? &r->rows[r->list.focus] : NULL;
}

/* Widths of the columns in cells. On a narrow screen `when` is left out. */
struct columns {
    int mark, when, changed, result;
};

static struct columns plan_columns(int columns)
{
    struct columns plan = {columns < 60 ? 6 : 8, columns >= 100 ? 18 : 0, 0, 0};

    plan.result = columns < 60 ? 16 : columns >= 100 ? 34 : 24;
    plan.changed = columns - plan.mark - plan.when - plan.result;
    return plan;
}

static void draw_cells(struct canvas *c, struct area row, enum tone tone,
                       const char *const cells[4])
{
    struct columns plan = plan_columns(row.columns);
    int widths[] = {plan.mark, plan.when, plan.changed, plan.result}, x = row.x;

    for (int i = 0; i < 4; i++) {
        if (widths[i] > 0)
            paint_text(c, row.y, x, widths[i] - (i < 3 ? 1 : 0), tone, cells[i]);
        x += widths[i];
    }
}

static void draw_row(struct canvas *c, struct area row, const void *owner, size_t at, bool focused)
{
    const struct rack_row *r = &((const struct rack *)owner)->rows[at];
    const char *const cells[] = {r->mark, r->when, r->changed, r->result};

    draw_cells(c, row, focused ? TONE_FOCUS : r->struck ? TONE_CAUTION : TONE_PLAIN, cells);
}

static void draw_empty(struct canvas *c, struct area body, const struct rack *r)
{
    const char *words = r->filter != NULL && r->total > 0
                            ? "No coupon holds these letters. Press / to look for others."
                            : "No coupons yet. Press n to log the first one.";

    paint_wrapped(c, (struct area){body.y, body.x + 2, body.rows, body.columns - 4}, TONE_HEADING,
                  words);
    paint_cursor(c, body.y, body.x + 2);
}

void rack_draw(struct canvas *c, struct area body, const struct rack *r)
{
    const char *const heads[] = {"mark", "welded", "changed since the one before",
                                 r->result_label == NULL ? "result" : r->result_label};

    if (r->list.count == 0) {
        draw_empty(c, body, r);
        return;
    }
    draw_cells(c, (struct area){body.y, body.x + 2, 1, body.columns - 4}, TONE_HEADING, heads);
    list_draw(c, (struct area){body.y + 1, body.x, body.rows - 1, body.columns}, &r->list, draw_row,
              r);
}
