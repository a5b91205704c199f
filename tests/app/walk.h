/*
 * What a walk through the history does, so that either of two processes can do it: an operation
 * says everything, and its outcome is all that comes back.
 */
#ifndef TESTS_APP_WALK_H
#define TESTS_APP_WALK_H

#include "app/session.h"

enum op_kind {
    OP_LOG,
    OP_IMPORT,
    OP_CHANGE,
    OP_MOVE,
    OP_STRIKE,
    OP_RESTORE,
    OP_QUESTION, /* of a trial, which is made when there is none of its name */
    OP_RENAME,
    OP_STRIKE_TRIAL,
    OP_RESTORE_TRIAL,
    OP_UNITS,
    OP_UNDO,
    OP_REDO,
    OP_KINDS,
    OP_REOPEN = OP_KINDS, /* close the book and open it again */
    OP_OPEN,              /* another book */
    OP_END,
};

enum { IMPORTED = 3 };

/* Trials and marks are small numbers; t3, m07. */
struct op {
    enum op_kind kind;
    long number; /* of the coupon, or of the change */
    int trial, to;
    int mark; /* of an import: the first of IMPORTED */
    int volts, note;
    int why;
    char path[64];
};

struct outcome {
    int rc;
    long number; /* of the coupon logged, or the change gone over */
    struct error error;
};

struct outcome walk_do(struct session *s, const struct op *op);

#endif
