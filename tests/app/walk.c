#include "app/walk.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/task_coupon.h"
#include "app/task_history.h"
#include "app/task_import.h"
#include "app/task_trial.h"
#include "base/mem.h"

static const char *name_of(char letter, int i)
{
    static char names[8][16];
    static unsigned at;
    char *name = names[at++ % 8];

    snprintf(name, sizeof names[0], "%c%02d", letter, i);
    return name;
}

static void fill(struct coupon *c, const struct op *op)
{
    free(c->mark);
    free(c->note);
    c->mark = mem_copy(name_of('m', op->mark));
    c->note = mem_copy(name_of('n', op->note));
    coupon_set_number(c, "volts", measure_exact(op->volts + 1.0 / 3), NULL);
    if (op->volts % 2 == 0)
        coupon_set_number(c, "bend_angle", measure_exact(op->volts), NULL);
    else
        coupon_unset(c, "bend_angle");
}

static int log_one(struct session *s, const struct op *op, struct outcome *out)
{
    struct logging l;
    int rc = task_log_begin(s, name_of('t', op->trial), true, &l, &out->error);

    if (rc == 0) {
        fill(&l.coupon, op);
        rc = task_log_save(s, &l, &out->error);
        out->number = l.coupon.sequence;
    }
    task_log_end(s, &l);
    return rc;
}

static int import(struct session *s, const struct op *op, struct outcome *out)
{
    char table[512];
    struct import_request r = {.trial = name_of('t', op->trial), .name = "t.csv"};
    struct import_outcome outcome = {0};
    char bend[8];
    int length = snprintf(table, sizeof table, "mark,volts,note,bend_angle\n"), rc;

    snprintf(bend, sizeof bend, "%d", op->volts);
    for (int i = 0; i < IMPORTED; i++)
        length += snprintf(table + length, sizeof table - (size_t)length, "%s,%.17g,%s,%s\n",
                           name_of('m', op->mark + i), op->volts + 1.0 / 3, name_of('n', op->note),
                           op->volts % 2 == 0 ? bend : "");
    r.in = fmemopen(table, (size_t)length, "r");
    rc = task_import(s, &r, &outcome, &out->error);
    fclose(r.in);
    page_free(&outcome.notes);
    page_free(&outcome.rows);
    return rc;
}

static int on_coupon(struct session *s, const struct op *op, struct outcome *out)
{
    struct trial to = {0};
    struct coupon c;
    int rc = task_coupon_by_number(s, op->number, &c, &out->error);

    if (rc == 0 && op->kind == OP_MOVE)
        rc = task_trial(s, name_of('t', op->to), &to, &out->error);
    if (rc < 0) {
        coupon_free(&c);
        return rc;
    }
    if (op->kind == OP_CHANGE)
        fill(&c, op);
    if (op->kind == OP_MOVE)
        memcpy(c.trial, to.id, sizeof c.trial);
    if (op->kind == OP_STRIKE)
        rc = task_coupon_strike(s, &c, name_of('w', op->why), &out->error);
    else if (op->kind == OP_RESTORE)
        rc = task_coupon_restore(s, &c, &out->error);
    else
        rc = task_coupon_save(s, &c, &out->error);
    coupon_free(&c);
    if (op->kind == OP_MOVE)
        trial_free(&to);
    return rc;
}

static int save_trial(struct session *s, const struct op *op, struct outcome *out)
{
    struct trial t;
    int rc = task_trial(s, name_of('t', op->trial), &t, &out->error);

    if (rc < 0 && op->kind == OP_RENAME)
        return rc;
    if (rc < 0) {
        trial_init(&t);
        t.name = mem_copy(name_of('t', op->trial));
    }
    if (op->kind == OP_RENAME) {
        free(t.name);
        t.name = mem_copy(name_of('t', op->to));
    } else {
        free(t.question);
        t.question = mem_copy(name_of('n', op->note));
    }
    rc = task_trial_save(s, &t, &out->error);
    trial_free(&t);
    return rc;
}

static int on_trial(struct session *s, const struct op *op, struct outcome *out)
{
    struct trial t;
    const char *name = name_of('t', op->trial);
    int rc = op->kind == OP_STRIKE_TRIAL
                 ? task_trial_strike(s, name, name_of('w', op->why), &t, &out->error)
                 : task_trial_restore(s, name, &t, &out->error);

    trial_free(&t);
    return rc;
}

static int go(struct session *s, const struct op *op, struct outcome *out)
{
    char *done = NULL;
    int rc = (op->kind == OP_UNDO ? task_undo : task_redo)(s, op->number, &done, &out->error);

    if (rc == 0)
        sscanf(done, "change %ld", &out->number);
    free(done);
    return rc;
}

struct outcome walk_do(struct session *s, const struct op *op)
{
    struct outcome out = {0};

    switch (op->kind) {
    case OP_LOG:
        out.rc = log_one(s, op, &out);
        break;
    case OP_IMPORT:
        out.rc = import(s, op, &out);
        break;
    case OP_CHANGE:
    case OP_MOVE:
    case OP_STRIKE:
    case OP_RESTORE:
        out.rc = on_coupon(s, op, &out);
        break;
    case OP_QUESTION:
    case OP_RENAME:
        out.rc = save_trial(s, op, &out);
        break;
    case OP_STRIKE_TRIAL:
    case OP_RESTORE_TRIAL:
        out.rc = on_trial(s, op, &out);
        break;
    case OP_UNITS:
        out.rc = session_set_units(s, op->note % 2 == 0 ? UNITS_METRIC : UNITS_INCH, &out.error);
        break;
    case OP_UNDO:
    case OP_REDO:
        out.rc = go(s, op, &out);
        break;
    default:
        break;
    }
    return out;
}
