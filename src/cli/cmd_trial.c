#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/tasks.h"
#include "base/mem.h"
#include "base/text.h"
#include "cli/command.h"
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
    result = task_trials_page(&s, &p, e);
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
    v = task_result(s, t, name, e);
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

/* A level is read like a value of a coupon, so that it can be welded and ranked later, and kept in
 * the tidy form of an entry. */
static int add_level(const struct session *s, const struct variable *v, struct level_set *set,
                     const char *level, struct error *e)
{
    const struct value *value;
    struct coupon probe;
    char question[300];
    int result;

    coupon_init(&probe);
    result = coupon_set_from_text(&probe, v, level, s->units, question, sizeof question, e);
    value = coupon_value(&probe, v->key);
    if (result == 0)
        level_set_add(set, value != NULL && value->text != NULL ? value->text : level);
    coupon_free(&probe);
    return result < 0 ? error_where(e, "--levels %s", v->key) : 0;
}

static void clear_levels(struct level_set *set)
{
    while (set->count > 0)
        free(set->levels[--set->count]);
}

/* "sides=one,both"; with a semicolon anywhere, that separates, so that 0,9 can be a number. */
static int set_levels(const struct session *s, struct trial *t, const char *text, struct error *e)
{
    const char *equals = strchr(text, '='), *separator = strchr(text, ';') ? ";" : ",";
    char *name = mem_copy_part(text, equals != NULL ? (size_t)(equals - text) : strlen(text));
    const struct variable *v = variable_find(&s->variables, name);
    char *list = mem_copy(equals != NULL ? equals + 1 : ""), *rest = list, *level;
    struct level_set *set;
    int result = 0;

    if (v == NULL || v->role != ROLE_CAUSE || v->group == GROUP_DERIVED)
        result =
            error_set(e, ERROR_INPUT, "--levels: '%s' is not a variable that can be set", name);
    else {
        set = trial_set_for(t, v->key);
        clear_levels(set);
        while (result == 0 && (level = strsep(&rest, separator)) != NULL) {
            level = text_trim(level);
            if (*level == '\0')
                continue;
            result = add_level(s, v, set, level, e);
        }
    }
    free(name);
    free(list);
    return result;
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
        result = set_levels(s, t, levels[i], e);
    free(levels);
    return result;
}

static void show(const struct session *s, const struct trial *t)
{
    struct page p = {0};

    trial_page(s, t, &p);
    print_page(stdout, &p);
    page_free(&p);
}

static int run(const struct invocation *in, struct error *e)
{
    bool change = in->count > 0;
    struct session s = {0};
    struct trial t = {0};
    int result;

    if (need_arguments(in, 0, 1, e) < 0)
        return -1;
    if (in->argc == 0)
        return list_trials(in, e);
    if (open_book(in, change ? BOOK_CREATE : BOOK_READ, &s, e) < 0)
        return -1;
    result =
        change ? task_trial_ensure(&s, in->argv[0], &t, e) : task_trial(&s, in->argv[0], &t, e);
    if (result == 0 && change)
        result = set_all(&s, in, &t, e);
    if (result == 0 && change)
        result = task_trial_save(&s, &t, e);
    if (result == 0)
        show(&s, &t);
    trial_free(&t);
    session_close(&s);
    return result;
}

const struct command cmd_trial = {"trial", run, false};
