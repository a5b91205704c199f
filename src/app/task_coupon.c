#include "app/task_coupon.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/task_trial.h"
#include "base/digest.h"
#include "base/mem.h"
#include "store/coupons.h"
#include "store/journal.h"
#include "store/settings.h"

int task_coupons(struct session *s, const struct trial *t, bool with_struck,
                 struct coupon_list *out, struct error *e)
{
    memset(out, 0, sizeof *out);
    return coupons_load(s->book, t == NULL ? NULL : t->id, with_struck, out, e);
}

int task_coupon_figures(struct session *s, const struct trial *t, bool with_struck,
                        struct coupon_list *out, struct error *e)
{
    memset(out, 0, sizeof *out);
    return coupons_load_figures(s->book, t == NULL ? NULL : t->id, with_struck, out, e);
}

/* "TRIAL/MARK": a mark may hold a slash itself, so the last one parts them. */
static int load_named(struct session *s, const char *name, struct coupon *out, struct error *e)
{
    const char *slash = strrchr(name, '/');
    char *trial_name;
    struct trial trial;
    int rc;

    trial_name = mem_copy_part(name, (size_t)(slash - name));
    rc = task_trial(s, trial_name, &trial, e);
    free(trial_name);
    if (rc < 0)
        return rc;
    rc = coupon_load(s->book, trial.id, slash + 1, out, e);
    trial_free(&trial);
    return rc;
}

int task_coupon(struct session *s, const char *mark, struct coupon *out, struct error *e)
{
    struct trial last;
    struct error none;
    int rc = -1;

    if (task_trial(s, NULL, &last, NULL) == 0) {
        rc = coupon_load(s->book, last.id, mark, out, NULL);
        trial_free(&last);
    }
    if (rc < 0 && strchr(mark, '/') != NULL)
        rc = load_named(s, mark, out, &none);
    return rc == 0 ? 0 : coupon_load(s->book, NULL, mark, out, e);
}

int task_coupon_by_number(struct session *s, long number, struct coupon *out, struct error *e)
{
    return coupon_load_number(s->book, number, out, e);
}

int task_coupon_before(struct session *s, const struct coupon *c, struct coupon *out,
                       struct error *e)
{
    return coupon_load_before(s->book, c, out, e);
}

/* A coupon without a mark yet, set up like the last one, which is loaded: 1, or 0 for the first. */
static int set_up(struct session *s, const struct trial *t, bool fresh, struct coupon *out,
                  struct coupon *last, struct error *e)
{
    int got;

    coupon_init(out);
    snprintf(out->trial, sizeof out->trial, "%s", t->id);
    got = coupon_load_before(s->book, out, last, e);
    if (got > 0 && !fresh)
        coupon_set_up_like(out, last, &s->variables);
    if (out->who == NULL)
        out->who = mem_copy(s->who);
    out->when = clock_now();
    return got;
}

int task_coupon_new(struct session *s, const struct trial *t, struct coupon *out, struct error *e)
{
    struct coupon last;
    char mark[MARK_SIZE];
    int rc = set_up(s, t, false, out, &last, e) < 0 ||
                     coupon_next_mark(s->book, mark, sizeof mark, e) < 0
                 ? -1
                 : 0;

    coupon_free(&last);
    if (rc == 0)
        out->mark = mem_copy(mark);
    else
        coupon_free(out);
    return rc;
}

static int store(struct session *s, struct coupon *c, struct error *e)
{
    if (coupon_save(s->book, c, e) < 0 || setting_set(s->book, "last_trial", c->trial, e) < 0) {
        book_rollback(s->book);
        return -1;
    }
    return book_commit(s->book, e);
}

int task_coupon_save(struct session *s, struct coupon *c, struct error *e)
{
    if (book_begin(s->book, e) < 0)
        return -1;
    journal_name(s->book, c->id[0] == '\0' ? "log" : "change");
    return store(s, c, e);
}

int task_log_begin(struct session *s, const char *trial, bool fresh, struct logging *out,
                   struct error *e)
{
    int got;

    memset(out, 0, sizeof *out);
    if (book_begin(s->book, e) < 0)
        return -1;
    journal_name(s->book, "log");
    if (task_trial_to_fill(s, trial, &out->trial, e) < 0)
        return -1;
    got = set_up(s, &out->trial, fresh, &out->coupon, &out->last, e);
    out->has_last = got > 0;
    return got < 0 ? -1 : 0;
}

int task_log_save(struct session *s, struct logging *l, struct error *e)
{
    return store(s, &l->coupon, e);
}

void task_log_end(struct session *s, struct logging *l)
{
    book_rollback(s->book);
    trial_free(&l->trial);
    coupon_free(&l->last);
    coupon_free(&l->coupon);
}

int task_coupon_strike(struct session *s, const struct coupon *c, const char *why, struct error *e)
{
    if (why == NULL || *why == '\0')
        return error_set(e, ERROR_USAGE, "coupon %s: say why it is struck out; the reason is kept",
                         c->mark);
    journal_name(s->book, "strike");
    return coupon_strike(s->book, c, why, e);
}

int task_coupon_restore(struct session *s, const struct coupon *c, struct error *e)
{
    journal_name(s->book, "restore");
    return coupon_restore(s->book, c, e);
}

int task_coupon_add_photo(struct coupon *c, const char *path, struct error *e)
{
    char digest[DIGEST_SIZE];
    struct photo *photo;
    char *whole;

    if (digest_file(path, digest, e) < 0)
        return -1;
    whole = realpath(path, NULL);
    photo = coupon_add_photo(c);
    photo->path = whole == NULL ? mem_copy(path) : whole;
    photo->sha256 = mem_copy(digest);
    return 0;
}
