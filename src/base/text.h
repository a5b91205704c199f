/*
 * Text: a growing string, UTF-8 width in terminal cells, and numbers that look the same in every
 * locale (the program never sets LC_NUMERIC).
 */
#ifndef BASE_TEXT_H
#define BASE_TEXT_H

#include <stdbool.h>
#include <stddef.h>

/* A growing string. Start with `struct text t = {0};`, release with text_free(). `s` may be NULL
 * while nothing has been added; text_str() never is. */
struct text {
    char *s;
    size_t length, capacity;
};

void text_add(struct text *t, const char *s);
void text_add_part(struct text *t, const char *s, size_t bytes);
void text_addf(struct text *t, const char *format, ...) __attribute__((format(printf, 2, 3)));
const char *text_str(const struct text *t);
char *text_steal(struct text *t); /* the caller owns the string; `t` is empty again */
void text_free(struct text *t);

/* As much of `s` as fits into `size` bytes with its end; sooner done than by snprintf(). */
void text_put(char *out, size_t size, const char *s);

/* Cells a UTF-8 string takes on a terminal; bytes that are not UTF-8 count one cell each. */
int text_width(const char *s);
/* Bytes of the longest start of `s` that takes at most `cells` cells. */
size_t text_fit(const char *s, int cells);
/* True when `s` is well-formed UTF-8 without control characters other than newline and tab. */
bool text_valid(const char *s);
/* Bytes of `s` up to the first one text_valid() would refuse, or up to its end. */
size_t text_valid_length(const char *s);
/* As it may be shown on a terminal: control characters (also U+007F to U+009F) and bytes that are
 * not UTF-8 become U+FFFD, of the same width. With `lines` line feeds and tabs stay, else white
 * space becomes spaces. Caller frees. */
char *text_shown(const char *s, bool lines);
/* Cuts white space (ASCII and no-break space) off both ends, in place; returns `s`. */
char *text_trim(char *s);
bool text_same(const char *a, const char *b); /* ASCII letters compared without case; NULL = "" */
bool text_starts(const char *s, const char *start);

/*
 * Reads a finite number at `s`: digits with an optional sign, point or decimal comma, exponent.
 * Sets *end (unless NULL) behind it. False, with nothing set, when there is none, when it is not
 * finite or takes 64 bytes or more. A comma is a decimal comma only when digits follow it.
 */
bool text_number(const char *s, const char **end, double *value);
/* Shortest text that reads back as the same double (at most 17 digits). */
void text_from_number(char *out, size_t size, double value);
/* At most `decimals` decimals, trailing zeros cut: 3.50 → "3.5"; never "-0". */
void text_from_rounded(char *out, size_t size, double value, int decimals); /* decimals >= 0 */
/* To `figures` figures that count, trailing zeros cut, whole numbers in full: 12345.6 → "12346". An
 * exponent only from 1e15 up and below 1e-9; "–" for what is no number. */
void text_from_figures(char *out, size_t size, double value, int figures);

#endif
