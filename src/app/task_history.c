#include "app/task_history.h"

#include <stdlib.h>
#include <string.h>

#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "base/mem.h"
#include "store/trials.h"

/* A coupon that is not in the book now: "MARK", or "TRIAL/MARK". 0: there was none. */
static int find_gone(struct session *s, const char *mark, int64_t *out, struct error *e)
{
    const char *slash = strrchr(mark, '/');
    char *name = slash == NULL ? NULL : mem_copy_part(mark, (size_t)(slash - mark));
    struct trial trial;
    int64_t number = 0;
    int rc = journal_find_coupon(s->book, 0, mark, out, e);

    if (rc == 0 && *out == 0 && name != NULL && task_trial(s, name, &trial, NULL) == 0) {
        rc = trial_number(s->book, trial.id, &number, e);
        if (rc == 0)
            rc = journal_find_coupon(s->book, number, slash + 1, out, e);
        trial_free(&trial);
    }
    free(name);
    return rc;
}

static int find_coupon(struct session *s, const char *mark, int64_t *out, struct error *e)
{
    struct error why = {0};
    struct coupon coupon;
    int rc = task_coupon(s, mark, &coupon, &why);

    *out = coupon.sequence;
    coupon_free(&coupon);
    if (rc == 0)
        return 0;
    if (why.kind == ERROR_INPUT && (find_gone(s, mark, out, e) < 0 || *out != 0))
        return *out != 0 ? 0 : -1;
    if (e != NULL)
        *e = why;
    return -1;
}

int task_history(struct session *s, const char *mark, size_t most, struct history *out,
                 struct error *e)
{
    struct change_list *changes = &out->changes;

    memset(out, 0, sizeof *out);
    if (mark != NULL && find_coupon(s, mark, &out->coupon, e) < 0)
        return -1;
    out->mark = mem_copy(mark);
    if (journal_list(s->book, out->coupon, most + 1, changes, e) < 0) {
        history_free(out);
        return -1;
    }
    out->more = changes->count > most;
    if (out->more) {
        change_free(&changes->items[0]);
        memmove(changes->items, changes->items + 1, --changes->count * sizeof *changes->items);
    }
    return 0;
}

void history_free(struct history *history)
{
    change_list_free(&history->changes);
    free(history->mark);
    memset(history, 0, sizeof *history);
}

/* Takes over `change`. */
static char *tell(struct change *change, const char *done)
{
    char *text = mem_format("change %lld, %s of %s, is %s", (long long)change->number, change->what,
                            change->things, done);

    change_free(change);
    return text;
}

int task_undo(struct session *s, int64_t number, char **done, struct error *e)
{
    struct change change;

    if (journal_undo(s->book, number, &change, e) < 0)
        return -1;
    *done = tell(&change, "undone");
    return 0;
}

int task_redo(struct session *s, int64_t number, char **done, struct error *e)
{
    struct change change;

    if (journal_redo(s->book, number, &change, e) < 0)
        return -1;
    *done = tell(&change, "done again");
    return 0;
}
