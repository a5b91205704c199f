/* Coupons from a table (CSV) into the book: all of them or none, unless bad rows are skipped. */
#ifndef APP_TASK_IMPORT_H
#define APP_TASK_IMPORT_H

#include <stdbool.h>
#include <stdio.h>

#include "app/session.h"
#include "base/error.h"
#include "page/page.h"

struct import_request {
    const char *trial;          /* as task_trial_to_fill() takes it */
    const char *const *results; /* names of columns that are results; count below */
    size_t result_count;
    bool skip_bad; /* rows that cannot be taken are left out, instead of all */
    FILE *in;
    const char *name;                             /* of the file, for messages */
    bool (*progress)(void *context, double done); /* told as the coupons are stored; may be NULL */
    void *context;
};

/* Zeroed before; the caller frees both pages. */
struct import_outcome {
    size_t coupons, rejected; /* coupons stored, rows left out */
    struct page notes, rows;  /* for stderr, in this order */
    size_t faults;            /* of rejected rows; `rows` has the first */
};

/*
 * ERROR_INPUT: the file is no table, or rows are bad and were not to be skipped, or none is good;
 * ERROR_SYSTEM from reading it or from the book. *outcome is filled in also when it fails; nothing
 * was stored then.
 */
int task_import(struct session *s, const struct import_request *r, struct import_outcome *outcome,
                struct error *e);

#endif
