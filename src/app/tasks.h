/*
 * What both front ends do with a book: look up, log, change, strike out, bring in and hand out.
 * Everything returned is the caller's. A trial is named as the user names it; NULL means the trial
 * that was logged into last.
 */
#ifndef APP_TASKS_H
#define APP_TASKS_H

#include <stdbool.h>
#include <stdio.h>

#include "app/page.h"
#include "app/session.h"
#include "base/error.h"
#include "model/coupon.h"
#include "model/trial.h"

/* trials */
int task_trials(struct session *s, struct trial_list *out, struct error *e);
int task_trial(struct session *s, const char *name, struct trial *out, struct error *e);
/* Where coupons go: the trial of that name, made when there is none; for NULL the last one, or in a
 * book without any a first one. Inside a transaction, so that no other program makes it meanwhile.
 */
int task_trial_to_fill(struct session *s, const char *name, struct trial *out, struct error *e);
int task_trial_save(struct session *s, struct trial *t, struct error *e);
/* The variable whose result decides the trial; `named` (may be NULL) overrides. */
const struct variable *task_result(const struct session *s, const struct trial *t,
                                   const char *named, struct error *e);

/* coupons */
int task_coupons(struct session *s, const struct trial *t, bool with_struck,
                 struct coupon_list *out, struct error *e);
/* By mark: of the trial logged into last, else of the only trial that has it; "TRIAL/MARK" says
 * which. */
int task_coupon(struct session *s, const char *mark, struct coupon *out, struct error *e);
/* The coupon with this id as it is now. */
int task_coupon_again(struct session *s, const char *id, struct coupon *out, struct error *e);
/* The coupon in use welded before it in its trial; of one not stored yet, the last. 1, or 0 when
 * there is none (`out` is then empty), or -1. */
int task_coupon_before(struct session *s, const struct coupon *c, struct coupon *out,
                       struct error *e);
/* A coupon set up like the last one of the trial, now, with the mark that is free at present. */
int task_new_coupon(struct session *s, const struct trial *t, struct coupon *out, struct error *e);
int task_save_coupon(struct session *s, struct coupon *c, struct error *e);

/*
 * A coupon being logged: all of it in one transaction, so that until task_log_end() no other
 * program comes between the last coupon, the next mark and the saving.
 */
struct logging {
    struct trial trial;
    struct coupon last;   /* the one before it in the trial, when has_last */
    struct coupon coupon; /* the caller fills it in; without a mark it gets the next at saving */
    bool has_last;
};
/* Into the trial of that name (as task_trial_to_fill()); set up like the last coupon unless
 * `fresh`. task_log_end() is called also when this fails. */
int task_log_begin(struct session *s, const char *trial, bool fresh, struct logging *out,
                   struct error *e);
int task_log_save(struct session *s, struct logging *l, struct error *e);
/* Undoes what was not saved, a trial that was made for it too, and frees. */
void task_log_end(struct session *s, struct logging *l);

int task_strike(struct session *s, const struct coupon *c, const char *why, struct error *e);
int task_restore(struct session *s, const struct coupon *c, struct error *e);
/* Makes one of the user's own variables and keeps it in the book. */
int task_add_variable(struct session *s, const struct variable *own, struct error *e);
/* Attaches a photograph: path and SHA-256 of what it holds now. */
int task_attach_photo(struct coupon *c, const char *path, struct error *e);

/* The result as words: "at least 135°", "broke at 48°", "not bent yet". */
void coupon_result(const struct session *s, const struct coupon *c, const struct variable *result,
                   char *out, size_t size);
/* Questions a welder would ask of this coupon: a single-pass wire with two passes, more than one
 * change since the last. Each as BLOCK_ITEM. */
void coupon_questions(const struct session *s, const struct coupon *c, const struct coupon *last,
                      struct page *p);

/* pages */
int task_list_page(struct session *s, const struct trial *t, bool with_struck, struct page *p,
                   struct error *e);
void coupon_page(const struct session *s, const struct coupon *c, struct page *p);
void trial_page(struct session *s, const struct trial *t, struct page *p);
int task_trials_page(struct session *s, struct page *p, struct error *e);
void variables_page(const struct session *s, struct page *p);

/* files */
struct import_request {
    const char *trial;
    const char *const *results; /* names of columns that are results; count below */
    size_t result_count;
    bool skip_bad;
    FILE *in;
    const char *name; /* of the file, for messages */
};
struct import_outcome {
    size_t coupons, rejected;
    struct page notes, rows; /* for stderr, in this order */
    size_t faults;           /* of rejected rows; `rows` has the first */
};
/* All or nothing unless skip_bad. `outcome` is filled also when it fails. */
int task_import(struct session *s, const struct import_request *r, struct import_outcome *outcome,
                struct error *e);
/* The coupons of a trial as text for other programs; the caller frees *out and
 * *remark, which is NULL or one line about the CSV for stderr. */
enum export_format { EXPORT_CSV, EXPORT_JSON };
int task_export(struct session *s, const struct trial *t, enum export_format format,
                bool with_struck, char **out, char **remark, struct error *e);
/* One coupon with everything noted about it: {"schema":1,"coupons":[{…}]}. Caller frees. */
char *coupon_json(const struct session *s, const struct coupon *c);
/* A whole copy of the book in a new file, also while others write. */
int task_backup(struct session *s, const char *to, struct error *e);
/* Integrity, and what does not fit together; one BLOCK_ITEM each. Returns how many, or -1. */
int task_check(struct session *s, struct page *p, struct error *e);

#endif
