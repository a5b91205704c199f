/* Setting a row of a part from what was typed. */
#include "model/part.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/coupon.h"
#include "model/part_word.h"
#include "model/refuse.h"

int part_set_quantity(const struct part_row *row, void *base, const struct quantity *q,
                      struct intake *in)
{
    assert(row->kind == PART_NUMBER);
    if (intake_judge(in, &row->as, measure_exact(q->value), q->bare) < 0)
        return -1;
    if (!intake_asks(in))
        *(double *)((char *)base + row->offset) = q->value;
    return 0;
}

static int set_number(const struct part_row *row, void *base, const char *text, struct intake *in)
{
    struct quantity q;

    if (*text == '\0') {
        *(double *)((char *)base + row->offset) = NAN;
        return 0;
    }
    if (quantity_parse(text, row->as.dimension, in->units, &q, in->error) < 0)
        return error_where(in->error, "%s", row->as.label);
    return part_set_quantity(row, base, &q, in);
}

static int set_text(const struct part_row *row, char **to, const char *text, struct error *e)
{
    bool lines = row->kind == PART_LINES;

    if (!text_valid(text) || (!lines && strpbrk(text, "\n\t") != NULL))
        return error_set(e, ERROR_INPUT, "%s: %splain text is right", row->as.label,
                         lines ? "" : "one line of ");
    free(*to);
    *to = *text == '\0' ? NULL : mem_copy(text);
    return 0;
}

static int set_when(const struct part_row *row, struct instant *to, const char *text,
                    struct error *e)
{
    char shown[QUOTE_SIZE], why[128], here[80], rest[40];
    struct instant when;

    /* A day alone means noon; the offset is the one the row has. */
    clock_format(here, sizeof here, *to);
    snprintf(rest, sizeof rest, "T12:00:00%s", here + strlen(here) - strlen("+01:00"));
    if (!clock_parse_part(text, rest, &when))
        return error_set(e, ERROR_INPUT, "%s: '%s'; 2026-03-07 or 2026-03-07 14:05 is right",
                         row->as.label, quote_text(shown, text));
    if (!clock_credible(when, why, sizeof why))
        return error_set(e, ERROR_INPUT, "%s: '%s' %s", row->as.label, quote_text(shown, text),
                         why);
    *to = when;
    return 0;
}

static int refuse_word(const struct part_row *row, const char *text, struct error *e)
{
    char *choices = part_choices(row), *list = list_choices(choices), shown[QUOTE_SIZE];

    error_set(e, ERROR_INPUT, "%s: '%s' is none of %s", row->as.label, quote_text(shown, text),
              list);
    free(list);
    free(choices);
    return -1;
}

static int set_word(const struct part_row *row, void *base, const char *text, struct error *e)
{
    int found = *text == '\0' ? 0 : part_word_find(row->kind, text);

    if (found < 0)
        return refuse_word(row, text, e);
    part_set_whole(row, base, found);
    return 0;
}

/* "4013", also with its name behind it. Any number of the standard is taken, but one that is not
 * usual on a broken face is asked about. */
static int set_flaw(int *to, const char *text, struct intake *in)
{
    char *end, shown[QUOTE_SIZE];
    long number = strtol(text, &end, 10);

    if (*text == '\0')
        number = 0;
    else if (end == text || (*end != '\0' && *end != ' ') || number < 100 || number > 9999)
        return error_set(in->error, ERROR_INPUT,
                         "'%s' is no ISO 6520-1 number, such as 4013 (lack of root fusion)",
                         quote_text(shown, text));
    if (number != 0 && flaw_kind_find((int)number) == NULL)
        snprintf(in->question, sizeof in->question,
                 "flaw %ld is not one usually read on a broken face; is the number right?", number);
    if (!intake_asks(in))
        *to = (int)number;
    return 0;
}

int part_set_from_text(const struct part_row *row, void *base, const char *text, struct intake *in)
{
    void *to = (char *)base + row->offset;

    in->question[0] = '\0';
    if (*text == '\0' && row->needed)
        return error_set(in->error, ERROR_INPUT, "%s cannot be left empty", row->as.label);
    switch (row->kind) {
    case PART_NUMBER:
        return set_number(row, base, text, in);
    case PART_TEXT:
    case PART_LINES:
        return set_text(row, to, text, in->error);
    case PART_WHEN:
        return set_when(row, to, text, in->error);
    case PART_ISO6520:
        return set_flaw(to, text, in);
    default:
        return set_word(row, base, text, in->error);
    }
}

int coupon_set_part(struct coupon *c, const struct part_row *row, void *base, const char *text,
                    struct intake *in)
{
    double *number = (void *)((char *)base + row->offset), before;
    bool sound = coupon_check_face(c, in->units, NULL) == 0;

    if (row->kind != PART_NUMBER)
        return part_set_from_text(row, base, text, in);
    before = *number;
    if (part_set_from_text(row, base, text, in) < 0)
        return -1;
    if (!sound || coupon_check_face(c, in->units, in->error) == 0)
        return 0;
    *number = before;
    return -1;
}
