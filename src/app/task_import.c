#include "app/task_import.h"

#include <stdlib.h>
#include <string.h>

#include "app/task_trial.h"
#include "base/mem.h"
#include "exchange/csv_table.h"
#include "exchange/mapping.h"
#include "model/variable_key.h"
#include "store/coupons.h"
#include "store/journal.h"
#include "store/settings.h"
#include "store/trials.h"
#include "store/variables.h"

enum { MOST_FAULTS_TOLD = 20 };

static int read_table(const struct session *s, const struct import_request *r, struct import *out,
                      struct error *e)
{
    struct import_options options = {s->units, r->results, r->result_count};
    struct csv_table table = {0};
    int rc = csv_table_read(r->in, &table, e);

    if (rc == 0)
        rc = import_table(&table, &s->variables, &options, out, e);
    if (rc < 0)
        error_where(e, "%s", r->name);
    csv_table_free(&table);
    return rc;
}

/* A file of another kind has a fault in every row. */
static void tell_fault(struct import_outcome *outcome, size_t line, const char *column,
                       const char *reason)
{
    if (outcome->faults++ < MOST_FAULTS_TOLD)
        page_add(&outcome->rows, BLOCK_ITEM, "line %zu%s%s: %s", line,
                 column != NULL ? ", column " : "", column != NULL ? column : "", reason);
}

static void tell_rejects(const struct import *import, struct import_outcome *outcome)
{
    for (size_t i = 0; i < import->reject_count; i++) {
        const struct reject *r = &import->rejects[i];

        tell_fault(outcome, r->line, r->column, r->reason);
    }
    outcome->rejected = import->rows_rejected;
}

/* No variable was made when nothing was brought in. */
static void tell_notes(const struct import *import, bool stored, struct import_outcome *outcome)
{
    for (size_t i = 0; i < import->note_count; i++)
        if (stored || !import->notes[i].makes)
            page_add(&outcome->notes, BLOCK_ITEM, "%s", import->notes[i].text);
    if (outcome->faults > MOST_FAULTS_TOLD)
        page_add(&outcome->rows, BLOCK_ITEM, "and %zu more", outcome->faults - MOST_FAULTS_TOLD);
}

/* A trial that names no result is judged by the bend angle; when the table brings none but another
 * result, that one decides. */
static int choose_result(struct session *s, const struct import *import, struct trial *t,
                         struct error *e)
{
    const struct variable_list *known = &import->variables;

    if (t->result != NULL || coupon_list_has(&import->coupons, KEY_BEND_ANGLE))
        return 0;
    for (size_t i = known->count; i-- > 0;) {
        const struct variable *v = &known->items[i];

        if (v->role == ROLE_RESULT && v->kind == VARIABLE_NUMBER &&
            coupon_list_has(&import->coupons, v->key))
            mem_replace(&t->result, v->key);
    }
    return t->result == NULL ? 0 : trial_save(s->book, t, e);
}

/* A table without any result cannot be ranked; say so while the file is at hand. */
static void ask_for_result(const struct import *import, struct import_outcome *outcome)
{
    for (size_t i = 0; i < import->coupons.count; i++)
        for (size_t j = 0; j < import->coupons.items[i].value_count; j++) {
            const char *key = import->coupons.items[i].values[j].variable;
            const struct variable *v = variable_find(&import->variables, key);

            if (v != NULL && v->role == ROLE_RESULT)
                return;
        }
    if (import->coupons.count > 0)
        page_add(&outcome->rows, BLOCK_ITEM,
                 "no column is a result, so nothing can be ranked by it; if one is, bring the "
                 "file into another trial with --result NAME");
}

static int save_own_variables(struct session *s, const struct import *import, struct error *e)
{
    for (size_t i = import->own_from; i < import->variables.count; i++)
        if (own_variable_save(s->book, &import->variables.items[i], e) < 0)
            return -1;
    return 0;
}

/* What the book says against a coupon, in the manner of a rejected row; the book's own path would
 * only repeat what the user typed. */
static void tell_refused(const struct session *s, const struct import *import, size_t i,
                         const char *why, struct import_outcome *outcome)
{
    const char *path = book_path(s->book);
    size_t length = strlen(path);

    if (strncmp(why, path, length) == 0 && strncmp(why + length, ": ", 2) == 0)
        why += length + 2;
    tell_fault(outcome, import->lines[i], NULL, why);
    outcome->rejected++;
}

static int save_coupons(struct session *s, const struct import_request *r, struct import *import,
                        const struct trial *t, struct import_outcome *outcome, struct error *e)
{
    for (size_t i = 0; i < import->coupons.count; i++) {
        struct coupon *c = &import->coupons.items[i];
        struct error why = {0};

        memcpy(c->trial, t->id, sizeof c->trial);
        if (r->progress != NULL)
            r->progress(r->context, (double)i / (double)import->coupons.count);
        if (coupon_save(s->book, c, &why) == 0) {
            outcome->coupons++;
        } else if (why.kind == ERROR_INPUT) {
            tell_refused(s, import, i, why.text, outcome);
        } else {
            if (e != NULL)
                *e = why;
            return -1;
        }
    }
    return 0;
}

/* Bad rows, of the table or for the book, are an error unless they are to be skipped and others
 * are left. */
static int judge_rows(const struct import_request *r, size_t good, size_t bad, struct error *e)
{
    const char *rows = bad == 1 ? "" : "s";

    if (bad == 0)
        return 0;
    if (!r->skip_bad)
        return error_set(e, ERROR_INPUT,
                         "%s: %zu row%s cannot be taken, so nothing was brought in; mend them, or "
                         "give --skip-bad to bring in the others",
                         r->name, bad, rows);
    if (good == 0)
        return error_set(e, ERROR_INPUT, "%s: none of its %zu row%s can be taken", r->name, bad,
                         rows);
    return 0;
}

static void name_change(struct session *s, const struct import_request *r)
{
    char *what = mem_format("import from %s", r->name);

    journal_name(s->book, what);
    free(what);
}

static int save(struct session *s, const struct import_request *r, struct import *import,
                struct import_outcome *outcome, struct error *e)
{
    struct trial t;
    int rc;

    name_change(s, r);
    if (task_trial_to_fill(s, r->trial, &t, e) < 0)
        return -1;
    rc = save_own_variables(s, import, e);
    if (rc == 0)
        rc = choose_result(s, import, &t, e);
    if (rc == 0)
        rc = save_coupons(s, r, import, &t, outcome, e);
    if (rc == 0)
        rc = judge_rows(r, outcome->coupons, outcome->rejected, e);
    if (rc == 0)
        rc = setting_set(s->book, "last_trial", t.id, e);
    trial_free(&t);
    return rc;
}

static void learn_own_variables(struct session *s, const struct import *import)
{
    for (size_t i = import->own_from; i < import->variables.count; i++)
        variable_add(&s->variables, &import->variables.items[i], NULL);
}

int task_import(struct session *s, const struct import_request *r, struct import_outcome *outcome,
                struct error *e)
{
    struct import import = {0};
    int rc = read_table(s, r, &import, e);

    if (rc < 0)
        return rc;
    tell_rejects(&import, outcome);
    rc = judge_rows(r, import.coupons.count, import.rows_rejected, e);
    if (rc == 0)
        rc = r->skip_bad ? book_begin(s->book, e) : book_begin_whole(s->book, e);
    if (rc == 0) {
        rc = save(s, r, &import, outcome, e);
        if (rc == 0)
            rc = book_commit(s->book, e);
        else
            book_rollback(s->book);
    }
    if (rc == 0)
        learn_own_variables(s, &import);
    tell_notes(&import, rc == 0, outcome);
    ask_for_result(&import, outcome);
    import_free(&import);
    return rc;
}
