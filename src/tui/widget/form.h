/*
 * A form: rows under headings, of which one has the focus and may be written into. The form holds
 * what is to be shown, never the data; the owner fills it and is told what was written; it
 * answers with form_accept() or form_refuse(), after which the typed text stays.
 *
 * Enter or a digit begins to write; Enter hands it over, Esc lets it be. Left and Right change a
 * choice. Tab goes to the next heading.
 */
#ifndef TUI_WIDGET_FORM_H
#define TUI_WIDGET_FORM_H

#include <stdbool.h>
#include <stddef.h>

#include "tui/widget/line.h"
#include "tui/widget/list.h"

enum field_kind {
    FIELD_HEADING,
    FIELD_VALUE,  /* can be written */
    FIELD_OPEN,   /* Enter opens it: a pass, a flaw, "add a pass" */
    FIELD_REMARK, /* only to be read */
};

struct field {
    enum field_kind kind;
    char *label;
    char *value;      /* as shown */
    char *start;      /* what writing starts with; NULL: the value */
    char *remark;     /* behind the value: "differs from 07: 3 mm"; NULL none */
    const char *unit; /* shown while writing; NULL none */
    char *choices;    /* separated by '|'; NULL none */
    const char *help; /* one line; NULL none */
    enum tone tone;   /* of the value */
    int part;         /* the owner's: what the field stands for, */
    size_t index;     /* and which of several */
};

struct form {
    struct field *items;
    size_t count, capacity;
    struct list list; /* the focus is on a row that is no heading, where there is one */
    bool locked;      /* nothing can be written; the owner says so */
    bool writing;
    bool stepping; /* what is written came from Left or Right: the focus will stay */
    struct line line;
    char *refused; /* why what is typed cannot be taken; NULL: it was not refused */
};

/* Removes all rows but keeps the focus; then add the rows and call form_end(). */
void form_begin(struct form *f);
/* Adds a row with copies of label and value; valid until the next is added. The other members may
 * be set; `start`, `remark` and `choices` become the form's own. */
struct field *form_add(struct form *f, enum field_kind kind, const char *label, const char *value);
/* After the last row: puts the focus on a row that can have it, if there is one. */
void form_end(struct form *f);
void form_free(struct form *f);

const struct field *form_field(const struct form *f); /* with the focus; NULL when empty */
/* Moves the focus to the row that stands for this; stays where there is none. */
void form_find(struct form *f, int part, size_t index);

enum form_event {
    FORM_UNUSED, /* the key was not for the form */
    FORM_USED,
    FORM_WRITTEN, /* line_text(&f->line) is to be taken: answer with form_accept or form_refuse */
    FORM_OPENED,  /* Enter on a FIELD_OPEN */
    FORM_LOCKED,  /* the key would have begun to write, but the form is locked */
    FORM_CHOOSE,  /* Enter on a field with choices: show them, or form_write() */
};

enum form_event form_key(struct form *f, struct key k, int rows);
/* Begins to write into the focused field, with `text` (NULL: what it holds). */
void form_write(struct form *f, const char *text);
/* The owner has set what was written: writing ends and the focus goes one row down, except after
 * Left and Right, which go on through the choices. Only while writing, as form_refuse(). */
void form_accept(struct form *f, int rows);
void form_refuse(struct form *f, const char *why);

/* What the bottom lines should say about the focused field; caller frees. */
char *form_words(const struct form *f, enum tone *tone);
void form_draw(struct canvas *c, struct area a, const struct form *f);

/* The choice before or behind `value` in "a|b|c", going round; caller frees. NULL: no choices. */
char *choice_step(const char *choices, const char *value, int by);
/* The i-th of "a|b|c"; caller frees. NULL behind the last. */
char *choice_at(const char *choices, size_t i);

#endif
