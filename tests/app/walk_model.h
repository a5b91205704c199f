/*
 * A plain model of a book with a history: what each coupon and trial says, and of each change the
 * states that are not in the book. An operation is done in the model first, which says whether the
 * book has to take it.
 */
#ifndef TESTS_APP_WALK_MODEL_H
#define TESTS_APP_WALK_MODEL_H

#include <stdbool.h>

#include "app/walk.h"

enum {
    STEPS_A_BOOK = 250,
    NAMES = 5,  /* of trials */
    MARKS = 12, /* so that they meet */
    MOST_COUPONS = 400,
    MOST_TRIALS = 60,
    MOST_CHANGES = STEPS_A_BOOK + 1,
    MOST_TOUCHED = 200,
    BENCHES = 2,
};

/* A number of a coupon in the model is its number in the book. Struck: why, else 0. */
struct coupon_state {
    int there, trial, mark, volts, note, struck;
    int typed; /* imported: the numbers are kept as they were written, too */
};
struct trial_state {
    int there, name, note, struck; /* note 0: no question */
};
struct world {
    struct coupon_state coupons[MOST_COUPONS];
    struct trial_state trials[MOST_TRIALS];
    int units; /* 0: not set; else 1 + OP_UNITS' note */
};
/* What a change touched, with the states that are not in the book. */
struct done {
    struct world other;
    bool coupons[MOST_COUPONS], trials[MOST_TRIALS], units;
    struct world base; /* of one that was undone: what it went back to */
    bool undone;
    int bench, undone_by;
    long undone_order;
    const char *what;
};

/* The state of the model; one walk at a time. `changes` is made by the walk, by number. */
extern struct world now;
extern struct done *changes;
extern long change_count;
extern int last_coupon, last_trial;
extern bool made_trial; /* by the operation that was done last */
extern int bench_of_op; /* by whom it is done */

/* False when it is refused, and nothing is changed then. */
bool walk_model_do(const struct op *op);
/* Undoing or redoing: the number of the change, 0 when it is refused. */
long walk_model_go(const struct op *op);
/* Makes what was done a change of the history; `before` is the state before it. */
void walk_model_record(const struct op *op, const struct world *before);

#endif
