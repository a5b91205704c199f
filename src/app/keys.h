/*
 * What the keys do on the screens, as data. Hint lines, the page about the keys and the manual are
 * derived from this table; the screens look keys up here and switch over the action.
 */
#ifndef APP_KEYS_H
#define APP_KEYS_H

#include <stdbool.h>
#include <stddef.h>

/* Where a key has its meaning; a set of bits. */
enum key_context {
    CONTEXT_RACK = 1, /* the coupons of a trial */
    CONTEXT_CARD = 2, /* one coupon */
    CONTEXT_RANKING = 4,
    CONTEXT_PART = 8,  /* a pass or a flaw */
    CONTEXT_PAGE = 16, /* a page to read */
    CONTEXT_SCREENS = CONTEXT_RACK | CONTEXT_CARD | CONTEXT_RANKING,
};

enum action {
    ACTION_NONE,    /* nothing, or what lists, forms and lines do with their own keys */
    ACTION_REFUSED, /* it would have written, and the book can only be read: that has been said */
    ACTION_OPEN,
    ACTION_NEW,
    ACTION_RANKING,
    ACTION_SAVE,
    ACTION_PASS,
    ACTION_FLAW,
    ACTION_PHOTO,
    ACTION_REMOVE,
    ACTION_RESULT,
    ACTION_TRIALS,
    ACTION_FIND,
    ACTION_SHOW_ALL,
    ACTION_STRIKE,
    ACTION_STRUCK,
    ACTION_UNITS,
    ACTION_KEYS,
    ACTION_LEAVE,
};

struct key_row {
    int contexts;        /* enum key_context */
    const char *key;     /* "n", "Enter", "Esc"; of ACTION_NONE also several: "Up, Down" */
    const char *hint;    /* in a hint line: "new coupon"; NULL: not shown there */
    const char *summary; /* one line, no full stop; NULL: hint only */
    enum action action;
    bool writes; /* not while the book can only be read */
};

const struct key_row *key_row_at(size_t i); /* NULL behind the last */
/* The row of the action a key has in one context; NULL when it has none. */
const struct key_row *key_row_find(const char *key, enum key_context context);

#endif
