#include "cli/parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "cli/pairs.h"
#include "model/part.h"
#include "model/quantity.h"

enum { QUESTION_SIZE = 512 };

/* A part being set: everything is taken as entered, what is unusual is asked about afterwards. */
struct target {
    const struct part_row *rows;
    void *base;
    enum unit_system units;
    struct page *questions;
};

static void ask(struct page *questions, const char *question)
{
    if (*question != '\0')
        page_add(questions, BLOCK_ITEM, "%s", question);
}

static int set_key(const struct target *t, const char *key, const char *text, struct error *e)
{
    char question[QUESTION_SIZE];

    if (part_take(part_find(t->rows, key), t->base, text, t->units, true, question, sizeof question,
                  e) < 0)
        return -1;
    ask(t->questions, question);
    return 0;
}

static int set_quantity(const struct target *t, const char *key, const struct quantity *q,
                        struct error *e)
{
    char question[QUESTION_SIZE];

    if (part_take_quantity(part_find(t->rows, key), t->base, q, t->units, true, question,
                           sizeof question, e) < 0)
        return -1;
    ask(t->questions, question);
    return 0;
}

/* `others` are keys beside those of the rows. */
static int refuse_key(const char *what, const struct part_row *rows, const char *others,
                      const char *key, struct error *e)
{
    struct text known = {0};

    text_add(&known, others);
    for (; rows->as.label != NULL; rows++)
        text_addf(&known, "%s%s", known.length > 0 ? ", " : "", rows->key);
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
    struct target t = {part_pass_rows, NULL, s->units, questions};
    int result;

    if (read_part(&pairs, text, e) < 0)
        return error_where(e, "pass");
    result = find_pass(c, &pairs, &pass, e);
    t.base = pass;
    for (size_t i = 0; result == 0 && i < pairs.count; i++) {
        const struct pair *pair = &pairs.items[i];

        if (text_same(pair->key, "number"))
            continue;
        result = part_find(t.rows, pair->key) == NULL
                     ? refuse_key("pass", t.rows, "number", pair->key, e)
                     : set_key(&t, pair->key, pair->value, e);
    }
    pairs_free(&pairs);
    return result < 0 ? error_where(e, "pass") : 0;
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
    const struct target t = {part_bend_rows, &c->bend, s->units, questions};
    struct pairs pairs;
    int result = 0;

    if (read_part(&pairs, text, e) < 0)
        return error_where(e, "bend");
    for (size_t i = 0; result == 0 && i < pairs.count; i++) {
        const struct pair *pair = &pairs.items[i];

        result = part_find(t.rows, pair->key) == NULL ? refuse_key("bend", t.rows, "", pair->key, e)
                                                      : set_key(&t, pair->key, pair->value, e);
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
static int read_range(const char *text, enum unit_system units, struct quantity *first,
                      struct quantity *last, struct error *e)
{
    char *range = mem_copy(text), *to = split_range(range);
    const char *end;
    double bare;
    int result;

    if (to == NULL)
        result = error_set(e, ERROR_INPUT, "'%s' is not FROM-TO, such as 0-12 or 0-12mm", text);
    else if ((result = quantity_parse(to, DIM_LENGTH, units, last, e)) == 0) {
        *first = *last;
        if (text_number(range, &end, &bare) && *end == '\0')
            first->value = unit_to_base(last->unit, bare);
        else
            result = quantity_parse(range, DIM_LENGTH, units, first, e);
    }
    free(range);
    if (result == 0 && last->value < first->value)
        result =
            error_set(e, ERROR_INPUT, "'%s': from the start of the bead on, smaller first", text);
    return result;
}

static int set_range(const struct target *t, const char *text, struct error *e)
{
    struct quantity first, last;

    if (read_range(text, t->units, &first, &last, e) < 0)
        return -1;
    return set_quantity(t, "from", &first, e) < 0 ? -1 : set_quantity(t, "to", &last, e);
}

static int set_flaw(const struct target *t, char *text, struct error *e)
{
    char *rest = text_trim(text);
    const char *range = strsep(&rest, " \t"), *number = strsep(&rest, " \t");

    if (number == NULL)
        return error_set(e, ERROR_INPUT, "'%s' is not FROM-TO NUMBER, such as '0-12 4013'", range);
    if (set_range(t, range, e) < 0 || set_key(t, "number", number, e) < 0)
        return -1;
    return rest == NULL ? 0 : set_key(t, "note", text_trim(rest), e);
}

int part_flaw(struct coupon *c, const char *text, const struct session *s, struct page *questions,
              struct error *e)
{
    struct flaw flaw = {NAN, NAN, 0, NULL};
    const struct target t = {part_flaw_rows, &flaw, s->units, questions};
    char *copy = mem_copy(text);
    int result = set_flaw(&t, copy, e);

    free(copy);
    if (result < 0) {
        free(flaw.note);
        return error_where(e, "flaw");
    }
    *coupon_add_flaw(c) = flaw;
    c->face_read = true;
    return 0;
}

int part_face(struct coupon *c, const char *text, const struct session *s, struct page *questions,
              struct error *e)
{
    const struct target t = {part_face_rows, c, s->units, questions};

    if (*text == '\0')
        return error_set(e, ERROR_INPUT, "face: a length is right, such as 95mm");
    if (set_key(&t, "face", text, e) < 0)
        return error_where(e, "face");
    c->face_read = true;
    return 0;
}
