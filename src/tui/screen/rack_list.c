#include "tui/screen/rack_list.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

#include "app/task_trial.h"
#include "base/mem.h"

enum { WORK_MS = 8 }; /* a key waits a little longer at most */

static void free_rows(struct list_row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++)
        list_row_free(&rows[i]);
    free(rows);
}

void rack_free(struct rack *r)
{
    free_rows(r->rows, r->list.count);
    coupon_view_free(&r->view);
    if (r->has_trial)
        trial_free(&r->trial);
}

/* A row of this number that was read already is taken over. */
static struct list_row take_row(struct rack *r, long number)
{
    struct list_row taken = {.number = number};

    for (size_t i = 0; i < r->list.count; i++)
        if (r->rows[i].number == number && r->rows[i].mark != NULL) {
            taken = r->rows[i];
            r->rows[i] = (struct list_row){.number = number};
        }
    return taken;
}

/* Shows these numbers; the one with the focus, at `focus`, stays on its line if it can. */
static void put_rows(struct rack *r, const long *numbers, size_t count, size_t focus)
{
    struct list_row *rows = mem_zero(count + 1, sizeof *rows);

    for (size_t i = 0; i < count; i++)
        rows[i] = take_row(r, numbers[i]);
    free_rows(r->rows, r->list.count);
    r->rows = rows;
    r->list = (struct list){count, focus, focus > r->line ? focus - r->line : 0};
    if (r->view.letters == NULL)
        r->line = focus - list_top(&r->list, r->lines);
    if (r->focus == COUPON_LAST && count > 0)
        r->focus = numbers[focus]; /* others may come behind it */
}

static void forget_texts(struct rack *r)
{
    for (size_t i = 0; i < r->list.count; i++) {
        list_row_free(&r->rows[i]);
        r->rows[i] = (struct list_row){.number = r->rows[i].number};
    }
}

static void reverse(long *numbers, int count)
{
    for (int i = 0; i < count / 2; i++) {
        long number = numbers[i];

        numbers[i] = numbers[count - 1 - i];
        numbers[count - 1 - i] = number;
    }
}

/* Two screens on either side of the focus. */
static int gather(struct rack *r, struct error *e)
{
    int each = 2 * r->lines + 1, above, below = -1;
    long *numbers;

    if (r->view.result == NULL)
        return 0;
    numbers = mem_zero(2 * (size_t)each, sizeof *numbers);
    above = coupon_view_numbers(&r->view, r->focus - 1, true, each, numbers, e);
    if (above >= 0) {
        reverse(numbers, above);
        below = coupon_view_numbers(&r->view, r->focus, false, each, numbers + above, e);
    }
    if (below >= 0)
        put_rows(r, numbers, (size_t)above + (size_t)below,
                 (size_t)(below > 0 || above == 0 ? above : above - 1));
    free(numbers);
    return below < 0 ? -1 : 0;
}

int rack_work(struct rack *r, struct error *e)
{
    int more;

    if (coupon_view_done(&r->view))
        return 0;
    more = coupon_view_work(&r->view, WORK_MS, e);
    return gather(r, more < 0 ? NULL : e) < 0 ? -1 : more;
}

/* Looks on from the focus. */
static int look_from_here(struct rack *r, const char *letters, struct error *e)
{
    int more;

    coupon_view_find(&r->view, letters, r->focus);
    more = rack_work(r, e);
    return more < 0 || gather(r, e) < 0 ? -1 : more;
}

int rack_find(struct rack *r, const char *letters, struct error *e)
{
    const char *now = r->view.letters == NULL ? "" : r->view.letters;

    if (letters == NULL)
        letters = "";
    if (strcmp(letters, now) == 0)
        return rack_work(r, e);
    return look_from_here(r, *letters == '\0' ? NULL : letters, e);
}

/* The trial to show: the one named, else the one shown, else the last; none in an empty book. */
static int load_trial(struct rack *r, const char *name, struct error *e)
{
    struct trial_list all = {0};
    struct trial trial;
    int rc = task_trials(&r->ui->session, &all, e);
    size_t count = all.count;

    if (name == NULL && r->has_trial) { /* its name may be another now */
        const struct trial *shown = trial_list_with_id(&all, r->trial.id);

        name = shown != NULL ? shown->name : NULL;
    }
    if (rc == 0 && count > 0)
        rc = task_trial(&r->ui->session, name, &trial, e);
    trial_list_free(&all);
    if (rc < 0 || count == 0)
        return rc;
    if (!r->has_trial || strcmp(r->trial.id, trial.id) != 0)
        r->focus = COUPON_LAST;
    if (r->has_trial)
        trial_free(&r->trial);
    r->trial = trial;
    r->has_trial = true;
    return 0;
}

int rack_load(struct rack *r, const char *trial, struct error *e)
{
    struct session *s = &r->ui->session;
    const struct variable *result = NULL;

    r->seen = session_changes(s);
    if (load_trial(r, trial, e) < 0)
        return -1;
    if (r->has_trial)
        result = task_trial_result(s, &r->trial, NULL, e);
    coupon_view_begin(&r->view, s, (struct coupon_set){r->trial.id, r->with_struck}, result,
                      r->focus);
    forget_texts(r);
    if (result == NULL) {
        put_rows(r, NULL, 0, 0);
        return r->has_trial ? -1 : 0;
    }
    return rack_work(r, e) < 0 ? -1 : gather(r, e);
}

int rack_focus(struct rack *r, long number, struct error *e)
{
    if (number == 0)
        return 0;
    r->focus = number < COUPON_FIRST ? COUPON_FIRST : number > COUPON_LAST ? COUPON_LAST : number;
    return gather(r, e);
}

/* Where a search has not come to yet, it begins anew from there. */
static int go_to_end(struct rack *r, long number, struct error *e)
{
    char *letters = coupon_view_searched(&r->view) ? NULL : mem_copy(r->view.letters);
    int rc;

    r->focus = number;
    rc = letters == NULL ? gather(r, e) : look_from_here(r, letters, e);
    free(letters);
    return rc;
}

int rack_key(struct rack *r, struct key k, struct error *e)
{
    if (k.code == PRESS_HOME || k.code == PRESS_END)
        return go_to_end(r, k.code == PRESS_HOME ? COUPON_FIRST : COUPON_LAST, e);
    if (r->list.count == 0 || !list_key(&r->list, k, r->lines))
        return 0;
    r->focus = r->rows[r->list.focus].number;
    r->line = r->list.focus - list_top(&r->list, r->lines);
    return gather(r, e);
}

int rack_prepare(struct rack *r, int lines, struct error *e)
{
    size_t top;
    int rc = 0;

    if (lines != r->lines) {
        r->lines = lines < 1 ? 1 : lines;
        rc = gather(r, e);
    }
    top = list_top(&r->list, r->lines);
    for (size_t i = top; rc == 0 && i < r->list.count && i < top + (size_t)r->lines; i++)
        if (r->rows[i].mark == NULL)
            rc = list_row_read(&r->ui->session, r->rows[i].number, r->view.result, &r->rows[i], e);
    return rc;
}

const struct list_row *rack_focused(const struct rack *r)
{
    const struct list_row *row = &r->rows[r->list.focus];

    return r->list.focus < r->list.count && row->mark != NULL ? row : NULL;
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
    const struct list_row *r = &((const struct rack *)owner)->rows[at];
    const char *const cells[] = {r->mark, r->when, r->changed, r->result};

    draw_cells(c, row, focused ? TONE_FOCUS : r->struck ? TONE_CAUTION : TONE_PLAIN, cells);
}

static void draw_empty(struct canvas *c, struct area body, const struct rack *r)
{
    const char *words = r->view.letters == NULL || r->view.total == 0
                            ? "No coupons yet. Press n to log the first one."
                        : coupon_view_searched(&r->view)
                            ? "No coupon holds these letters. Press / to look for others."
                            : "Looking for coupons that hold these letters.";

    paint_wrapped(c, (struct area){body.y, body.x + 2, body.rows, body.columns - 4}, TONE_HEADING,
                  words);
    paint_cursor(c, body.y, body.x + 2);
}

void rack_draw(struct canvas *c, struct area body, const struct rack *r)
{
    const char *const heads[] = {"mark", "welded", "changed since the one before",
                                 r->view.result == NULL ? "result" : r->view.result->label};

    if (r->list.count == 0) {
        draw_empty(c, body, r);
        return;
    }
    draw_cells(c, (struct area){body.y, body.x + 2, 1, body.columns - 4}, TONE_HEADING, heads);
    list_draw(c, (struct area){body.y + 1, body.x, body.rows - 1, body.columns}, &r->list, draw_row,
              r);
}
