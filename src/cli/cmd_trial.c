#include <stdlib.h>
#include <string.h>

#include "app/trial_page.h"
#include "base/mem.h"
#include "cli/command.h"
#include "cli/levels.h"
#include "model/quantity.h"

static void set_text(char **to, const char *value)
{
    if (value == NULL)
        return;
    free(*to);
    *to = *value == '\0' ? NULL : mem_copy(value);
}

static int set_result(const struct session *s, struct trial *t, const char *name, struct error *e)
{
    const struct variable *v;

    if (name == NULL)
        return 0;
    v = task_trial_result(s, t, name, e);
    if (v == NULL)
        return -1;
    set_text(&t->result, v->key);
    return 0;
}

static int set_stop(const struct session *s, struct trial *t, const char *text, struct error *e)
{
    struct quantity q;

    if (text == NULL)
        return 0;
    if (quantity_parse(text, DIM_ANGLE, s->units, &q, e) < 0)
        return error_where(e, "--stop");
    if (q.value <= 0 || q.value > 180)
        return error_set(e, ERROR_INPUT, "--stop %s: above 0° up to 180° is right", text);
    t->stop_deg = q.value;
    return 0;
}

static int set_all(const struct session *s, const struct invocation *in, struct trial *t,
                   struct error *e)
{
    size_t count;
    const char **levels = option_values(in, "levels", &count);
    int rc = set_result(s, t, option_value(in, "result"), e);

    set_text(&t->question, option_value(in, "question"));
    set_text(&t->note, option_value(in, "note"));
    if (rc == 0)
        rc = set_stop(s, t, option_value(in, "stop"), e);
    for (size_t i = 0; rc == 0 && i < count; i++)
        rc = levels_set(s, t, levels[i], e);
    free(levels);
    return rc;
}

/* The trial of that name, or a new one that is not in the book yet. */
static int find_or_begin(struct session *s, const char *name, struct trial *t, struct error *e)
{
    struct trial_list all;
    bool known;

    if (task_trials(s, &all, e) < 0)
        return -1;
    known = trial_list_find(&all, name) != NULL;
    trial_list_free(&all);
    if (known)
        return task_trial(s, name, t, e);
    trial_init(t);
    t->name = mem_copy(name);
    return 0;
}

/* Of one that is there: to give a new one a name is to make it by that name. */
static int rename_trial(struct session *s, const char *name, const char *to, struct trial *t,
                        struct error *e)
{
    if (*to == '\0')
        return error_set(e, ERROR_USAGE, "--rename: a name is right");
    if (task_trial(s, name, t, e) < 0)
        return -1;
    set_text(&t->name, to);
    return 0;
}

static int change(struct job *job, struct error *e)
{
    struct session *s = &job->session;
    struct trial *t = &job->trial;
    const char *to = option_value(job->in, "rename");

    if (to != NULL && rename_trial(s, job->in->argv[0], to, t, e) < 0)
        return -1;
    if ((to == NULL && find_or_begin(s, job->in->argv[0], t, e) < 0) ||
        set_all(s, job->in, t, e) < 0)
        return -1;
    return task_trial_save(s, t, e);
}

static int run(struct job *job, struct error *e)
{
    const struct invocation *in = job->in;
    bool struck = option_given(in, "struck"), changes = in->count > (struck ? 1 : 0);
    int rc;

    if (struck && (changes || in->argc > 0))
        return error_set(e, ERROR_USAGE, "--struck lists all trials: coldlap trial --struck");
    if (in->argc == 0 && changes)
        return error_set(e, ERROR_USAGE, "name the trial: coldlap trial NAME --question '...'");
    if (job_open(job, changes ? BOOK_CREATE : BOOK_READ, e) < 0)
        return -1;
    if (in->argc == 0)
        return trial_page_all(&job->session, struck, &job->page, e);
    rc = changes ? change(job, e) : task_trial(&job->session, in->argv[0], &job->trial, e);
    if (rc < 0)
        return rc;
    trial_page(&job->session, &job->trial, &job->page);
    return changes ? RUN_STORED : RUN_ANSWERED;
}

const struct command cmd_trial = {
    .name = "trial", .most = 1, .run = run, .stored = "the trial is stored"};
