/*
 * A value as it was seen. A coupon folded to the stop unbroken gives "at least 135°", never 135°;
 * keeping that in the value itself means that the book, the import, the ranking and the screens all
 * treat it the same way.
 */
#ifndef MODEL_MEASURE_H
#define MODEL_MEASURE_H

#include <stdbool.h>

enum measure_kind {
    MEASURE_MISSING,
    MEASURE_EXACT,    /* low == high */
    MEASURE_AT_LEAST, /* low is the limit, high is +infinity */
    MEASURE_AT_MOST,  /* high is the limit, low is -infinity */
    MEASURE_BETWEEN,  /* low < high */
};

struct measure {
    enum measure_kind kind;
    double low, high; /* in the base unit of the variable; both NAN when missing */
};

/* A NAN, or a limit that is infinite, gives a missing measure. */
struct measure measure_missing(void);
struct measure measure_exact(double value);
struct measure measure_at_least(double limit);
struct measure measure_at_most(double limit);
struct measure measure_between(double low, double high); /* in either order; exact when equal */

bool measure_known(struct measure m); /* not missing */
bool measure_held(struct measure m);  /* at least */
bool measure_same(struct measure a, struct measure b);
/* A single number to plot or sort by: the value, the limit, the middle; NAN when missing. */
double measure_point(struct measure m);

/* The words the book stores: "exact", "at_least", "at_most", "between"; NULL when missing. */
const char *measure_kind_code(enum measure_kind kind);
bool measure_kind_from_code(const char *code, enum measure_kind *out); /* false: no such word */

#endif
