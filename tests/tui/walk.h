/*
 * A walk: what was typed so far, and what should be in the book because of it. What is typed is
 * made from the tables, so that a new variable and a new row of a part are walked over as well.
 */
#ifndef TESTS_TUI_WALK_H
#define TESTS_TUI_WALK_H

#include <stdbool.h>
#include <stddef.h>

#include "base/text.h"
#include "model/part.h"
#include "model/variable.h"

enum { WORDS = 256, ROWS = 16, VARIABLES = 96, WALK_PARTS = 4, COUPONS = 6 };

struct rows {
    char is[ROWS][WORDS]; /* as part_write() gives it; "" for nothing */
};

struct expected {
    char value[VARIABLES][WORDS]; /* "KIND LOW HIGH ENTRY", or the word; "" for nothing */
    struct rows coupon, bend, face, note, pass[WALK_PARTS], flaw[WALK_PARTS];
    size_t passes, flaws, photos;
};

struct walk {
    struct expected coupons[COUPONS]; /* in the order they were made */
    size_t count;
    struct variable_list variables; /* with the user's own */
    struct text said;               /* the step, as it was typed */
    int steps;
    unsigned long long seed, state;
};

extern struct walk walk;
extern const char *const walk_book;

size_t roll(size_t sides); /* 0 … sides - 1 */
/* Most of what is typed is right, so that most commands are taken. */
bool slip(void);

size_t row_count(const struct part_row *table);
bool holds_whole(const struct part_row *row);
void clear_rows(const struct part_row *table, struct rows *rows);
/* What a row holds, by its key. */
const char *held(const struct part_row *table, const struct rows *rows, const char *key);
/* One of the first `flaws` ends before it begins or behind the face. */
bool face_contradicts(const struct expected *x, size_t flaws);
/* Ends the test unless it holds; the step is told beside the message, which has to be short. */
void hold(bool holds, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Everything in the book is as it should be. */
void same_book(void);
/* Every variable and every row of the parts was typed at least once. */
bool all_typed(void);

/* What is typed for a variable or a row, and what is there when it is taken. */
struct entry {
    char text[WORDS], is[WORDS];
    enum { USUAL, UNUSUAL, REFUSED } verdict;
};

struct entry number_entry(const struct variable *v);
struct entry flaw_entry(void);
struct entry value_entry(const struct variable *v);
struct entry row_entry(const struct part_row *row);

/* What a new coupon starts from: the causes of the last one. */
struct expected like_last(void);
/* One step each; `at` says which coupon, for the card also one more than there are. */
void walk_log(void);
void walk_change(size_t at);
void walk_card(size_t at);
/* A command that is taken as it stands. */
void walk_make(const char *what, const char *name, const char *as);

#endif
