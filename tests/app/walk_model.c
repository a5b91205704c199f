#include "app/walk_model.h"

#include <string.h>

struct world now;
struct done *changes;
long change_count;
int last_coupon, last_trial;
bool made_trial;
int bench_of_op;
static long undone_order;

static const char *const words[OP_KINDS] = {
    [OP_LOG] = "log",
    [OP_IMPORT] = "import from t.csv",
    [OP_CHANGE] = "change",
    [OP_MOVE] = "change",
    [OP_STRIKE] = "strike",
    [OP_RESTORE] = "restore",
    [OP_RENAME] = "change",
    [OP_STRIKE_TRIAL] = "strike",
    [OP_RESTORE_TRIAL] = "restore",
    [OP_UNITS] = "change",
};

static int live_trial(int name)
{
    for (int i = 1; i <= last_trial; i++)
        if (now.trials[i].there && now.trials[i].struck == 0 && now.trials[i].name == name)
            return i;
    return 0;
}

/* The newest in time is the one made last: numbers are not given twice. */
static int struck_trial(int name)
{
    for (int i = last_trial; i > 0; i--)
        if (now.trials[i].there && now.trials[i].struck != 0 && now.trials[i].name == name)
            return i;
    return 0;
}

static bool mark_used(int trial, int mark, int but)
{
    for (int i = 1; i <= last_coupon; i++)
        if (i != but && now.coupons[i].there && now.coupons[i].struck == 0 &&
            now.coupons[i].trial == trial && now.coupons[i].mark == mark)
            return true;
    return false;
}

/* Whether a state of everything can be in a book. */
static bool can_be(const struct world *w)
{
    for (int i = 1; i <= last_trial; i++)
        for (int k = 1; k < i; k++)
            if (w->trials[i].there && w->trials[k].there && w->trials[i].struck == 0 &&
                w->trials[k].struck == 0 && w->trials[i].name == w->trials[k].name)
                return false;
    for (int i = 1; i <= last_coupon; i++) {
        const struct coupon_state *c = &w->coupons[i];

        if (!c->there)
            continue;
        if (!w->trials[c->trial].there || (c->struck == 0 && w->trials[c->trial].struck != 0))
            return false;
        for (int k = 1; k < i; k++)
            if (c->struck == 0 && w->coupons[k].there && w->coupons[k].struck == 0 &&
                w->coupons[k].trial == c->trial && w->coupons[k].mark == c->mark)
                return false;
    }
    return true;
}

static struct coupon_state coupon_of(const struct op *op, int trial, int mark)
{
    return (struct coupon_state){1, trial, mark, op->volts, op->note, 0, op->kind == OP_IMPORT};
}

static int trial_to_fill(int name)
{
    int trial = live_trial(name);

    if (trial == 0) {
        trial = ++last_trial;
        made_trial = true;
        now.trials[trial] = (struct trial_state){1, name, 0, 0};
    }
    return trial;
}

static bool model_make(const struct op *op)
{
    int trial = live_trial(op->trial), count = op->kind == OP_LOG ? 1 : IMPORTED;

    for (int i = 0; i < count; i++)
        if (trial != 0 && mark_used(trial, op->mark + i, 0))
            return false;
    trial = trial_to_fill(op->trial);
    for (int i = 0; i < count; i++)
        now.coupons[++last_coupon] = coupon_of(op, trial, op->mark + i);
    return true;
}

static bool model_coupon(const struct op *op)
{
    struct coupon_state *c = &now.coupons[op->number];
    int to = op->kind == OP_MOVE ? live_trial(op->to) : c->trial;
    int mark = op->kind == OP_CHANGE ? op->mark : c->mark;
    bool stays_struck = c->struck != 0 && op->kind != OP_RESTORE;

    if (!c->there || to == 0 || (op->kind == OP_STRIKE && c->struck != 0) ||
        (op->kind == OP_RESTORE && (c->struck == 0 || now.trials[c->trial].struck != 0)) ||
        (!stays_struck && mark_used(to, mark, (int)op->number)))
        return false;
    if (op->kind == OP_CHANGE) {
        int struck = c->struck;

        *c = coupon_of(op, to, mark);
        c->struck = struck;
    }
    c->trial = to;
    if (op->kind == OP_STRIKE || op->kind == OP_RESTORE)
        c->struck = op->kind == OP_STRIKE ? op->why : 0;
    return true;
}

/* A mark can be changed while its coupon is struck out. */
static bool same_marks(int trial, int struck)
{
    for (int i = 1; i <= last_coupon; i++)
        for (int k = 1; k < i; k++) {
            const struct coupon_state *a = &now.coupons[i], *b = &now.coupons[k];

            if (a->there && b->there && a->trial == trial && b->trial == trial &&
                a->struck == struck && b->struck == struck && a->mark == b->mark)
                return true;
        }
    return false;
}

static bool model_trial(const struct op *op)
{
    int trial = op->kind == OP_RESTORE_TRIAL ? struck_trial(op->trial) : live_trial(op->trial);
    int taken = live_trial(op->kind == OP_RENAME ? op->to : op->trial), with;

    if (op->kind == OP_QUESTION) {
        now.trials[trial_to_fill(op->trial)].note = op->note;
        return true;
    }
    if (trial == 0 || (taken != 0 && taken != trial))
        return false;
    if (op->kind == OP_RENAME) {
        now.trials[trial].name = op->to;
        return true;
    }
    with = now.trials[trial].struck;
    if (op->kind == OP_RESTORE_TRIAL && same_marks(trial, with))
        return false;
    now.trials[trial].struck = op->kind == OP_STRIKE_TRIAL ? op->why : 0;
    for (int i = 1; i <= last_coupon; i++)
        if (now.coupons[i].there && now.coupons[i].trial == trial && now.coupons[i].struck == with)
            now.coupons[i].struck = now.trials[trial].struck;
    return true;
}

#define SAME(a, b) (memcmp(&(a), &(b), sizeof(a)) == 0)

/* What an operation touched is what is not as it was. */
void walk_model_record(const struct op *op, const struct world *before)
{
    struct done *d = &changes[change_count + 1];
    bool any;

    memset(d, 0, sizeof *d);
    any = d->units = now.units != before->units;
    for (int i = 1; i <= last_coupon; i++)
        any = (d->coupons[i] = !SAME(now.coupons[i], before->coupons[i])) || any;
    for (int i = 1; i <= last_trial; i++)
        any = (d->trials[i] = !SAME(now.trials[i], before->trials[i])) || any;
    if (!any)
        return;
    d->other = *before;
    d->bench = bench_of_op;
    d->what = words[op->kind] != NULL ? words[op->kind] : made_trial ? "making" : "change";
    change_count++;
}

static void swap_touched(const struct done *d, struct world *w, struct world *with)
{
    struct world was = *w;

    for (int i = 1; i <= last_coupon; i++)
        if (d->coupons[i]) {
            w->coupons[i] = with->coupons[i];
            with->coupons[i] = was.coupons[i];
        }
    for (int i = 1; i <= last_trial; i++)
        if (d->trials[i]) {
            w->trials[i] = with->trials[i];
            with->trials[i] = was.trials[i];
        }
    if (d->units) {
        w->units = with->units;
        with->units = was.units;
    }
}

static bool share(const struct done *a, const struct done *b)
{
    for (int i = 1; i <= last_coupon; i++)
        if (a->coupons[i] && b->coupons[i])
            return true;
    for (int i = 1; i <= last_trial; i++)
        if (a->trials[i] && b->trials[i])
            return true;
    return a->units && b->units;
}

static bool as_left(const struct done *d)
{
    for (int i = 1; i <= last_coupon; i++)
        if (d->coupons[i] && !SAME(now.coupons[i], d->base.coupons[i]))
            return false;
    for (int i = 1; i <= last_trial; i++)
        if (d->trials[i] && !SAME(now.trials[i], d->base.trials[i]))
            return false;
    return !d->units || now.units == d->base.units;
}

/* The change an operation without a number means. */
static long last_of_bench(bool undone)
{
    long found = 0;

    for (long i = 1; i <= change_count; i++) {
        const struct done *d = &changes[i];

        if (!undone && !d->undone && d->bench == bench_of_op)
            found = i;
        if (undone && d->undone && d->undone_by == bench_of_op &&
            (found == 0 || d->undone_order > changes[found].undone_order))
            found = i;
    }
    return found;
}

long walk_model_go(const struct op *op)
{
    bool redo = op->kind == OP_REDO;
    long number = op->number != 0 ? op->number : last_of_bench(redo);
    struct done *d = &changes[number];
    struct world then = now, other;

    if (number == 0 || number > change_count || d->undone != redo || (redo && !as_left(d)))
        return 0;
    for (long i = number + 1; i <= change_count; i++)
        if (!changes[i].undone && share(&changes[i], d))
            return 0;
    other = d->other;
    swap_touched(d, &then, &other);
    if (!can_be(&then))
        return 0;
    now = then;
    d->other = other;
    d->base = now;
    d->undone = !redo;
    d->undone_by = bench_of_op;
    d->undone_order = ++undone_order;
    return number;
}

bool walk_model_do(const struct op *op)
{
    if (op->kind <= OP_IMPORT)
        return model_make(op);
    if (op->kind <= OP_RESTORE)
        return model_coupon(op);
    if (op->kind <= OP_RESTORE_TRIAL)
        return model_trial(op);
    now.units = 1 + op->note % 2;
    return true;
}
