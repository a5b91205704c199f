/*
 * Writing into a form: hands what was typed to the owner, asks about unusual values, keeps the text
 * when it is refused, and shows the choices of a field.
 */
#ifndef TUI_EDIT_H
#define TUI_EDIT_H

#include "tui/form.h"
#include "tui/ui.h"

struct edit_owner {
    /*
     * Takes `text` for the field. Returns -1 with the reason when it cannot be. When the value is
     * unusual, `question` is filled and nothing is taken unless `sure`.
     */
    int (*take)(void *owner, const struct field *field, const char *text, bool sure, char *question,
                size_t size, struct error *e);
    /* Fills the form anew. */
    void (*fill)(void *owner);
};

/* `rows`: how many rows of the form are seen. */
enum form_event edit_key(struct ui *ui, struct form *f, const struct edit_owner *edit, void *owner,
                         struct key k, int rows);

#endif
