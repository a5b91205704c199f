/*
 * The variable table: what can be said about a coupon. One row a variable; forms, help, import,
 * export, checks and the ranking are all derived from it.
 *
 * A list of variables holds the built-in rows and the user's own; the order is the order of the
 * form. Built-in rows are constant data, the user's own are owned by the list.
 */
#ifndef MODEL_VARIABLE_H
#define MODEL_VARIABLE_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/measure.h"
#include "model/quantity.h"
#include "model/units.h"

enum variable_kind { VARIABLE_NUMBER, VARIABLE_CATEGORY };
enum variable_role { ROLE_CAUSE, ROLE_RESULT };

/* The part of the form a variable is in, and where its value comes from. */
enum variable_group {
    GROUP_MACHINE,
    GROUP_WIRE,
    GROUP_GAS,
    GROUP_PLATE,
    GROUP_JOINT,
    GROUP_HEAT,
    GROUP_TECHNIQUE,
    GROUP_OTHER, /* the user's own causes */
    GROUP_RESULT,
    GROUP_DERIVED, /* computed from other values; never entered */
    VARIABLE_GROUPS
};

/* Limits of a number in its base unit, both included. Both 0: none; an infinite end: none there. */
struct range {
    double low, high;
};
bool range_open(struct range r);                /* no limits */
bool range_holds(struct range r, double value); /* false for NAN, unless open */

struct variable {
    const char *key;   /* lower case letters, digits, underscores: "wire_diameter" */
    const char *label; /* "Wire diameter" */
    enum variable_group group;
    enum variable_role role;
    enum variable_kind kind;
    enum dimension dimension; /* numbers only */
    const char *unit;         /* under DIM_NUMBER the unit a user's own variable is kept and
                                 shown in, whatever the units of the book; else NULL */
    struct range can;         /* impossible outside */
    struct range usual;       /* a question is asked outside */
    const char *choices;      /* usual categories, separated by '|'; others are accepted */
    bool choices_only;        /* others are refused */
    double scale;             /* results: the range R of the ranking (180, 100), 0 = observed */
    const char *from[8];      /* derived: keys of the variables it replaces, up to the first NULL */
    const char *help;         /* one line: what to write here, and how it is measured */
    bool own;                 /* made by the user */
};

struct variable_list {
    struct variable *items;
    size_t count, capacity;
};

void variable_list_init(struct variable_list *list); /* the built-in rows */
void variable_list_free(struct variable_list *list);
/* By key, then by label; letters compared without case, spaces and hyphens as underscores. NULL
 * when there is none. Owned by the list, as in all that follow; moved when it grows. */
const struct variable *variable_find(const struct variable_list *list, const char *name);
/* The same for a name that is to be a result: a unit in parentheses is ignored ("Break load (kN)"),
 * and where there is both a cause "strength" and a result "strength_result" it is the result. The
 * caller checks the role: it may still be a cause. */
const struct variable *variable_find_result(const struct variable_list *list, const char *name);
/*
 * Adds one of the user's own; its strings are copied, and without a label the key is the label. -1
 * with ERROR_INPUT, and nothing added, when the key is not well formed (small letters, digits,
 * underscores, 63 at most), names a part of every coupon (mark, when, who, note, struck, trial,
 * id), or when a variable has that key or label.
 */
int variable_add(struct variable_list *list, const struct variable *own, struct error *e);
void variable_drop_last(struct variable_list *list); /* undoes that */
/* "Paint left on" → "paint_left_on", cut to fit `size` and a key; false when nothing is left of it.
 */
bool variable_key_from_name(const char *name, char *out, size_t size);

const char *variable_group_name(enum variable_group group); /* "Wire" */
/* The unit of a user's own variable where the table of units knows it, so that an entry in another
 * unit of its kind can be converted; else NULL. */
const struct unit *variable_own_unit(const struct variable *v);
/* The unit shown: symbol of the system, or the user's own; "" for a bare number or category. */
const char *variable_unit(const struct variable *v, enum unit_system system);

/* One of the usual categories of a variable. */
struct usual_choice {
    const char *text; /* not ended by NUL; NULL: no choice is meant */
    size_t length;    /* bytes: "135 MAG solid wire" */
    size_t code;      /* bytes of the number it begins with, which alone is stored; 0: in words */
};
/* The choice a text means, letters compared without case; one with a number also by that alone. */
struct usual_choice variable_choice(const struct variable *v, const char *text);

enum value_verdict { VALUE_USUAL, VALUE_UNUSUAL, VALUE_IMPOSSIBLE };
/*
 * Holds a number (base unit) against the row's limits. `why` becomes "" when it is usual, otherwise
 * it says what would be right, in the units of `system`: "Volts: 400 V cannot be, it must be 5 V to
 * 60 V, mostly 13 V to 36 V".
 */
enum value_verdict variable_judge(const struct variable *v, double value, enum unit_system system,
                                  char *why, size_t size);
/*
 * A bare number that is not usual as it was taken, but would be in the other system (.045 as a wire
 * diameter in a metric book), was probably meant in that: "; if you mean in, write 0.045 in". Else
 * "". `value` is in the base unit, as taken in `system`.
 */
void variable_other_reading(const struct variable *v, double value, enum unit_system system,
                            char *out, size_t size);

extern const struct variable variable_table[];
extern const size_t variable_table_count;

#endif
