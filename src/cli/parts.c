#include "cli/parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "cli/pairs.h"
#include "model/part.h"
#include "model/quantity.h"

static int take_in(struct entry_target *t, int rc, const struct intake *in)
{
    if (rc == 0 && in->question[0] != '\0')
        page_add(t->questions, BLOCK_ITEM, "%s", in->question);
    return rc;
}

int part_entry(struct entry_target *t, const struct part_row *row, void *base, const char *text,
               struct error *e)
{
    struct intake in = {.units = t->s->units, .sure = true, .error = e};

    return take_in(t, part_set_from_text(row, base, text, &in), &in);
}

static int set_end(struct entry_target *t, struct flaw *flaw, const char *key,
                   const struct quantity *q, struct error *e)
{
    struct intake in = {.units = t->s->units, .sure = true, .error = e};

    return take_in(t, part_set_quantity(part_find(part_flaw_rows, key), flaw, q, &in), &in);
}

static int refuse_key(const char *what, const struct part_row *rows, const char *key,
                      struct error *e)
{
    struct text known = {0};

    if (rows == part_pass_rows)
        text_add(&known, "number");
    for (; rows->key != NULL; rows++)
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

/* Sets the row that the pair names. */
static int set_pair(struct entry_target *t, const char *what, const struct part_row *rows,
                    void *base, const struct pair *pair, struct error *e)
{
    const struct part_row *row = part_find(rows, pair->key);

    return row == NULL ? refuse_key(what, rows, pair->key, e)
                       : part_entry(t, row, base, pair->value, e);
}

int part_pass(struct entry_target *t, const char *text, struct error *e)
{
    struct pairs pairs;
    struct pass *pass = NULL;
    int rc;

    if (read_part(&pairs, text, e) < 0)
        return error_where(e, "pass");
    rc = find_pass(t->coupon, &pairs, &pass, e);
    for (size_t i = 0; rc == 0 && i < pairs.count; i++)
        if (!text_same(pairs.items[i].key, "number"))
            rc = set_pair(t, "pass", part_pass_rows, pass, &pairs.items[i], e);
    pairs_free(&pairs);
    return rc < 0 ? error_where(e, "pass") : 0;
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

int part_bend(struct entry_target *t, const char *text, struct error *e)
{
    struct bend *bend = &t->coupon->bend;
    struct pairs pairs;
    int rc = 0;

    if (read_part(&pairs, text, e) < 0)
        return error_where(e, "bend");
    for (size_t i = 0; rc == 0 && i < pairs.count; i++)
        rc = set_pair(t, "bend", part_bend_rows, bend, &pairs.items[i], e);
    pairs_free(&pairs);
    if (rc == 0)
        rc = check_bend(bend, e);
    return rc < 0 ? error_where(e, "bend") : 0;
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

static int set_range(struct entry_target *t, struct flaw *flaw, const char *text, struct error *e)
{
    struct quantity first, last;

    if (read_range(text, t->s->units, &first, &last, e) < 0)
        return -1;
    return set_end(t, flaw, "from", &first, e) < 0 ? -1 : set_end(t, flaw, "to", &last, e);
}

static int set_flaw(struct entry_target *t, struct flaw *flaw, char *text, struct error *e)
{
    char *rest = text_trim(text);
    const char *range = strsep(&rest, " \t"), *number = strsep(&rest, " \t");

    if (number == NULL)
        return error_set(e, ERROR_INPUT, "'%s' is not FROM-TO NUMBER, such as '0-12 4013'", range);
    if (set_range(t, flaw, range, e) < 0 ||
        part_entry(t, part_find(part_flaw_rows, "number"), flaw, number, e) < 0)
        return -1;
    return rest == NULL
               ? 0
               : part_entry(t, part_find(part_flaw_rows, "note"), flaw, text_trim(rest), e);
}

int part_flaw(struct entry_target *t, const char *text, struct error *e)
{
    struct flaw flaw = {NAN, NAN, 0, NULL};
    char *copy = mem_copy(text);
    int rc = set_flaw(t, &flaw, copy, e);

    free(copy);
    if (rc < 0) {
        free(flaw.note);
        return error_where(e, "flaw");
    }
    *coupon_add_flaw(t->coupon) = flaw;
    t->coupon->face_read = true;
    return 0;
}

int part_face(struct entry_target *t, const char *text, struct error *e)
{
    if (*text == '\0')
        return error_set(e, ERROR_INPUT, "face: a length is right, such as 95mm");
    if (part_entry(t, part_find(part_face_rows, "face"), t->coupon, text, e) < 0)
        return error_where(e, "face");
    t->coupon->face_read = true;
    return 0;
}
