/*
 * A coupon: what it was made of, how it was welded, folded and read.
 *
 * All numbers are in base units (model/units.h), NAN when not known. Strings may be NULL when not
 * given. A coupon owns everything it points to; coupon_free() releases it and leaves it zeroed.
 */
#ifndef MODEL_COUPON_H
#define MODEL_COUPON_H

#include <stdbool.h>
#include <stddef.h>

#include "base/clock.h"
#include "base/id.h"
#include "model/intake.h"
#include "model/measure.h"
#include "model/variable.h"

/* The value of one variable. */
struct value {
    char *variable; /* key */
    enum variable_kind kind;
    struct measure measure; /* numbers; causes are exact or missing */
    char *text; /* the category; or a number as it was entered ("5/16 in"), may be NULL */
};

struct pass {
    int number; /* from 1 */
    int side;   /* 1 or 2; 0 not known */
    double arc_s, length_mm, volts, amps, feed_mm_per_min, start_c;
    double pause_s; /* since the end of the pass before */
};

enum bend_end { BEND_NOT_DONE, BEND_BROKE, BEND_TORE, BEND_HELD };
enum bend_direction { BEND_DIRECTION_UNKNOWN, BEND_ROOT_OPENING, BEND_FACE_OPENING, BEND_SIDE };

struct bend {
    enum bend_end end; /* broke in two, tore (folding stopped at a tear), held to the stop */
    enum bend_direction direction;
    double before_deg, after_deg;       /* included angle */
    double before_gap_mm, after_gap_mm; /* leg-tip gap, with leg_mm instead of angles */
    double leg_mm;
    double former_mm, inside_radius_mm;
    double first_crack_deg;  /* bend angle at which a crack first showed */
    double load_n, lever_mm; /* peak */
};

struct flaw {
    double from_mm, to_mm; /* along the bead, from its start */
    int iso6520;           /* 4013; see flaw_name() */
    char *note;
};

struct photo {
    char *path;
    char *sha256; /* 64 hex digits */
    char *note;
};

/* A mark is 1 to 32 characters; the size holds any of them as UTF-8, with its end. */
enum { MARK_LONGEST = 32, MARK_SIZE = MARK_LONGEST * 4 + 1 };

struct coupon {
    char id[ID_SIZE];
    char trial[ID_SIZE]; /* id of its trial */
    char *mark;          /* stamped on it; unique within the book among coupons not struck out */
    struct instant when; /* welded */
    long sequence;       /* order within the book, given by it */
    long revision;       /* state of the book's row this was loaded from; 0: not stored yet */
    char *who;
    char *note;
    struct value *values;
    size_t value_count, value_capacity;
    struct pass *passes;
    size_t pass_count, pass_capacity;
    struct bend bend;
    double bead_mm; /* length of the face that was read */
    bool face_read; /* true: the flaws listed are all there were */
    struct flaw *flaws;
    size_t flaw_count, flaw_capacity;
    struct photo *photos;
    size_t photo_count, photo_capacity;
    char *struck_why; /* NULL unless struck out */
};

struct coupon_list {
    struct coupon *items;
    size_t count, capacity;
};

void coupon_init(struct coupon *c); /* zero, numbers NAN, no id */
void coupon_free(struct coupon *c);
void coupon_copy(struct coupon *to, const struct coupon *from); /* `to` holds nothing before */
/* A new coupon set up like `from` (NULL: empty): values of causes, trial and who; no id, mark,
 * passes, bend, face, photographs or results. */
void coupon_set_up_like(struct coupon *to, const struct coupon *from,
                        const struct variable_list *variables);

/* NULL when not set. Owned by the coupon; moved when another value is set or unset. */
const struct value *coupon_value(const struct coupon *c, const char *key);
/* These replace what was set; strings are copied. A missing measure and an empty text (or NULL)
 * take the value away. `entry`: the number as typed; NULL or "": it is shown from the number. */
void coupon_set_number(struct coupon *c, const char *key, struct measure m, const char *entry);
void coupon_set_category(struct coupon *c, const char *key, const char *text);
void coupon_unset(struct coupon *c, const char *key);
bool value_same(const struct value *a, const struct value *b); /* either may be NULL */

/*
 * Sets a variable from what was typed, held against its row; "" takes the value away. An unusual
 * value is set when the intake is sure, otherwise it only asks. -1 with ERROR_INPUT, and nothing
 * changed, when the text is no value of that kind, the value cannot be, or `v` is computed.
 */
int coupon_set_from_text(struct coupon *c, const struct variable *v, const char *text,
                         struct intake *in);
/* As it is to be shown: the entry as given, with the other system in parentheses where its unit is
 * not the book's: "5/16 in (7.94 mm)". "" when not set. */
void value_show(char *out, size_t size, const struct value *value, const struct variable *v,
                enum unit_system system);

/* A new one behind the others with nothing known of it; a pass is numbered. Owned by the coupon and
 * moved by later ones. */
struct pass *coupon_add_pass(struct coupon *c);
struct flaw *coupon_add_flaw(struct coupon *c);
struct photo *coupon_add_photo(struct coupon *c);
/* ERROR_INPUT when a flaw ends behind the face that was read, or before it begins. */
int coupon_check_face(const struct coupon *c, enum unit_system units, struct error *e);

void coupon_list_free(struct coupon_list *list);
struct coupon *coupon_list_add(struct coupon_list *list); /* initialised; moved by later adds */
/* For each of the variables whether some coupon (with those struck out, or without) has a value for
 * it. Caller frees. */
bool *coupon_list_said(const struct coupon_list *list, bool with_struck,
                       const struct variable_list *variables);
bool coupon_list_has(const struct coupon_list *list, const char *key); /* some coupon has a value */

/* ISO 6520-1 numbers that are usual on a broken face, with a short name. NULL behind the last. */
struct flaw_kind {
    int iso6520;
    const char *name;
    bool unfused; /* takes away from the fused share */
};
const struct flaw_kind *flaw_kind_at(size_t i);
const struct flaw_kind *flaw_kind_find(int iso6520);

#endif
