#include "cli/entry.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "app/coupon_questions.h"
#include "base/mem.h"
#include "base/print.h"
#include "base/text.h"
#include "cli/nearest.h"
#include "cli/pairs.h"
#include "cli/parts.h"
#include "cli/print.h"
#include "model/part.h"
#include "model/variable.h"

static int set_photo(struct entry_target *t, const char *value, struct error *e)
{
    return task_coupon_add_photo(t->coupon, value, e);
}

/* Takes a whole part away, before anything else is set. */
static int clear_part(struct entry_target *t, const char *value, struct error *e)
{
    static const char *const words[PARTS] = {
        [PART_PASS] = "passes", [PART_BEND] = "bend", [PART_FACE] = "face"};

    for (enum part_id id = 0; id < PARTS; id++)
        if (words[id] != NULL && strcmp(words[id], value) == 0) {
            part_drop(t->coupon, id);
            if (id == PART_FACE)
                part_drop(t->coupon, PART_FLAW);
            return 0;
        }
    return error_set(e, ERROR_USAGE, "--clear %s: passes, bend or face is right", value);
}

/* What a coupon has beside its variables, under one name as an option and as a key: a row of the
 * coupon's own, or a part. */
static const struct entry {
    const char *name;
    const struct part_row *rows;
    int (*set)(struct entry_target *t, const char *value, struct error *e);
} entries[] = {
    {.name = "mark", .rows = part_coupon_rows}, {.name = "who", .rows = part_coupon_rows},
    {.name = "when", .rows = part_coupon_rows}, {.name = "note", .rows = part_note_rows},
    {.name = "pass", .set = part_pass},         {.name = "bend", .set = part_bend},
    {.name = "face", .set = part_face},         {.name = "flaw", .set = part_flaw},
    {.name = "photo", .set = set_photo},        {.name = "clear", .set = clear_part},
};

static int set_entry(const struct entry *entry, struct entry_target *t, const char *value,
                     struct error *e)
{
    return entry->set != NULL
               ? entry->set(t, value, e)
               : part_entry(t, part_find(entry->rows, entry->name), t->coupon, value, e);
}

static const struct entry *find_entry(const char *name)
{
    for (size_t i = 0; i < sizeof entries / sizeof *entries; i++)
        if (text_same(entries[i].name, name))
            return &entries[i];
    return NULL;
}

static int refuse_key(const struct session *s, const char *key, struct error *e)
{
    struct nearest near = {0};

    for (size_t i = 0; i < s->variables.count; i++)
        if (s->variables.items[i].group != GROUP_DERIVED)
            nearest_try(&near, key, s->variables.items[i].key);
    for (size_t i = 0; i < sizeof entries / sizeof *entries; i++)
        nearest_try(&near, key, entries[i].name);
    if (near.word != NULL)
        return error_set(e, ERROR_INPUT, "there is no variable '%s'; did you mean %s?", key,
                         near.word);
    return error_set(e, ERROR_INPUT,
                     "there is no variable '%s'; 'coldlap variable' lists them, and "
                     "'coldlap variable %s' makes it one of your own",
                     key, key);
}

static int set_variable(struct entry_target *t, const struct pair *pair, struct error *e)
{
    const struct variable *v = variable_find(&t->s->variables, pair->key);
    /* whether it is usual is asked of the whole coupon: coupon_questions() */
    struct intake in = {.units = t->s->units, .sure = true, .error = e};

    if (v == NULL)
        return refuse_key(t->s, pair->key, e);
    return coupon_set_from_text(t->coupon, v, pair->value, &in);
}

/* A key stands once: of two values for it one would be lost. */
static int check_once(const struct invocation *in, int first, int at, struct error *e)
{
    size_t length = strcspn(in->argv[at], "=");

    for (int i = first; i < at; i++)
        if (strcspn(in->argv[i], "=") == length &&
            strncasecmp(in->argv[i], in->argv[at], length) == 0)
            return error_set(e, ERROR_USAGE, "%.*s is given twice; once is right", (int)length,
                             in->argv[at]);
    return 0;
}

static int apply_argument(struct entry_target *t, const char *argument, struct error *e)
{
    const struct entry *entry;
    struct pair pair;
    int rc;

    if (pair_split(argument, &pair, e) < 0)
        return -1;
    entry = find_entry(pair.key);
    if (text_same(pair.key, "trial"))
        rc = 0;
    else if (entry != NULL)
        rc = set_entry(entry, t, pair.value, e);
    else
        rc = set_variable(t, &pair, e);
    pair_free(&pair);
    return rc;
}

int entry_apply(struct job *job, int first, struct coupon *c, struct error *e)
{
    const struct invocation *in = job->in;
    struct entry_target t = {&job->session, c, &job->questions};
    bool sound = coupon_check_face(c, job->session.units, NULL) == 0;

    for (int clearing = 1; clearing >= 0; clearing--)
        for (size_t i = 0; i < in->count; i++) {
            const struct entry *entry = find_entry(in->options[i].option->name);

            if (entry != NULL && (entry->set == clear_part) == (clearing != 0) &&
                set_entry(entry, &t, in->options[i].value, e) < 0)
                return -1;
        }
    for (int i = first; i < in->argc; i++)
        if (check_once(in, first, i, e) < 0 || apply_argument(&t, in->argv[i], e) < 0)
            return -1;
    /* only now: the face may have been said after its flaws */
    return sound ? coupon_check_face(c, job->session.units, e) : 0;
}

const char *entry_argument(const struct invocation *in, const char *key)
{
    for (int i = 0; i < in->argc; i++)
        if (text_starts(in->argv[i], key) && in->argv[i][strlen(key)] == '=')
            return in->argv[i] + strlen(key) + 1;
    return NULL;
}

void entry_ask(struct job *job, const struct coupon *c, const struct coupon *last)
{
    coupon_questions(&job->session, c, last, &job->questions);
    if (job->questions.count == 0 || option_given(job->in, "yes"))
        return;
    print_line(stderr, "coldlap: taken as entered; is it right?");
    print_page(stderr, &job->questions);
}
