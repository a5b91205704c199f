/* The rows of a part of a coupon as the fields of a form. */
#ifndef TUI_WIDGET_PART_FORM_H
#define TUI_WIDGET_PART_FORM_H

#include "model/part.h"
#include "tui/widget/form.h"

/* Adds a field for every row to a form, standing for (part, number of the row). */
void part_fill(struct form *f, const struct part_row *rows, const void *base,
               enum unit_system units, int part);

#endif
