/*
 * The program on a real pseudo-terminal, with libvterm as the terminal behind it. Nothing here
 * sleeps for a guessed time: every wait ends as soon as what is waited for is seen, or fails at a
 * deadline.
 */
#ifndef TESTS_TUI_TERMINAL_H
#define TESTS_TUI_TERMINAL_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

struct terminal; /* opaque */

struct setup {
    int columns, rows;
    const char *term;      /* TERM; NULL: xterm-256color */
    const char *book;      /* --book */
    const char *no_colour; /* NO_COLOR; NULL: not set */
    const char *locale;    /* LC_ALL; NULL: C.UTF-8 */
    const char *keys;      /* --keys; NULL: none */
    bool away;             /* not looked at from the start, see terminal_look_away() */
    bool ignore_hang_up;   /* as under nohup */
    const char *shell;     /* run by sh -c instead, "$0" is the program; NULL: the program itself */
};

/* Starts the program under test (COLDLAP names it). Ends the test when that cannot be done. */
struct terminal *terminal_start(const struct setup *setup);
/* Ends what still runs, and releases. */
void terminal_stop(struct terminal *t);
pid_t terminal_pid(const struct terminal *t);

/* Keys by name, separated by spaces: "Down Down Enter", single characters, "Ctrl-S". */
void terminal_press(struct terminal *t, const char *names);
void terminal_type(struct terminal *t, const char *text); /* bytes as they are */
void terminal_resize(struct terminal *t, int columns, int rows);
/*
 * What arrives is thrown away until terminal_look_again(), which gives the line its last size and
 * waits for all to be drawn anew. libvterm 0.1.4 writes beyond its memory when output made for a
 * large screen reaches a small one, so a storm of resizes is not for its eyes.
 */
void terminal_look_away(struct terminal *t);
void terminal_look_again(struct terminal *t, int columns, int rows);
void terminal_hang_up(struct terminal *t); /* closes the line, as a lost ssh does */

/* True as soon as the screen holds the text; false after the deadline. */
bool terminal_shows(struct terminal *t, const char *text);
bool terminal_hides(struct terminal *t, const char *text); /* as soon as it does not */
/* True as soon as the row the cursor is in holds the text. */
bool terminal_cursor_row_holds(struct terminal *t, const char *text);
/* Presses a key until the cursor's row holds the text; false when 60 times do not lead there. */
bool terminal_walks_to(struct terminal *t, const char *key, const char *text);
/* The screen as text, spaces at the ends of rows cut, then "cursor ROW COLUMN"; caller frees. */
char *terminal_text(struct terminal *t);
/* Counts of cells, as they are now, that are in a colour, in reverse, bold. */
struct looks {
    int coloured, reverse, bold;
};
struct looks terminal_looks(const struct terminal *t);
bool terminal_reverse_at_cursor(const struct terminal *t);
bool terminal_alternate(const struct terminal *t); /* the alternate screen is on */
bool terminal_cursor_visible(const struct terminal *t);
bool terminal_brackets_paste(const struct terminal *t); /* a paste would be marked as one */
/* True when the line was given back in the modes it had at the start (echo, canonical, …). */
bool terminal_modes_restored(const struct terminal *t);

/* True as soon as the screen is as in golden/NAME; false after the deadline, with both printed.
 * COLDLAP_WRITE_GOLDEN=1 writes the file instead, once the program has been quiet for a while. */
bool terminal_matches(struct terminal *t, const char *name);

/* Waits for the end. The exit code, 128 and the number of a signal that killed it, -1 when it still
 * runs at the deadline. */
int terminal_end(struct terminal *t);
/* The signal that killed it; 0 when it ended by itself or still runs. */
int terminal_signal(const struct terminal *t);

#endif
