/*
 * The rack: the coupons of a trial as rows. Only those around the focus are known, by their
 * numbers, and only those on the screen are read; so it does not matter how many there are.
 */
#ifndef TUI_SCREEN_RACK_LIST_H
#define TUI_SCREEN_RACK_LIST_H

#include <stdbool.h>

#include "app/coupon_view.h"
#include "app/list_row.h"
#include "model/trial.h"
#include "tui/widget/layers.h"
#include "tui/widget/list.h"

struct rack {
    struct ui *ui;
    struct trial trial;
    bool has_trial;
    bool with_struck;
    struct coupon_view view;
    long focus;            /* number of the coupon with the focus, or that would have it */
    int lines;             /* for rows on the screen, at least 1 */
    size_t line;           /* of them, where the focus is, filter or not */
    struct list_row *rows; /* around the focus, far enough for any key */
    struct list list;      /* of these */
    long seen;             /* change counter of the book when it was read */
};

/* Reads the book anew; the focus stays on the same coupon. `trial` is a name; NULL: the trial shown
 * before, else the one logged into last. Another trial is shown from its end. An empty book has no
 * trial and no rows. -1 with the error of the store when the book cannot be read, ERROR_INPUT for
 * an unknown name, the rows being those shown before then; and as task_trial_result(), without
 * rows. */
int rack_load(struct rack *r, const char *trial, struct error *e);
void rack_free(struct rack *r);
/* Goes on counting the coupons and looking for letters, for a moment. 1: there is more to do, 0:
 * there is not; -1 as for rack_load(), and no more is done. */
int rack_work(struct rack *r, struct error *e);
/* Shows only rows that hold these letters; NULL or "" shows all. Returns what rack_work() does,
 * which is all that is done when they are the letters from before. */
int rack_find(struct rack *r, const char *letters, struct error *e);
/* Puts the focus on the coupon with this number, or the nearest that is shown; 0: stays. */
int rack_focus(struct rack *r, long number, struct error *e);
/* Moves by a key of a list; others do nothing. -1 as for rack_load(). */
int rack_key(struct rack *r, struct key k, struct error *e);
/* NULL when there are no rows, or it is not read. Valid until the next call. */
const struct list_row *rack_focused(const struct rack *r);
/* Reads what is to be drawn on this many lines, and not read yet. */
int rack_prepare(struct rack *r, int lines, struct error *e);
void rack_draw(struct canvas *c, struct area body, const struct rack *r);

#endif
