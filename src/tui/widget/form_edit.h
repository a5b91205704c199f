/*
 * Editing a form: what was typed goes to the owner; an unusual value is asked about; refused text
 * stays in the line; a field with choices shows them.
 */
#ifndef TUI_WIDGET_FORM_EDIT_H
#define TUI_WIDGET_FORM_EDIT_H

#include "model/intake.h"
#include "tui/widget/form.h"
#include "tui/widget/layers.h"

struct edit_owner {
    /* Sets what the field stands for from trimmed text, "" for nothing. -1 with in->error set when
     * it is refused; in->question when it is unusual and in->sure is not set. */
    int (*set_from_text)(void *owner, const struct field *field, const char *text,
                         struct intake *in);
    /* Makes the rows again after a change. */
    void (*fill)(void *owner);
};

/* One key for a form that shows so many rows. FORM_UNUSED and FORM_OPENED are left to the caller;
 * everything else has been done. */
enum form_event edit_key(struct ui *ui, struct form *f, const struct edit_owner *edit, void *owner,
                         struct key k, int rows);

#endif
