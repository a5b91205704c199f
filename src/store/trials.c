#include "store/trials.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "store/db.h"
#include "store/journal.h"
#include "store/query.h"
#include "store/thing_state.h"
#include "store/transaction.h"

static void take_trial(struct query *q, struct trial *t)
{
    snprintf(t->id, sizeof t->id, "%s", query_text(q, "uuid"));
    t->revision = (long)query_int(q, "revision");
    t->name = mem_copy(query_text(q, "name"));
    t->question = query_copy(q, "question");
    t->result = query_copy(q, "result");
    t->stop_deg = query_real(q, "stop_deg");
    t->when = query_instant(q, "when");
    t->note = query_copy(q, "note");
    t->struck_why = query_copy(q, "struck_why");
}

static int read_trials(struct book *book, bool with_struck, struct trial_list *out, struct error *e)
{
    struct query *q = query_begin(book,
                                  "SELECT * FROM trial WHERE :with_struck OR struck_utc_ms IS NULL"
                                  " ORDER BY when_utc_ms, id",
                                  NULL, e);
    int got;

    query_put_int(q, ":with_struck", with_struck);
    while ((got = query_next(q, e)) > 0)
        take_trial(q, trial_list_add(out));
    return got;
}

/* A variable under trial may have no levels: then `level` is NULL. */
static int read_levels(struct book *book, struct trial_list *out, struct error *e)
{
    struct query *q = query_begin(book,
                                  "SELECT t.uuid, v.variable, l.level FROM trial_variable AS v"
                                  " JOIN trial AS t ON t.id = v.trial_id"
                                  " LEFT JOIN trial_level AS l"
                                  " ON l.trial_id = v.trial_id AND l.variable = v.variable"
                                  " ORDER BY v.trial_id, v.number, l.number",
                                  NULL, e);
    int got;

    while ((got = query_next(q, e)) > 0) {
        struct trial *t = trial_list_with_id(out, query_text(q, "uuid"));
        struct level_set *set = t == NULL ? NULL : trial_set_for(t, query_text(q, "variable"));

        if (set != NULL && query_maybe(q, "level") != NULL)
            level_set_add(set, query_text(q, "level"));
    }
    return got;
}

static int load(struct book *book, bool with_struck, struct trial_list *out, struct error *e)
{
    int rc;

    if (transaction_enter_reading(book, e) < 0)
        return -1;
    rc = read_trials(book, with_struck, out, e);
    if (rc == 0)
        rc = read_levels(book, out, e);
    rc = transaction_leave_reading(book, rc, e);
    if (rc < 0)
        trial_list_free(out);
    return rc;
}

int trials_load(struct book *book, struct trial_list *out, struct error *e)
{
    return load(book, false, out, e);
}

int trials_load_all(struct book *book, struct trial_list *out, struct error *e)
{
    return load(book, true, out, e);
}

/* `list` has those struck out as well. */
static int no_such_trial(const struct book *book, const char *name, const struct trial_list *list,
                         struct error *e)
{
    struct text names = {0};

    for (size_t i = 0; i < list->count; i++) {
        const struct trial *t = &list->items[i];

        if (t->struck_why == NULL)
            text_addf(&names, "%s%s", names.length > 0 ? ", " : "there is ", t->name);
    }
    for (size_t i = list->count; i-- > 0;)
        if (list->items[i].struck_why != NULL && text_same(list->items[i].name, name)) {
            error_set(e, ERROR_INPUT,
                      "%s: the trial %s was struck out (%s); 'coldlap restore --trial' brings it "
                      "back",
                      book->path, name, list->items[i].struck_why);
            text_free(&names);
            return -1;
        }
    error_set(e, ERROR_INPUT, "%s: there is no trial %s; %s", book->path, name,
              names.length == 0 ? "the book has none yet" : text_str(&names));
    text_free(&names);
    return -1;
}

static const struct trial *find_trial(const struct trial_list *list, const char *name, bool struck)
{
    for (size_t i = list->count; i-- > 0;)
        if (text_same(list->items[i].name, name) && (list->items[i].struck_why != NULL) == struck)
            return &list->items[i];
    return NULL;
}

static int load_named(struct book *book, const char *name, bool struck, struct trial *out,
                      struct error *e)
{
    struct trial_list list = {0};
    const struct trial *found;
    int rc = 0;

    trial_init(out);
    if (trials_load_all(book, &list, e) < 0)
        return -1;
    found = find_trial(&list, name, struck);
    if (found != NULL)
        trial_copy(out, found);
    else if (struck && find_trial(&list, name, false) != NULL)
        rc = error_set(e, ERROR_INPUT, "trial %s is not struck out", name);
    else
        rc = no_such_trial(book, name, &list, e);
    trial_list_free(&list);
    return rc;
}

int trial_load(struct book *book, const char *name, struct trial *out, struct error *e)
{
    return load_named(book, name, false, out, e);
}

int trial_load_struck(struct book *book, const char *name, struct trial *out, struct error *e)
{
    return load_named(book, name, true, out, e);
}

static int write_levels(struct book *book, int64_t trial, const struct level_set *set,
                        struct error *e)
{
    static const char *const columns[] = {"trial_id", "variable", "number", "level", NULL};
    int rc = 0;

    for (size_t i = 0; rc == 0 && i < set->count; i++) {
        struct query *q = query_begin_row(book, "trial_level", columns, NULL, e);

        query_put_int(q, ":trial_id", trial);
        query_put_text(q, ":variable", set->variable);
        query_put_int(q, ":number", (int64_t)i + 1);
        query_put_text(q, ":level", set->levels[i]);
        rc = query_run(q, e);
    }
    return rc;
}

static int write_sets(struct book *book, const struct trial *t, int64_t trial, struct error *e)
{
    static const char *const columns[] = {"trial_id", "number", "variable", NULL};
    int rc = 0;

    for (size_t i = 0; rc == 0 && i < t->set_count; i++) {
        struct query *q = query_begin_row(book, "trial_variable", columns, NULL, e);

        query_put_int(q, ":trial_id", trial);
        query_put_int(q, ":number", (int64_t)i + 1);
        query_put_text(q, ":variable", t->sets[i].variable);
        rc = query_run(q, e);
        if (rc == 0)
            rc = write_levels(book, trial, &t->sets[i], e);
    }
    return rc;
}

int trial_name_is_free(struct book *book, const char *name, const char *uuid, struct error *e)
{
    struct query *q = query_begin(book,
                                  "SELECT id FROM trial WHERE name = :key AND uuid <> :uuid"
                                  " AND struck_utc_ms IS NULL",
                                  name, e);
    int got;

    query_put_text(q, ":uuid", uuid);
    got = query_next(q, e);
    if (got <= 0)
        return got;
    query_end(q);
    return error_set(e, ERROR_INPUT, "%s: there is a trial %s already; take another name",
                     book->path, name);
}

/* What a save decides; it goes into the trial only when all of it is stored. */
struct head {
    char uuid[ID_SIZE];
    struct instant when;
    long revision;
};

static int write_trial(struct book *book, const struct trial *t, const struct head *h,
                       struct error *e)
{
    static const char *const columns[] = {"uuid",   "revision", "name",        "question",
                                          "result", "stop_deg", "when_utc_ms", "when_offset_min",
                                          "note",   NULL};
    struct query *q = query_begin_row(book, "trial", columns, "uuid", e);

    query_put_text(q, ":uuid", h->uuid);
    query_put_int(q, ":revision", h->revision);
    query_put_text(q, ":name", t->name);
    query_put_text(q, ":question", t->question);
    query_put_text(q, ":result", t->result);
    query_put_real(q, ":stop_deg", t->stop_deg);
    query_put_instant(q, ":when", h->when);
    query_put_text(q, ":note", t->note);
    return query_run(q, e);
}

int trial_refuse_struck(struct book *book, int64_t trial, struct error *e)
{
    struct query *q = query_begin_number(
        book, "SELECT name FROM trial WHERE id = :key AND struck_utc_ms IS NOT NULL", trial, e);
    int got = query_next(q, e);

    if (got <= 0)
        return got;
    error_set(e, ERROR_INPUT,
              "%s: the trial %s is struck out, so it takes no coupon; 'coldlap restore --trial' "
              "brings it back",
              book->path, query_text(q, "name"));
    query_end(q);
    return -1;
}

int trial_number(struct book *book, const char *uuid, int64_t *out, struct error *e)
{
    *out = 0;
    return query_number(book, "SELECT id FROM trial WHERE uuid = :key", uuid, out, e);
}

/* The earlier state is kept and its levels make room; refused when it is not the one loaded. */
static int make_room(struct book *book, const struct trial *t, int64_t trial, struct error *e)
{
    int64_t revision = 0;

    if (query_number(book, "SELECT revision FROM trial WHERE uuid = :key", t->id, &revision, e) < 0)
        return -1;
    if (revision == 0)
        return error_set(e, ERROR_INPUT, "%s: this trial is not in the book", book->path);
    if (revision != t->revision)
        return error_set(e, ERROR_INPUT,
                         "%s: trial %s was changed by another program meanwhile; nothing of this "
                         "was stored: look at it again and enter the change again",
                         book->path, t->name);
    if (journal_keep(book, THING_TRIAL, trial, e) < 0 ||
        query_delete(book, "trial_level", "trial_id", trial, e) < 0)
        return -1;
    return query_delete(book, "trial_variable", "trial_id", trial, e);
}

static int store_trial(struct book *book, const struct trial *t, const struct head *h,
                       struct error *e)
{
    int64_t trial;

    if (trial_name_is_free(book, t->name, h->uuid, e) < 0 || write_trial(book, t, h, e) < 0 ||
        trial_number(book, h->uuid, &trial, e) < 0)
        return -1;
    return write_sets(book, t, trial, e);
}

static int save_new(struct book *book, const struct trial *t, const struct head *h, struct error *e)
{
    int64_t trial;

    if (store_trial(book, t, h, e) < 0 || trial_number(book, h->uuid, &trial, e) < 0)
        return -1;
    return journal_made(book, THING_TRIAL, trial, e);
}

/* As it was: what was stored is rolled back like a failure, but none is said. */
enum { UNCHANGED = -2 };

static int save_changed(struct book *book, const struct trial *t, const struct head *h,
                        struct error *e)
{
    int64_t trial;
    char *before = NULL;
    int rc = trial_number(book, t->id, &trial, e);

    if (rc == 0)
        rc = thing_state(book, THING_TRIAL, trial, &before, e);
    if (rc == 0)
        rc = make_room(book, t, trial, e);
    if (rc == 0)
        rc = store_trial(book, t, h, e);
    if (rc == 0)
        rc = thing_is_in_state(book, THING_TRIAL, trial, before, e);
    free(before);
    return rc > 0 ? UNCHANGED : rc;
}

int trial_save(struct book *book, struct trial *t, struct error *e)
{
    struct head h = {.when = clock_or_now(t->when), .revision = t->revision + 1};
    bool is_new = t->id[0] == '\0';
    int rc;

    if (t->name == NULL)
        return error_set(e, ERROR_INPUT, "a trial needs a name");
    if (is_new) {
        id_new(h.uuid);
        h.revision = 1;
    } else {
        memcpy(h.uuid, t->id, sizeof h.uuid);
    }
    if (transaction_enter(book, e) < 0)
        return -1;
    rc = is_new ? save_new(book, t, &h, e) : save_changed(book, t, &h, e);
    rc = transaction_leave(book, rc, e);
    if (rc < 0)
        return rc == UNCHANGED ? 0 : rc;
    memcpy(t->id, h.uuid, sizeof t->id);
    t->when = h.when;
    t->revision = h.revision;
    return 0;
}
