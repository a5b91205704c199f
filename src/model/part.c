#include "model/part.h"

#include <math.h>
#include <stdlib.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/coupon.h"
#include "model/part_word.h"

static const void *at(const struct part_row *row, const void *base)
{
    return (const char *)base + row->offset;
}

const struct part_row *part_find(const struct part_row *rows, const char *key)
{
    for (; rows->key != NULL; rows++)
        if (text_same(rows->key, key))
            return rows;
    return NULL;
}

static char *show_number(const struct part_row *row, double value, enum unit_system units)
{
    char shown[64] = "";

    if (!isnan(value))
        quantity_format(shown, sizeof shown, value, row->as.dimension, units);
    return mem_copy(shown);
}

static char *show_flaw(int number)
{
    const struct flaw_kind *kind = flaw_kind_find(number);

    return number == 0 ? mem_copy("")
                       : mem_format("%d%s%s", number, kind == NULL ? "" : " ",
                                    kind == NULL ? "" : kind->name);
}

static char *show_when(const struct instant *when)
{
    char shown[40];

    clock_format_short(shown, sizeof shown, *when);
    return mem_copy(shown);
}

char *part_show(const struct part_row *row, const void *base, enum unit_system units)
{
    const char *text;

    switch (row->kind) {
    case PART_NUMBER:
        return show_number(row, *(const double *)at(row, base), units);
    case PART_ISO6520:
        return show_flaw(part_whole(row, base));
    case PART_WHEN:
        return show_when(at(row, base));
    case PART_TEXT:
    case PART_LINES:
        text = *(char *const *)at(row, base);
        return mem_copy(text == NULL ? "" : text);
    default:
        return mem_copy(part_word(row->kind, part_whole(row, base)));
    }
}

char *part_summary(const struct part_row *rows, const void *base, enum unit_system units)
{
    struct text all = {0};

    for (size_t i = 0; rows[i].key != NULL; i++) {
        char *shown = part_show(&rows[i], base, units);

        if (*shown != '\0')
            text_addf(&all, "%s%s%s", all.length > 0 ? ", " : "",
                      rows[i].brief == NULL ? "" : rows[i].brief, shown);
        free(shown);
    }
    if (all.length == 0)
        text_add(&all, "nothing said yet");
    return text_steal(&all);
}

static char *flaw_choices(void)
{
    struct text all = {0};
    const struct flaw_kind *kind;

    for (size_t i = 0; (kind = flaw_kind_at(i)) != NULL; i++)
        text_addf(&all, "%s%d %s", i == 0 ? "" : "|", kind->iso6520, kind->name);
    return text_steal(&all);
}

char *part_choices(const struct part_row *row)
{
    struct text all = {0};
    const char *word;

    if (row->kind == PART_ISO6520)
        return flaw_choices();
    if (row->kind == PART_NUMBER || part_is_text(row) || row->kind == PART_WHEN)
        return NULL;
    for (int i = 0; (word = part_word(row->kind, i)) != NULL; i++)
        if (*word != '\0')
            text_addf(&all, "%s%s", all.length == 0 ? "" : "|", word);
    return text_steal(&all);
}

char *part_write(const struct part_row *row, const void *base)
{
    char when[40];

    switch (row->kind) {
    case PART_NUMBER:
        return isnan(*(const double *)at(row, base))
                   ? NULL
                   : mem_format("%a", *(const double *)at(row, base));
    case PART_TEXT:
    case PART_LINES:
        return mem_copy(*(char *const *)at(row, base));
    case PART_WHEN:
        clock_format(when, sizeof when, *(const struct instant *)at(row, base));
        return mem_copy(when);
    default:
        return mem_format("%d", part_whole(row, base));
    }
}

/* Whole numbers: those that have a word, and any number a flaw may have. */
static bool can_be(const struct part_row *row, double number)
{
    return number >= 0 && number <= 9999 && number == floor(number) &&
           (row->kind == PART_ISO6520 || part_word(row->kind, (int)number) != NULL);
}

void part_read(const struct part_row *row, void *base, const char *written)
{
    void *to = (char *)base + row->offset;
    double number = strtod(written, NULL);

    if (part_is_text(row)) {
        if (*written != '\0') {
            free(*(char **)to);
            *(char **)to = mem_copy(written);
        }
    } else if (row->kind == PART_WHEN) {
        clock_parse(written, to);
    } else if (row->kind == PART_NUMBER) {
        if (range_holds(row->as.can, number))
            *(double *)to = number;
    } else if (can_be(row, number)) {
        part_set_whole(row, base, (int)number);
    }
}
