#include "cli/parts.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "cli/pairs.h"
#include "model/quantity.h"

/* One number of a part. Where a variable measures the same thing its limits hold here too. */
struct part_field {
    const char *key;
    size_t offset; /* of a double */
    enum dimension dimension;
    double least, most; /* base unit, both possible */
    const char *variable;
};

#define NO_LIMIT INFINITY
#define PASS(member) offsetof(struct pass, member)
#define BEND(member) offsetof(struct bend, member)

static const struct part_field pass_fields[] = {
    {"arc", PASS(arc_s), DIM_TIME, 0.1, 36000, NULL},
    {"length", PASS(length_mm), DIM_LENGTH, 0.1, 100000, NULL},
    {"volts", PASS(volts), DIM_VOLTAGE, 0, NO_LIMIT, "volts"},
    {"amps", PASS(amps), DIM_CURRENT, 0, NO_LIMIT, "amps"},
    {"feed", PASS(feed_mm_per_min), DIM_SPEED, 0, NO_LIMIT, "wire_feed_speed"},
    {"start", PASS(start_c), DIM_TEMPERATURE, -60, 1200, "preheat"},
    {"pause", PASS(pause_s), DIM_TIME, 0, 864000, NULL},
    {NULL, 0, DIM_NUMBER, 0, 0, NULL},
};

static const struct part_field bend_fields[] = {
    {"before", BEND(before_deg), DIM_ANGLE, 0, 360, NULL},
    {"after", BEND(after_deg), DIM_ANGLE, 0, 360, NULL},
    {"gap-before", BEND(before_gap_mm), DIM_LENGTH, 0, 10000, NULL},
    {"gap-after", BEND(after_gap_mm), DIM_LENGTH, 0, 10000, NULL},
    {"leg", BEND(leg_mm), DIM_LENGTH, 0.1, 10000, NULL},
    {"former", BEND(former_mm), DIM_LENGTH, 0.1, 10000, NULL},
    {"radius", BEND(inside_radius_mm), DIM_LENGTH, 0, 10000, NULL},
    {"crack", BEND(first_crack_deg), DIM_ANGLE, 0, 360, "first_crack_angle"},
    {"load", BEND(load_n), DIM_FORCE, 0, 1e7, NULL},
    {"lever", BEND(lever_mm), DIM_LENGTH, 0.1, 10000, NULL},
    {NULL, 0, DIM_NUMBER, 0, 0, NULL},
};

static void show(char *out, size_t size, double value, const struct part_field *f,
                 const struct session *s)
{
    quantity_format(out, size, value, f->dimension, s->units);
}

static int check_limits(const struct part_field *f, double value, const struct session *s,
                        struct page *questions, struct error *e)
{
    const struct variable *v = f->variable ? variable_find(&s->variables, f->variable) : NULL;
    char why[300], seen[ENTRY_SIZE], low[ENTRY_SIZE], high[ENTRY_SIZE];

    if (value < f->least || value > f->most) {
        show(seen, sizeof seen, value, f, s);
        show(low, sizeof low, f->least, f, s);
        show(high, sizeof high, f->most, f, s);
        return error_set(e, ERROR_INPUT, "%s=%s cannot be; %s to %s is right", f->key, seen, low,
                         high);
    }
    if (v == NULL)
        return 0;
    switch (variable_judge(v, value, s->units, why, sizeof why)) {
    case VALUE_IMPOSSIBLE:
        return error_set(e, ERROR_INPUT, "%s", why);
    case VALUE_UNUSUAL:
        page_add(questions, BLOCK_ITEM, "%s", why);
        break;
    case VALUE_USUAL:
        break;
    }
    return 0;
}

static int refuse_key(const char *what, const struct part_field *fields, const char *others,
                      const char *key, struct error *e)
{
    struct text known = {0};

    text_add(&known, others);
    for (; fields->key != NULL; fields++)
        text_addf(&known, ", %s", fields->key);
    error_set(e, ERROR_INPUT, "a %s has no '%s'; it has %s", what, key, text_str(&known));
    text_free(&known);
    return -1;
}

static int read_part(struct pairs *pairs, const char *text, struct error *e)
{
    if (pairs_read(pairs, text, e) < 0)
        return -1;
    return pairs->count > 0 ? 0 : error_set(e, ERROR_USAGE, "nothing is said about it");
}

/* Sets the number called `pair->key` within `part`; an empty value takes it away. */
static int set_field(void *part, const char *what, const struct part_field *fields,
                     const char *others, const struct pair *pair, const struct session *s,
                     struct page *questions, struct error *e)
{
    const struct part_field *f = fields;
    struct quantity q;
    double *value;

    while (f->key != NULL && !text_same(f->key, pair->key))
        f++;
    if (f->key == NULL)
        return refuse_key(what, fields, others, pair->key, e);
    value = (double *)((char *)part + f->offset);
    if (pair->value[0] == '\0') {
        *value = NAN;
        return 0;
    }
    if (quantity_parse(pair->value, f->dimension, s->units, &q, e) < 0)
        return error_where(e, "%s", f->key);
    if (check_limits(f, q.value, s, questions, e) < 0)
        return -1;
    *value = q.value;
    return 0;
}

static int whole_number(const struct pair *pair, long least, long most, long *out, struct error *e)
{
    char *end;

    *out = strtol(pair->value, &end, 10);
    if (end == pair->value || *end != '\0' || *out < least || *out > most)
        return error_set(e, ERROR_INPUT, "%s=%s: %ld to %ld is right", pair->key, pair->value,
                         least, most);
    return 0;
}

/* The pass that number=N names, or a further one. */
static int find_pass(struct coupon *c, const struct pairs *pairs, struct pass **out,
                     struct error *e)
{
    long number;

    for (size_t i = 0; i < pairs->count; i++) {
        if (!text_same(pairs->items[i].key, "number"))
            continue;
        if (whole_number(&pairs->items[i], 1, (long)c->pass_count + 1, &number, e) < 0)
            return -1;
        if (number <= (long)c->pass_count) {
            *out = &c->passes[number - 1];
            return 0;
        }
    }
    *out = coupon_add_pass(c);
    return 0;
}

int part_pass(struct coupon *c, const char *text, const struct session *s, struct page *questions,
              struct error *e)
{
    struct pairs pairs;
    struct pass *pass = NULL;
    int result;

    if (read_part(&pairs, text, e) < 0)
        return error_where(e, "pass");
    result = find_pass(c, &pairs, &pass, e);
    for (size_t i = 0; result == 0 && i < pairs.count; i++) {
        const struct pair *pair = &pairs.items[i];
        long side;

        if (text_same(pair->key, "number"))
            continue;
        if (text_same(pair->key, "side")) {
            result = whole_number(pair, 1, 2, &side, e);
            pass->side = result == 0 ? (int)side : pass->side;
        } else
            result = set_field(pass, "pass", pass_fields, "number, side", pair, s, questions, e);
    }
    pairs_free(&pairs);
    return result < 0 ? error_where(e, "pass") : 0;
}

static int set_end(struct bend *bend, const char *value, struct error *e)
{
    if (bend_end_from_code(value, &bend->end))
        return 0;
    return error_set(e, ERROR_INPUT, "ended=%s: broke, tore or held is right", value);
}

/* "root", "root opening" and "root_opening" are the same direction. */
static int set_direction(struct bend *bend, const char *value, struct error *e)
{
    char *code = mem_copy(value), *longer = mem_format("%s_opening", value);
    int result = 0;

    for (char *c = code; *c != '\0'; c++)
        if (*c == ' ' || *c == '-')
            *c = '_';
    if (!bend_direction_from_code(code, &bend->direction) &&
        !bend_direction_from_code(longer, &bend->direction))
        result = error_set(e, ERROR_INPUT,
                           "direction=%s: root (the root opens), face (the face opens) or side is "
                           "right",
                           value);
    free(code);
    free(longer);
    return result;
}

static int check_bend(const struct bend *b, struct error *e)
{
    bool folded = !isnan(b->after_deg) || !isnan(b->after_gap_mm);

    if (folded && b->end == BEND_NOT_DONE)
        return error_set(e, ERROR_INPUT,
                         "say how it ended: ended=broke, ended=tore, or ended=held (to the stop, "
                         "unbroken)");
    if (!isnan(b->after_gap_mm) && isnan(b->leg_mm))
        return error_set(e, ERROR_INPUT, "a gap needs the leg it was measured over: leg=");
    return 0;
}

int part_bend(struct coupon *c, const char *text, const struct session *s, struct page *questions,
              struct error *e)
{
    struct pairs pairs;
    int result = 0;

    if (read_part(&pairs, text, e) < 0)
        return error_where(e, "bend");
    for (size_t i = 0; result == 0 && i < pairs.count; i++) {
        const struct pair *pair = &pairs.items[i];

        if (text_same(pair->key, "ended"))
            result = set_end(&c->bend, pair->value, e);
        else if (text_same(pair->key, "direction"))
            result = set_direction(&c->bend, pair->value, e);
        else
            result =
                set_field(&c->bend, "bend", bend_fields, "ended, direction", pair, s, questions, e);
    }
    pairs_free(&pairs);
    if (result == 0)
        result = check_bend(&c->bend, e);
    return result < 0 ? error_where(e, "bend") : 0;
}

/* Splits "0-12mm" or "1/2..3/4in" in place; NULL when there is no second end. */
static char *split_range(char *range)
{
    char *dots = strstr(range, ".."), *dash = strchr(range, '-');
    char *cut = dots != NULL ? dots : dash;

    if (cut == NULL)
        return NULL;
    *cut = '\0';
    return cut + (dots != NULL ? 2 : 1);
}

/* "FROM-TO"; a bare first number takes the unit of the second. */
static int read_range(struct flaw *flaw, const char *text, const struct session *s, struct error *e)
{
    char *range = mem_copy(text), *to = split_range(range);
    struct quantity last, first;
    const char *end;
    double bare;
    int result;

    if (to == NULL)
        result = error_set(e, ERROR_INPUT, "'%s' is not FROM-TO, such as 0-12 or 0-12mm", text);
    else if ((result = quantity_parse(to, DIM_LENGTH, s->units, &last, e)) == 0) {
        if (text_number(range, &end, &bare) && *end == '\0')
            first.value = unit_to_base(last.unit, bare);
        else
            result = quantity_parse(range, DIM_LENGTH, s->units, &first, e);
    }
    free(range);
    if (result < 0)
        return -1;
    if (first.value < 0 || last.value < first.value)
        return error_set(e, ERROR_INPUT, "'%s': from the start of the bead on, smaller first",
                         text);
    flaw->from_mm = first.value;
    flaw->to_mm = last.value;
    return 0;
}

static int read_number(struct flaw *flaw, const char *text, struct page *questions, struct error *e)
{
    char *end;
    long number = strtol(text, &end, 10);

    if (end == text || *end != '\0' || number < 100 || number > 9999)
        return error_set(e, ERROR_INPUT,
                         "'%s' is no ISO 6520-1 number, such as 4013 (lack of root fusion)", text);
    flaw->iso6520 = (int)number;
    if (flaw_kind_find(flaw->iso6520) == NULL)
        page_add(questions, BLOCK_ITEM,
                 "flaw %ld is not one usually read on a broken face; is the number right?", number);
    return 0;
}

int part_flaw(struct coupon *c, const char *text, const struct session *s, struct page *questions,
              struct error *e)
{
    char *copy = mem_copy(text), *rest = text_trim(copy);
    char *range = strsep(&rest, " \t"), *number = strsep(&rest, " \t");
    struct flaw read = {0};
    struct flaw *flaw;
    int result;

    if (number == NULL)
        result = error_set(e, ERROR_INPUT, "'%s' is not FROM-TO NUMBER, such as '0-12 4013'", text);
    else if ((result = read_range(&read, range, s, e)) == 0)
        result = read_number(&read, number, questions, e);
    if (result == 0) {
        flaw = coupon_add_flaw(c);
        *flaw = read;
        if (rest != NULL && *text_trim(rest) != '\0')
            flaw->note = mem_copy(text_trim(rest));
        c->face_read = true;
    }
    free(copy);
    return result < 0 ? error_where(e, "flaw") : 0;
}

int part_face(struct coupon *c, const char *text, const struct session *s, struct error *e)
{
    struct quantity q;

    if (quantity_parse(text, DIM_LENGTH, s->units, &q, e) < 0)
        return error_where(e, "face");
    if (q.value <= 0)
        return error_set(e, ERROR_INPUT, "face: a length above 0 is right");
    c->bead_mm = q.value;
    c->face_read = true;
    return 0;
}
