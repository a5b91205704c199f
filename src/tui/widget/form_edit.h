/*
 * Writing into a form: hands what was typed to the owner, asks about unusual values, keeps the text
 * when it is refused, and shows the choices of a field.
 */
#ifndef TUI_WIDGET_FORM_EDIT_H
#define TUI_WIDGET_FORM_EDIT_H

#include "model/intake.h"
#include "tui/widget/form.h"
#include "tui/widget/layers.h"

struct edit_owner {
    /* Takes `text` for the field; the units of the intake are those of the session. */
    int (*take)(void *owner, const struct field *field, const char *text, struct intake *in);
    /* Fills the form anew. */
    void (*fill)(void *owner);
};

/* `rows`: how many rows of the form are seen. */
enum form_event edit_key(struct ui *ui, struct form *f, const struct edit_owner *edit, void *owner,
                         struct key k, int rows);

#endif
