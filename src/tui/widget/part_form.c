#include "tui/widget/part_form.h"

#include <stdlib.h>

void part_fill(struct form *f, const struct part_row *rows, const void *base,
               enum unit_system units, int part)
{
    for (size_t i = 0; rows[i].key != NULL; i++) {
        char *shown = part_show(&rows[i], base, units);
        struct field *field = form_add(f, FIELD_VALUE, rows[i].as.label, shown);

        field->choices = part_choices(&rows[i]);
        field->help = rows[i].as.help;
        if (rows[i].kind == PART_NUMBER)
            field->unit = variable_unit(&rows[i].as, units);
        field->part = part;
        field->index = i;
        free(shown);
    }
}
