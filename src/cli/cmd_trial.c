#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/task_trial.h"
#include "app/trial_page.h"
#include "base/mem.h"
#include "cli/command.h"
#include "cli/levels.h"
#include "cli/open.h"
#include "cli/print.h"
#include "model/quantity.h"

static int list_trials(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    struct page p = {0};
    int result;

    if (in->count > 0)
        return error_set(e, ERROR_USAGE, "name the trial: coldlap trial NAME --question '...'");
    if (open_book(in, BOOK_READ, &s, e) < 0)
        return -1;
    result = trial_page_all(&s, &p, e);
    if (result == 0)
        print_page(stdout, &p);
    page_free(&p);
    session_close(&s);
    return result;
}

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
    int result = set_result(s, t, option_value(in, "result"), e);

    set_text(&t->question, option_value(in, "question"));
    set_text(&t->note, option_value(in, "note"));
    if (result == 0)
        result = set_stop(s, t, option_value(in, "stop"), e);
    for (size_t i = 0; result == 0 && i < count; i++)
        result = levels_set(s, t, levels[i], e);
    free(levels);
    return result;
}

static void show(struct session *s, const struct trial *t)
{
    struct page p = {0};

    trial_page(s, t, &p);
    print_page(stdout, &p);
    page_free(&p);
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

static int change(struct session *s, const struct invocation *in, struct trial *t, struct error *e)
{
    if (find_or_begin(s, in->argv[0], t, e) < 0 || set_all(s, in, t, e) < 0)
        return -1;
    return task_trial_save(s, t, e);
}

static int run(const struct invocation *in, struct error *e)
{
    bool changes = in->count > 0;
    struct session s = {0};
    struct trial t = {0};
    int result;

    if (need_arguments(in, 0, 1, e) < 0)
        return -1;
    if (in->argc == 0)
        return list_trials(in, e);
    if (open_book(in, changes ? BOOK_CREATE : BOOK_READ, &s, e) < 0)
        return -1;
    result = changes ? change(&s, in, &t, e) : task_trial(&s, in->argv[0], &t, e);
    if (result == 0)
        show(&s, &t);
    trial_free(&t);
    session_close(&s);
    return result < 0 || !changes ? result : RUN_STORED;
}

const struct command cmd_trial = {.name = "trial", .run = run, .stored = "the trial is stored"};
