/*
 * The parts of a coupon that are no variables: passes, the bend, the broken face with its flaws,
 * and what is said about the coupon itself. Each part is a table of rows; a row says where its
 * value lies in the structure, what it is called, how it is read and shown, and which values can
 * be. The screens and the command line are both derived from these tables.
 */
#ifndef MODEL_PART_H
#define MODEL_PART_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/intake.h"
#include "model/quantity.h"
#include "model/units.h"
#include "model/variable.h"

enum part_kind {
    PART_NUMBER,    /* double, base unit, NAN when not known */
    PART_TEXT,      /* char *, one line, owned, NULL when not given */
    PART_LINES,     /* the same of any number of lines */
    PART_SIDE,      /* int: 0 not known, 1, 2 */
    PART_ENDED,     /* enum bend_end */
    PART_DIRECTION, /* enum bend_direction */
    PART_FLAW,      /* int: ISO 6520-1 number, 0 not known */
    PART_WHEN,      /* struct instant */
    PART_YES,       /* bool */
};

struct part_row {
    enum part_kind kind;
    size_t offset;      /* in struct pass, bend, flaw or coupon */
    const char *key;    /* what it is called where it is typed as KEY=VALUE: "arc" */
    bool needed;        /* cannot be left empty */
    const char *brief;  /* before the value in a summary: "arc " */
    struct variable as; /* label, dimension, limits and help, as for a variable; its key is the
                           member's name */
};

/* The tables; a row without a label ends each. */
extern const struct part_row part_pass_rows[];   /* of struct pass */
extern const struct part_row part_bend_rows[];   /* of struct bend */
extern const struct part_row part_flaw_rows[];   /* of struct flaw */
extern const struct part_row part_coupon_rows[]; /* of struct coupon: mark, when, who */
extern const struct part_row part_face_rows[];   /* of struct coupon: bead length, read */
extern const struct part_row part_note_rows[];   /* of struct coupon */

/* The row called `key`, letters compared without case; NULL when there is none. */
const struct part_row *part_find(const struct part_row *rows, const char *key);

/* What the row holds, as shown; "" when nothing. Caller frees. */
char *part_show(const struct part_row *row, const void *base, enum unit_system units);
/* All that is known of a part in one line: "side 1, arc 35 s, length 100 mm". Caller frees. */
char *part_summary(const struct part_row *rows, const void *base, enum unit_system units);
/* Words to choose from, separated by '|'; NULL when free. Caller frees. */
char *part_choices(const struct part_row *row);

/*
 * Sets the row from what was typed; "" takes the value away. Impossible values are refused
 * (ERROR_INPUT), nothing is changed then. A word may be shortened while it is clear, or be the code
 * the book has for it.
 */
int part_set_from_text(const struct part_row *row, void *base, const char *text, struct intake *in);
/* The same for a row of numbers and a quantity that was read already. */
int part_set_quantity(const struct part_row *row, void *base, const struct quantity *q,
                      struct intake *in);

/* The row in a form that loses nothing and is read back by part_read(); caller frees. NULL when the
 * row holds nothing. What could not have been taken is not read: the row stays as it was. */
char *part_write(const struct part_row *row, const void *base);
void part_read(const struct part_row *row, void *base, const char *written);

#endif
