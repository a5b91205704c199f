/* A folder for one test, a coupon that has everything, and looks at files and rows from outside. */
#ifndef TESTS_STORE_SCRATCH_H
#define TESTS_STORE_SCRATCH_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/coupon.h"
#include "store/book.h"

struct scratch {
    char dir[64];
    char book[128]; /* DIR/b.coldlap; not made yet */
    char *names[16];
    size_t name_count;
};

void scratch_make(struct scratch *s);
void scratch_remove(struct scratch *s);
/* DIR/NAME; lives until scratch_remove(). */
const char *scratch_file(struct scratch *s, const char *name);

void scratch_book(struct scratch *s, int coupons); /* makes the book with so many of them */
struct book *scratch_open(const char *path, enum book_mode mode); /* or the test fails */
/* Expects a refusal whose line has `words` in it, on one line. */
void scratch_refused(const char *path, enum book_mode mode, const char *words);

int scratch_save(struct book *book, struct error *e); /* a new one, filled */
/* Nothing is damaged, and every coupon is a filled one with all its rows. */
void scratch_sound(const char *path);

struct coupon scratch_load(struct book *book, long number); /* by its number, or the test fails */
void scratch_units_are(struct book *book, const char *system); /* as set; NULL: not at all */

void scratch_coupon(struct coupon *c);                                    /* every field filled */
void scratch_same_coupon(const struct coupon *a, const struct coupon *b); /* all but head fields */

struct bytes {
    unsigned char *data;
    size_t size;
};
long scratch_size(const char *path); /* bytes of a file, -1 when there is none */
struct bytes scratch_read(const char *path);
void scratch_write(const char *path, const void *data, size_t size);
bool scratch_same_bytes(struct bytes a, struct bytes b); /* frees both */

/* One number, by a connection of its own, from the SQL given. */
long scratch_count(const char *path, const char *sql);
/* The same with one text; the caller frees it. */
char *scratch_text(const char *path, const char *sql);
/* Expects that text to be `expected`. */
void scratch_same_text(const char *path, const char *sql, const char *expected);
/* Runs SQL from outside, with none of the book's guards; returns SQLite's code. */
int scratch_sql(const char *path, const char *sql);

bool one_line(const struct error *e);

#endif
