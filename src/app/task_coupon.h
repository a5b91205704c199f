/*
 * Coupons as both front ends use them: looked up, logged, changed, struck out and taken back.
 *
 * Errors are those of store/coupons.h and app/task_trial.h, and what is said below. Every coupon
 * handed out is the caller's to free with coupon_free(), and empty after an error.
 */
#ifndef APP_TASK_COUPON_H
#define APP_TASK_COUPON_H

#include <stdbool.h>

#include "app/session.h"
#include "base/error.h"
#include "model/coupon.h"
#include "model/trial.h"

/* Of the trial, or (NULL) of the whole book, in the order they were stored. The caller frees *out
 * with coupon_list_free(). */
int task_coupons(struct session *s, const struct trial *t, bool with_struck,
                 struct coupon_list *out, struct error *e);
/* The same as coupons_load_figures() reads them. */
int task_coupon_figures(struct session *s, const struct trial *t, bool with_struck,
                        struct coupon_list *out, struct error *e);
/* By mark: of the trial logged into last, else of the only trial that has it; "TRIAL/MARK" says
 * which. ERROR_INPUT when there is none, or several trials have it. */
int task_coupon(struct session *s, const char *mark, struct coupon *out, struct error *e);
/* As it is now; ERROR_INPUT when the book has no coupon of this number (`sequence`). */
int task_coupon_by_number(struct session *s, long number, struct coupon *out, struct error *e);
/* The coupon in use welded before it in its trial; of one not stored yet, the last. 1, or 0 when
 * there is none (*out is then empty), or -1. */
int task_coupon_before(struct session *s, const struct coupon *c, struct coupon *out,
                       struct error *e);

/* A coupon set up like the last one of the trial, now, with the mark that is free at present. */
int task_coupon_new(struct session *s, const struct trial *t, struct coupon *out, struct error *e);
/* In a transaction of its own; its trial is the one logged into last from then on. */
int task_coupon_save(struct session *s, struct coupon *c, struct error *e);
/* ERROR_USAGE without a reason (NULL or ""), ERROR_INPUT when it is struck out already. */
int task_coupon_strike(struct session *s, const struct coupon *c, const char *why, struct error *e);
/* Takes it back; ERROR_INPUT when it is not struck out or its mark was given away meanwhile. */
int task_coupon_restore(struct session *s, const struct coupon *c, struct error *e);
/* Attaches a photograph to a coupon that is not saved yet: its whole path, and the SHA-256 of what
 * the file holds now. ERROR_SYSTEM when it cannot be read. */
int task_coupon_add_photo(struct coupon *c, const char *path, struct error *e);

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

#endif
