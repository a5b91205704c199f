/* The rows of a part of a coupon as the fields of a form. */
#ifndef TUI_PART_H
#define TUI_PART_H

#include "model/part.h"
#include "tui/form.h"

/* Adds a field for every row to a form, standing for (part, number of the row). */
void part_fill(struct form *f, const struct part_row *rows, const void *base,
               enum unit_system units, int part);

#endif
