#include "cli/parts.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "cli/pairs.h"
#include "model/part.h"
#include "model/quantity.h"

/* A value is taken as entered; what is asked about it goes to the questions. */
static struct intake begin_intake(const struct entry_target *t, struct error *e)
{
    return (struct intake){.units = t->s->units, .sure = true, .error = e};
}

static int end_intake(struct entry_target *t, const struct intake *in, int rc)
{
    if (rc == 0 && in->question[0] != '\0')
        page_add(t->questions, BLOCK_ITEM, "%s", in->question);
    return rc;
}

int part_entry(struct entry_target *t, const struct part_row *row, void *base, const char *text,
               struct error *e)
{
    struct intake in = begin_intake(t, e);

    return end_intake(t, &in, part_set_from_text(row, base, text, &in));
}

/* An end of a flaw, "from" or "to". */
static int set_end(struct entry_target *t, struct flaw *flaw, const char *key,
                   const struct quantity *q, struct error *e)
{
    struct intake in = begin_intake(t, e);

    return end_intake(t, &in, part_set_quantity(part_find(part_flaw_rows, key), flaw, q, &in));
}

/* Which pass is meant; no row of one. */
static bool is_number(enum part_id id, const struct pair *pair)
{
    return id == PART_PASS && text_same(pair->key, "number");
}

static int refuse_key(enum part_id id, const char *key, struct error *e)
{
    struct text known = {0};

    if (id == PART_PASS)
        text_add(&known, "number");
    for (const struct part_row *row = part_tables[id].rows; row->key != NULL; row++)
        text_addf(&known, "%s%s", known.length > 0 ? ", " : "", row->key);
    error_set(e, ERROR_INPUT, "a %s has no '%s'; it has %s", part_tables[id].name, key,
              text_str(&known));
    text_free(&known);
    return -1;
}

/* The pass that number=N names, or a further one. */
static int find_pass(struct coupon *c, const struct pairs *pairs, void **out, struct error *e)
{
    size_t number = 0;

    for (size_t i = 0; i < pairs->count; i++) {
        const char *value = pairs->items[i].value;
        char *end;

        if (!is_number(PART_PASS, &pairs->items[i]))
            continue;
        number = strtoul(value, &end, 10);
        if (!isdigit((unsigned char)*value) || *end != '\0' || number < 1 ||
            number > c->pass_count + 1)
            return error_set(e, ERROR_INPUT, "number=%s: the next pass is number %zu", value,
                             c->pass_count + 1);
    }
    *out = number > 0 && number <= c->pass_count ? part_item(c, PART_PASS, number - 1)
                                                 : part_add(c, PART_PASS);
    return 0;
}

static int set_pairs(struct entry_target *t, enum part_id id, void *base, const struct pairs *pairs,
                     struct error *e)
{
    for (size_t i = 0; i < pairs->count; i++) {
        const struct pair *pair = &pairs->items[i];
        const struct part_row *row = part_find(part_tables[id].rows, pair->key);

        if (is_number(id, pair))
            continue;
        if (row == NULL)
            return refuse_key(id, pair->key, e);
        if (part_entry(t, row, base, pair->value, e) < 0)
            return -1;
    }
    return 0;
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

/* A part as KEY=VALUE words. */
static int set_part(struct entry_target *t, enum part_id id, const char *text, struct error *e)
{
    void *base = &t->coupon->bend;
    struct pairs pairs;
    int rc = pairs_read(&pairs, text, e);

    if (rc == 0 && pairs.count == 0)
        rc = error_set(e, ERROR_USAGE, "KEY=VALUE is missing, such as %s",
                       id == PART_PASS ? "arc=12s" : "after=122");
    if (rc == 0 && id == PART_PASS)
        rc = find_pass(t->coupon, &pairs, &base, e);
    if (rc == 0)
        rc = set_pairs(t, id, base, &pairs, e);
    if (rc == 0 && id == PART_BEND)
        rc = check_bend(base, e);
    pairs_free(&pairs);
    return rc < 0 ? error_where(e, "%s", part_tables[id].name) : 0;
}

int part_pass(struct entry_target *t, const char *text, struct error *e)
{
    return set_part(t, PART_PASS, text, e);
}

int part_bend(struct entry_target *t, const char *text, struct error *e)
{
    return set_part(t, PART_BEND, text, e);
}

/* Splits "0-12mm" or "1/2..3/4in" in place; NULL when there is no second end. */
static char *split_range(char *range)
{
    char *dots = strstr(range, ".."), *cut = dots != NULL ? dots : strchr(range, '-');

    if (cut == NULL)
        return NULL;
    *cut = '\0';
    return cut + (dots != NULL ? 2 : 1);
}

/* "FROM-TO", cut up; a bare first number takes the unit of the second. */
static int read_range(char *range, enum unit_system units, struct quantity *first,
                      struct quantity *last, struct error *e)
{
    char *to = split_range(range);
    const char *end;
    double bare;

    if (to == NULL)
        return error_set(e, ERROR_INPUT, "'%s' is not FROM-TO, such as 0-12 or 0-12mm", range);
    if (quantity_parse(to, DIM_LENGTH, units, last, e) < 0)
        return -1;
    *first = *last;
    if (text_number(range, &end, &bare) && *end == '\0')
        first->value = unit_to_base(last->unit, bare);
    else if (quantity_parse(range, DIM_LENGTH, units, first, e) < 0)
        return -1;
    if (last->value < first->value)
        return error_set(e, ERROR_INPUT,
                         "%s to %s runs backwards; both are measured from the start of the bead",
                         range, to);
    return 0;
}

/* "FROM-TO NUMBER [NOTE]", cut up. */
static int set_flaw(struct entry_target *t, struct flaw *flaw, char *text, struct error *e)
{
    char *note = text_trim(text), *range = strsep(&note, " \t"), *number = strsep(&note, " \t");
    struct quantity first, last;

    if (number == NULL)
        return error_set(e, ERROR_INPUT, "'%s' is not FROM-TO NUMBER, such as '0-12 4013'", range);
    if (read_range(range, t->s->units, &first, &last, e) < 0 ||
        set_end(t, flaw, "from", &first, e) < 0 || set_end(t, flaw, "to", &last, e) < 0 ||
        part_entry(t, part_find(part_flaw_rows, "number"), flaw, number, e) < 0)
        return -1;
    return note == NULL
               ? 0
               : part_entry(t, part_find(part_flaw_rows, "note"), flaw, text_trim(note), e);
}

int part_flaw(struct entry_target *t, const char *text, struct error *e)
{
    struct flaw *flaw = coupon_add_flaw(t->coupon);
    char *copy = mem_copy(text);
    int rc = set_flaw(t, flaw, copy, e);

    free(copy);
    if (rc < 0) {
        part_remove(t->coupon, PART_FLAW, t->coupon->flaw_count - 1);
        return error_where(e, "flaw");
    }
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
