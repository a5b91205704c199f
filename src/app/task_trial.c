#include "app/task_trial.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/variable_key.h"
#include "store/journal.h"
#include "store/settings.h"
#include "store/trials.h"

int task_trials(struct session *s, struct trial_list *out, struct error *e)
{
    memset(out, 0, sizeof *out);
    return trials_load(s->book, out, e);
}

/* The trial logged into last, else the newest: 1, or 0 in a book without any. */
static int last_trial(struct session *s, struct trial *out, struct error *e)
{
    struct trial_list list;
    char *id = NULL;
    int rc = task_trials(s, &list, e);

    if (rc == 0)
        rc = setting_get(s->book, "last_trial", &id, e);
    if (rc == 0 && list.count > 0) {
        const struct trial *found = id == NULL ? NULL : trial_list_with_id(&list, id);

        trial_copy(out, found != NULL ? found : &list.items[list.count - 1]);
        rc = 1;
    }
    free(id);
    trial_list_free(&list);
    return rc;
}

int task_trial(struct session *s, const char *name, struct trial *out, struct error *e)
{
    int got;

    if (name != NULL)
        return trial_load(s->book, name, out, e);
    got = last_trial(s, out, e);
    if (got == 0)
        error_set(e, ERROR_ANSWER,
                  "%s holds no trial yet; 'coldlap log' or 'coldlap import' makes the first",
                  book_path(s->book));
    return got > 0 ? 0 : -1;
}

int task_trial_to_fill(struct session *s, const char *name, struct trial *out, struct error *e)
{
    int got = name == NULL ? last_trial(s, out, e) : trial_load(s->book, name, out, NULL) == 0;

    if (got != 0)
        return got < 0 ? -1 : 0;
    trial_init(out);
    out->name = mem_copy(name == NULL ? "first" : name);
    if (trial_save(s->book, out, e) == 0)
        return 0;
    trial_free(out);
    return -1;
}

int task_trial_save(struct session *s, struct trial *t, struct error *e)
{
    journal_name(s->book, t->id[0] == '\0' ? "making" : "change");
    return trial_save(s->book, t, e);
}

int task_trial_strike(struct session *s, const char *name, const char *why, struct trial *out,
                      struct error *e)
{
    if (trial_load(s->book, name, out, e) < 0)
        return -1;
    journal_name(s->book, "strike");
    if (trial_strike(s->book, out, why, e) == 0)
        return 0;
    trial_free(out);
    return -1;
}

int task_trial_restore(struct session *s, const char *name, struct trial *out, struct error *e)
{
    if (trial_load_struck(s->book, name, out, e) < 0)
        return -1;
    journal_name(s->book, "restore");
    if (trial_restore(s->book, out, e) == 0)
        return 0;
    trial_free(out);
    return -1;
}

const struct variable *task_trial_result(const struct session *s, const struct trial *t,
                                         const char *named, struct error *e)
{
    const char *name = named != NULL ? named : t->result != NULL ? t->result : KEY_BEND_ANGLE;
    const struct variable *v = variable_find_result(&s->variables, name);

    if (v == NULL)
        error_set(e, ERROR_USAGE, "there is no variable '%s'; 'coldlap variable' lists them", name);
    else if (v->role != ROLE_RESULT) {
        error_set(e, ERROR_USAGE,
                  "%s is not a result; coupons can be judged by bend_angle, "
                  "fused_share and other results",
                  v->key);
        v = NULL;
    } else if (v->kind != VARIABLE_NUMBER) {
        error_set(e, ERROR_ANSWER, "%s is a category; only a result in numbers can be ranked",
                  v->key);
        v = NULL;
    }
    return v;
}
