/*
 * An open book with what goes with it: the variable table with the user's own rows, and the units
 * numbers are shown in. Passed to every task instead of globals.
 */
#ifndef APP_SESSION_H
#define APP_SESSION_H

#include "base/error.h"
#include "model/units.h"
#include "model/variable.h"
#include "store/book.h"

struct session {
    struct book *book;
    struct variable_list variables;
    enum unit_system units;
    char *who; /* of the last coupon logged; may be NULL */
};

/* The path of the book named, or of COLDLAP_BOOK, or of the default in the XDG data directory, or
 * in HOME when that is not set (ERROR_SYSTEM without either). The caller frees *out. */
int session_choose_book(const char *named, char **out, struct error *e);
/* Opens the book named, or COLDLAP_BOOK, or the default in the XDG data directory, or in HOME when
 * that is not set (ERROR_SYSTEM without either). Changes are signed with the bench (COLDLAP_BENCH,
 * else the name of the machine) and the user. The session is zeroed when this fails. */
int session_open(struct session *s, const char *named, enum book_mode mode, struct error *e);
void session_close(struct session *s);

const char *session_book_name(const struct session *s); /* the path it was opened by */
/* Why nothing can be stored in the book, as in "the file can only be read"; NULL: it can. */
const char *session_read_only(const struct session *s);
/* The line that says that the book was moved, removed or replaced since it was opened; false: it
 * was not. */
bool session_moved(const struct session *s, struct error *e);
/* While the user is waited for: the book can then be copied and moved as one file (book_rest()). */
void session_rest(struct session *s);
/* A number that changes when another program has changed the book. */
long session_changes(const struct session *s);

/* Units are a way of showing: switching changes no stored value. The choice is kept in the book;
 * where that fails (as setting_set() does) the units stay. */
int session_set_units(struct session *s, enum unit_system units, struct error *e);
const char *units_name(enum unit_system units); /* "metric", "inch" */
/* Letters compared without case; ERROR_USAGE when it is neither. */
int units_parse(const char *text, enum unit_system *out, struct error *e);

#endif
