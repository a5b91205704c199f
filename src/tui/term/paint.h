/*
 * Painting in cells. All text goes through here: it is cut to the cells it is given, and on a
 * terminal without UTF-8 the few signs the program uses are written out in ASCII.
 *
 * Painting never changes what is shown, only the canvas: the screen and the place of the cursor.
 */
#ifndef TUI_TERM_PAINT_H
#define TUI_TERM_PAINT_H

#include <stdbool.h>
#include <stddef.h>

/* What a piece of text is; how that looks stands in one table in paint.c. */
enum tone {
    TONE_PLAIN,
    TONE_TITLE,
    TONE_HEADING,
    TONE_QUIET,   /* hints, units */
    TONE_DIFFERS, /* changed against the coupon before */
    TONE_CAUTION,
    TONE_REFUSED, /* an error */
    TONE_FOCUS,   /* where the cursor is */
    TONES
};

struct area {
    int y, x, rows, columns;
};

struct canvas {
    int rows, columns;
    bool colour, utf8;
    int cursor_y, cursor_x; /* where the cursor is parked when all is painted */
};

/* Tells curses the colours of the tones. Call once, after start_color(). */
void paint_define_colours(void);

/* An empty canvas as large as the terminal is now. */
struct canvas canvas_begin(bool colour, bool utf8);
/* Shows it. */
void canvas_end(const struct canvas *c);
struct area canvas_area(const struct canvas *c);

/* Text in at most `columns` cells from (y, x); what does not fit ends in "…". Returns the cells
 * used. Outside of the canvas nothing is painted. */
int paint_text(struct canvas *c, int y, int x, int columns, enum tone tone, const char *text);
/* The same, right-aligned. */
void paint_right(struct canvas *c, int y, int x, int columns, enum tone tone, const char *text);
/* Text broken at spaces over at most `rows` lines. Returns the lines used. */
int paint_wrapped(struct canvas *c, struct area a, enum tone tone, const char *text);
/* Lines paint_wrapped() would use with all the rows it wants. */
int paint_wrapped_rows(const char *text, int columns);
void paint_blank(struct canvas *c, struct area a, enum tone tone);
void paint_rule(struct canvas *c, int y, int x, int columns);
void paint_box(struct canvas *c, struct area a);
void paint_cursor(struct canvas *c, int y, int x);

#endif
