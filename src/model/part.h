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
    PART_NUMBER,    /* double, base unit, NAN when not known; what a row is unless it says else */
    PART_TEXT,      /* char *, one line, owned, NULL when not given */
    PART_LINES,     /* the same of any number of lines */
    PART_SIDE,      /* int: 0 not known, 1, 2 */
    PART_ENDED,     /* enum bend_end */
    PART_DIRECTION, /* enum bend_direction */
    PART_ISO6520,   /* int: ISO 6520-1 number, 0 not known */
    PART_WHEN,      /* struct instant */
    PART_YES,       /* bool */
};

struct part_row {
    const char *key; /* what it is called where it is typed as KEY=VALUE: "arc" */
    const char
        *member; /* its name in the structure, and as a column of the book and a key in JSON, */
    const char *column; /* unless these say otherwise */
    const char *json;
    size_t offset; /* in struct pass, bend, flaw, photo or coupon */
    enum part_kind kind;
    bool needed;        /* cannot be left empty */
    const char *brief;  /* before the value in a summary: "arc "; NULL: nothing */
    struct variable as; /* label, dimension, limits and help, as for a variable */
};

/* The tables; a row without a key ends each. */
extern const struct part_row part_pass_rows[];   /* of struct pass */
extern const struct part_row part_bend_rows[];   /* of struct bend */
extern const struct part_row part_flaw_rows[];   /* of struct flaw */
extern const struct part_row part_coupon_rows[]; /* of struct coupon: mark, when, who */
extern const struct part_row part_face_rows[];   /* of struct coupon: bead length, read */
extern const struct part_row part_note_rows[];   /* of struct coupon */
extern const struct part_row part_photo_rows[];  /* of struct photo */

/*
 * The parts that have a table of their own in the book. A coupon has any number of passes, flaws
 * and photographs, and one bend and one face, which count as there when something of them is known.
 */
enum part_id { PART_PASS, PART_BEND, PART_FACE, PART_FLAW, PART_PHOTO, PARTS };
struct part_table {
    const char *table; /* in the book */
    const char *name;  /* in a message: "photograph" */
    const struct part_row *rows;
    size_t size;                   /* of an item; 0: there is one, at `items` */
    size_t items, count, capacity; /* offsets in struct coupon */
};
extern const struct part_table part_tables[PARTS];

struct coupon;
size_t part_count(const struct coupon *c, enum part_id id);
/* The i-th (below part_count()), or the one. As with strchr(), it may be written to when the coupon
 * may. Owned by the coupon; moved when one is added. */
void *part_item(const struct coupon *c, enum part_id id, size_t i);
/* The one bend or face; else a new item behind the others, with nothing known. */
void *part_add(struct coupon *c, enum part_id id);
/* Takes the i-th pass, flaw or photograph away and frees it; passes behind it are numbered again.
 */
void part_remove(struct coupon *c, enum part_id id, size_t i);
/* Takes all of a part away. */
void part_drop(struct coupon *c, enum part_id id);

void part_clear(const struct part_row *rows, void *base); /* nothing known; texts are not freed */
void part_free(const struct part_row *rows, void *base);  /* texts freed, nothing known */
void part_copy(const struct part_row *rows, void *to, const void *from); /* over a cleared one */
bool part_known(const struct part_row *row, const void *base);           /* holds something */
bool part_is_text(const struct part_row *row);
/* The column of the book, and the key in JSON. */
const char *part_column(const struct part_row *row);
const char *part_json(const struct part_row *row);
/* The whole number of a row that is neither number, text nor instant. */
int part_whole(const struct part_row *row, const void *base);
void part_set_whole(const struct part_row *row, void *base, int value);
/* The word book and files have for the row ("broke"), NULL for one kept as a whole number; and
 * back: false when there is no such word. */
const char *part_code(const struct part_row *row, const void *base);
bool part_set_code(const struct part_row *row, void *base, const char *code);

/* The row called `key`, letters compared without case; NULL when there is none. */
const struct part_row *part_find(const struct part_row *rows, const char *key);

/* What the row holds, as shown; "" when nothing. Caller frees. */
char *part_show(const struct part_row *row, const void *base, enum unit_system units);
/* All that is known of a part in one line: "side 1, arc 35 s, length 100 mm". Caller frees. */
char *part_summary(const struct part_row *rows, const void *base, enum unit_system units);
/* Words to choose from, separated by '|'; NULL when free. Caller frees. */
char *part_choices(const struct part_row *row);

/*
 * Sets the row from what was typed; "" takes the value away, unless the row is needed. -1 with
 * ERROR_INPUT, and nothing changed, when the text cannot be read or the value cannot be. A word may
 * be shortened while it is clear, or be the code the book has for it.
 */
int part_set_from_text(const struct part_row *row, void *base, const char *text, struct intake *in);
/* The same for a part that lies in the coupon; a flaw or a face that would contradict the other is
 * refused too (coupon_check_face()), unless one did before: then it can be mended step by step. */
int coupon_set_part(struct coupon *c, const struct part_row *row, void *base, const char *text,
                    struct intake *in);
/* The same for a row of numbers and a quantity that was read already. */
int part_set_quantity(const struct part_row *row, void *base, const struct quantity *q,
                      struct intake *in);

/* The row in a form that loses nothing and is read back by part_read(); caller frees. NULL when the
 * row holds nothing. What could not have been taken is not read: the row stays as it was. */
char *part_write(const struct part_row *row, const void *base);
void part_read(const struct part_row *row, void *base, const char *written);

#endif
