#include "store/trials.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "store/db.h"
#include "store/history.h"

static void take_trial(struct query *q, struct trial *t)
{
    snprintf(t->id, sizeof t->id, "%s", query_text(q, "id"));
    t->revision = (long)query_int(q, "revision");
    t->name = mem_copy(query_text(q, "name"));
    t->question = query_copy(q, "question");
    t->result = query_copy(q, "result");
    t->stop_deg = query_real(q, "stop_deg");
    t->when = query_instant(q, "when");
    t->note = query_copy(q, "note");
}

static struct trial *trial_with_id(struct trial_list *list, const char *id)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->items[i].id, id) == 0)
            return &list->items[i];
    return NULL;
}

static int read_trials(struct book *book, struct trial_list *out, struct error *e)
{
    struct query *q = db_query(book,
                               "SELECT id, revision, name, question, result, stop_deg, when_utc_ms,"
                               " when_offset_min, note FROM trial ORDER BY when_utc_ms, id",
                               e);
    int got = -1;

    while (q != NULL && (got = query_next(q, e)) > 0)
        take_trial(q, trial_list_add(out));
    return got;
}

/* A variable under trial may have no levels: then `level` is NULL. */
static int read_levels(struct book *book, struct trial_list *out, struct error *e)
{
    struct query *q = db_query(book,
                               "SELECT v.trial_id, v.variable, l.level FROM trial_variable AS v"
                               " LEFT JOIN trial_level AS l"
                               " ON l.trial_id = v.trial_id AND l.variable = v.variable"
                               " ORDER BY v.trial_id, v.number, l.number",
                               e);
    int got = -1;

    while (q != NULL && (got = query_next(q, e)) > 0) {
        struct trial *t = trial_with_id(out, query_text(q, "trial_id"));
        struct level_set *set = t == NULL ? NULL : trial_set_for(t, query_text(q, "variable"));

        if (set != NULL && !query_null(q, "level"))
            level_set_add(set, query_text(q, "level"));
    }
    return got;
}

int trials_load(struct book *book, struct trial_list *out, struct error *e)
{
    int result;

    if (db_enter_reading(book, e) < 0)
        return -1;
    result = read_trials(book, out, e);
    if (result == 0)
        result = read_levels(book, out, e);
    result = db_leave_reading(book, result, e);
    if (result < 0)
        trial_list_free(out);
    return result;
}

static int no_such_trial(const struct book *book, const char *name, const struct trial_list *list,
                         struct error *e)
{
    struct text names = {0};

    for (size_t i = 0; i < list->count; i++)
        text_addf(&names, "%s%s", i > 0 ? ", " : "", list->items[i].name);
    if (list->count == 0)
        error_set(e, ERROR_INPUT, "%s: there is no trial %s; the book has none yet", book->path,
                  name);
    else
        error_set(e, ERROR_INPUT, "%s: there is no trial %s; there is %s", book->path, name,
                  text_str(&names));
    text_free(&names);
    return -1;
}

int trial_load(struct book *book, const char *name, struct trial *out, struct error *e)
{
    struct trial_list list = {0};
    struct trial *found;
    int result = 0;

    trial_init(out);
    if (trials_load(book, &list, e) < 0)
        return -1;
    found = trial_list_find(&list, name);
    if (found != NULL)
        trial_copy(out, found);
    else
        result = no_such_trial(book, name, &list, e);
    trial_list_free(&list);
    return result;
}

static int write_levels(struct book *book, const char *id, const struct level_set *set,
                        struct error *e)
{
    for (size_t i = 0; i < set->count; i++) {
        struct query *q = db_query(book,
                                   "INSERT INTO trial_level (trial_id, variable, number, level)"
                                   " VALUES (:trial_id, :variable, :number, :level)",
                                   e);

        if (q == NULL)
            return -1;
        query_put_text(q, ":trial_id", id);
        query_put_text(q, ":variable", set->variable);
        query_put_int(q, ":number", (int64_t)i + 1);
        query_put_text(q, ":level", set->levels[i]);
        if (query_run(q, e) < 0)
            return -1;
    }
    return 0;
}

static int write_sets(struct book *book, const struct trial *t, const char *id, struct error *e)
{
    for (size_t i = 0; i < t->set_count; i++) {
        struct query *q = db_query(book,
                                   "INSERT INTO trial_variable (trial_id, number, variable)"
                                   " VALUES (:trial_id, :number, :variable)",
                                   e);

        if (q == NULL)
            return -1;
        query_put_text(q, ":trial_id", id);
        query_put_int(q, ":number", (int64_t)i + 1);
        query_put_text(q, ":variable", t->sets[i].variable);
        if (query_run(q, e) < 0 || write_levels(book, id, &t->sets[i], e) < 0)
            return -1;
    }
    return 0;
}

static int clear_sets(struct book *book, const char *id, struct error *e)
{
    static const char *const tables[] = {"trial_level", "trial_variable"};

    return db_clear(book, tables, sizeof tables / sizeof tables[0], "trial_id", id, e);
}

/* 0, or the revision that the book has; -1 when that cannot be read. */
static int64_t stored_revision(struct book *book, const char *id, struct error *e)
{
    struct query *q = db_query(book, "SELECT revision FROM trial WHERE id = :id", e);
    int64_t revision = 0;
    int got;

    if (q == NULL)
        return -1;
    query_put_text(q, ":id", id);
    got = query_next(q, e);
    if (got <= 0)
        return got;
    revision = query_int(q, "revision");
    query_end(q);
    return revision;
}

static int name_is_free(struct book *book, const char *name, const char *id, struct error *e)
{
    struct query *q = db_query(book, "SELECT id FROM trial WHERE name = :name AND id <> :id", e);
    int got;

    if (q == NULL)
        return -1;
    query_put_text(q, ":name", name);
    query_put_text(q, ":id", id);
    got = query_next(q, e);
    if (got <= 0)
        return got;
    query_end(q);
    return error_set(e, ERROR_INPUT, "%s: there is a trial %s already; take another name",
                     book->path, name);
}

static int write_trial(struct book *book, const struct trial *t, const char *id,
                       struct instant when, int64_t revision, struct error *e)
{
    struct query *q =
        db_query(book,
                 "INSERT INTO trial (id, revision, name, question, result, stop_deg, when_utc_ms,"
                 " when_offset_min, note) VALUES (:id, :revision, :name, :question, :result,"
                 " :stop_deg, :when_utc_ms, :when_offset_min, :note)"
                 " ON CONFLICT (id) DO UPDATE SET revision = excluded.revision,"
                 " name = excluded.name, question = excluded.question, result = excluded.result,"
                 " stop_deg = excluded.stop_deg, when_utc_ms = excluded.when_utc_ms,"
                 " when_offset_min = excluded.when_offset_min, note = excluded.note",
                 e);

    if (q == NULL)
        return -1;
    query_put_text(q, ":id", id);
    query_put_int(q, ":revision", revision);
    query_put_text(q, ":name", t->name);
    query_put_text(q, ":question", t->question);
    query_put_text(q, ":result", t->result);
    query_put_real(q, ":stop_deg", t->stop_deg);
    query_put_instant(q, ":when", when);
    query_put_text(q, ":note", t->note);
    return query_run(q, e);
}

/* The earlier state is kept and its levels make room; refused when it is not the one loaded. */
static int replace_stored(struct book *book, const struct trial *t, struct error *e)
{
    int64_t revision = stored_revision(book, t->id, e);

    if (revision < 0)
        return -1;
    if (revision == 0)
        return error_set(e, ERROR_INPUT, "%s: this trial is not in the book", book->path);
    if (revision != t->revision)
        return error_set(e, ERROR_INPUT,
                         "%s: trial %s was changed by another program meanwhile; nothing of this "
                         "was stored: look at it again and enter the change anew",
                         book->path, t->name);
    return history_keep(book, HISTORY_TRIAL, t->id, e) < 0 ? -1 : clear_sets(book, t->id, e);
}

int trial_save(struct book *book, struct trial *t, struct error *e)
{
    bool is_new = t->id[0] == '\0';
    struct instant when = t->when;
    char id[ID_SIZE];
    int result = 0;

    if (t->name == NULL)
        return error_set(e, ERROR_INPUT, "a trial needs a name");
    if (when.utc_ms == 0 && when.offset_minutes == 0)
        when = clock_now();
    if (is_new)
        id_new(id);
    else
        memcpy(id, t->id, sizeof id);
    if (db_enter(book, e) < 0)
        return -1;
    if (!is_new)
        result = replace_stored(book, t, e);
    if (result == 0)
        result = name_is_free(book, t->name, id, e);
    if (result == 0)
        result = write_trial(book, t, id, when, is_new ? 1 : t->revision + 1, e);
    if (result == 0)
        result = write_sets(book, t, id, e);
    result = db_leave(book, result, e);
    if (result < 0)
        return -1;
    memcpy(t->id, id, sizeof t->id);
    t->when = when;
    t->revision = is_new ? 1 : t->revision + 1;
    return 0;
}
