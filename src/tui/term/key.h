/*
 * Keys: one table gives every key its name, its curses code and, where a numeric keypad sends a
 * sequence of its own, that sequence. Scripts, hints and the actions table use the names.
 */
#ifndef TUI_TERM_KEY_H
#define TUI_TERM_KEY_H

#include <stdbool.h>
#include <stddef.h>
#include <wchar.h>

enum key_code {
    PRESS_NONE,
    PRESS_CHAR,    /* `ch` is the character */
    PRESS_CONTROL, /* `ch` is the letter held with Ctrl, lower case */
    PRESS_PASTE,   /* `text` is what was pasted, UTF-8, valid until the next key is read */
    PRESS_ENTER,
    PRESS_ESC,
    PRESS_TAB,
    PRESS_BACK_TAB,
    PRESS_BACKSPACE,
    PRESS_DELETE,
    PRESS_UP,
    PRESS_DOWN,
    PRESS_LEFT,
    PRESS_RIGHT,
    PRESS_HOME,
    PRESS_END,
    PRESS_PAGE_UP,
    PRESS_PAGE_DOWN,
    PRESS_TICK, /* nothing was pressed for a while: time to look at the book again */
    PRESS_GONE, /* the terminal or the program is ending: put things down and return */
};

struct key {
    enum key_code code;
    wchar_t ch;
    const char *text;
};

/* Tells curses about the sequences it does not know. Call after the terminal is started. */
void key_define_sequences(void);
/* What get_wch() gave: `is_code` for a function key. PRESS_NONE for one without a use. */
struct key key_from_curses(wint_t code, bool is_code);
/* True for the code that begins (and, with `end`, ends) a paste. */
bool key_is_paste(wint_t code, bool end);

/* "Up", "Enter", "Ctrl-S", or one character. False when `name` is none of them. */
bool key_parse(const char *name, struct key *out);
/* The name of a key, as key_parse() reads it; "" for keys nobody presses. */
void key_word(struct key k, char *out, size_t size);

#endif
