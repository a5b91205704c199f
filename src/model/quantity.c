/*
 * Reading quantities. A text is tidied, then read as a gauge, as a clock time, or as one or more
 * numbers with units ("1 min 20 s", "1 ft 6 in"); what was written is kept as the entry.
 */
#include "model/quantity.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/text.h"
#include "model/amount.h"
#include "model/gauge.h"
#include "model/refuse.h"

/* An entry must be readable again, so the longest text and the longest entry are the same. */
enum { TEXT_SIZE = ENTRY_SIZE };

/* The state of reading one text. */
struct reading {
    const char *text; /* as given, for messages */
    const struct quantity_form *as;
    struct quantity *out;
    struct error *e;
};

static int not_one(const struct reading *r)
{
    return refuse_form(r->e, r->text, r->as->dimension);
}

/* Copies `text` without outer space, with plain minus signs and without control characters. */
static int tidy(const struct reading *r, char work[TEXT_SIZE])
{
    static const char *const minus[] = {"−", "‐", "‑", "–"};
    char *put = work;
    const char *s = r->text + strspn(r->text, " \t\n");

    if (strlen(r->text) >= TEXT_SIZE || !text_valid(r->text))
        return not_one(r);
    while (*s != '\0') {
        size_t used = 0;

        for (size_t i = 0; *s == minus[0][0] && i < sizeof minus / sizeof *minus && used == 0; i++)
            used = text_starts(s, minus[i]) ? strlen(minus[i]) : 0;
        *put++ = used > 0 ? '-' : *s == '\t' || *s == '\n' ? ' ' : *s;
        s += used > 0 ? used : 1;
    }
    *put = '\0';
    return text_trim(work)[0] == '\0' ? not_one(r) : 0;
}

static int finish(const struct reading *r, double value, const struct unit *unit)
{
    char shown[QUOTE_SIZE];

    if (!isfinite(value))
        return error_set(r->e, ERROR_INPUT, "'%s' is too large", quote_text(shown, r->text));
    if (r->as->dimension == DIM_COUNT && (value != floor(value) || fabs(value) > 1e9))
        return not_one(r);
    r->out->value = value;
    r->out->unit = unit;
    return 0;
}

/* Adds to the entry; false when it no longer fits. */
static bool entry_add(struct quantity *q, const char *s, size_t length)
{
    size_t used = strlen(q->entry);

    if (used + length >= sizeof q->entry)
        return false;
    for (size_t i = 0; i < length; i++)
        q->entry[used + i] = s[i] == ',' ? '.' : s[i];
    q->entry[used + length] = '\0';
    return true;
}

/* "11 ga", "11 gauge (manufacturers' standard)": false when the text does not speak of gauges. */
static bool speaks_of_gauge(const char *s)
{
    s += strspn(s, "0123456789");
    s += strspn(s, " ");
    return strncasecmp(s, "ga", 2) == 0;
}

static int read_gauge(const struct reading *r, const char *s)
{
    static const char *const words[] = {"gauge", "gage", "ga"};
    long number = strtol(s, NULL, 10);
    char shown[QUOTE_SIZE];
    const char *rest = s + strspn(s, "0123456789");
    double mm = gauge_mm(number > GAUGE_LAST ? GAUGE_LAST + 1 : (int)number);
    size_t used = 0;

    rest += strspn(rest, " ");
    for (size_t i = 0; i < sizeof words / sizeof *words && used == 0; i++)
        used = strncasecmp(rest, words[i], strlen(words[i])) == 0 ? strlen(words[i]) : 0;
    rest += used;
    rest += strspn(rest, " .(");
    if (*rest != '\0' && strncasecmp(rest, GAUGE_TABLE, strlen(GAUGE_TABLE)) != 0)
        return error_set(r->e, ERROR_INPUT,
                         "'%s': only the %s gauge of steel sheet is known; write the thickness, "
                         "such as 1.6 mm or 0.064 in",
                         quote_text(shown, r->text), GAUGE_TABLE);
    if (isnan(mm))
        return error_set(r->e, ERROR_INPUT,
                         "'%s': the %s gauge runs from %d to %d; write 11 ga, 3 mm or 5/16 in",
                         quote_text(shown, r->text), GAUGE_TABLE, GAUGE_FIRST, GAUGE_LAST);
    snprintf(r->out->entry, sizeof r->out->entry, "%ld ga (%s)", number, GAUGE_TABLE);
    return finish(r, mm, unit_find("in", 2, DIM_LENGTH));
}

/* "1:20" is minutes and seconds, "1:02:03" hours too. */
static int read_clock(const struct reading *r, const char *s)
{
    double total = 0;
    int parts = 0;

    if (strlen(s) > strspn(s, "0123456789:.,"))
        return not_one(r);
    for (const char *at = s;; at++) {
        double part;

        if (!isdigit((unsigned char)*at) || !text_number(at, &at, &part) ||
            (parts > 0 && part >= 60) || ++parts > 3)
            return not_one(r);
        total = total * 60 + part;
        if (*at == '\0')
            break;
        if (*at != ':' || part != floor(part))
            return not_one(r);
    }
    entry_add(r->out, s, strlen(s));
    return finish(r, total, unit_base(DIM_TIME));
}

static bool in_parts(enum dimension dimension)
{
    return dimension == DIM_TIME || dimension == DIM_LENGTH;
}

/* Bytes of the unit written at `s`: up to the next number where a quantity may have parts. */
static size_t unit_length(const char *s, enum dimension dimension)
{
    size_t length = in_parts(dimension) ? strcspn(s, "0123456789") : strlen(s);

    while (length > 0 && (s[length] != '\0') && strchr(" -+.,", s[length - 1]) != NULL)
        length--;
    return length;
}

/* The unit of a number nothing is written behind. Fractions of a length are inches in any book. */
static const struct unit *bare_unit(const struct reading *r, bool fraction)
{
    bool inch = fraction && r->as->dimension == DIM_LENGTH;

    if (r->as->bare != NULL)
        return r->as->bare;
    r->out->bare = !inch;
    return unit_shown(r->as->dimension, inch ? UNITS_INCH : r->as->system);
}

/* One number and its unit at *s, added to the entry. */
static int read_part(const struct reading *r, const char **s, double *base,
                     const struct unit **unit)
{
    const char *start = *s, *end;
    bool fraction;
    size_t length;
    double value;

    if (!amount_read(start, &end, &value, &fraction))
        return not_one(r);
    *s = end + strspn(end, " ");
    length = unit_length(*s, r->as->dimension);
    if (length == 0 && r->out->entry[0] != '\0' && r->as->dimension == DIM_LENGTH)
        return not_one(r); /* feet and then what? */
    *unit = length == 0 ? bare_unit(r, fraction) : unit_find(*s, length, r->as->dimension);
    if (length > 0 && *unit == NULL)
        return refuse_unit(r->e, r->text, *s, length, r->as->dimension);
    if ((r->out->entry[0] != '\0' && !entry_add(r->out, " ", 1)) ||
        !entry_add(r->out, start, (size_t)(end - start)))
        return not_one(r);
    if (*unit != NULL && ((strcmp((*unit)->symbol, "°") != 0 && !entry_add(r->out, " ", 1)) ||
                          !entry_add(r->out, (*unit)->symbol, strlen((*unit)->symbol))))
        return not_one(r);
    *base = *unit == NULL ? value : unit_to_base(*unit, value);
    *s += length + strspn(*s + length, " ");
    return 0;
}

/* "1m20s", "1 ft 6 in": every part in a smaller unit than the one before. */
static int read_parts(const struct reading *r, const char *s)
{
    const struct unit *first = NULL, *before = NULL, *unit = NULL;
    double total = 0, part = 0;

    do {
        if (read_part(r, &s, &part, &unit) != 0)
            return -1;
        if (before != NULL && (unit->scale >= before->scale || total < 0 || part < 0))
            return not_one(r);
        first = first == NULL ? unit : first;
        before = unit;
        total += part;
    } while (*s != '\0' && in_parts(r->as->dimension));
    return *s == '\0' ? finish(r, total, first) : not_one(r);
}

int quantity_parse_as(const char *text, const struct quantity_form *as, struct quantity *out,
                      struct error *e)
{
    struct reading r = {text, as, out, e};
    char work[TEXT_SIZE];

    assert(as->dimension < DIMENSIONS);
    memset(out, 0, sizeof *out);
    if (tidy(&r, work) != 0)
        return -1;
    if (as->dimension == DIM_TIME && strchr(work, ':') != NULL)
        return read_clock(&r, work);
    if (as->dimension == DIM_LENGTH && speaks_of_gauge(work))
        return read_gauge(&r, work);
    return read_parts(&r, work);
}

int quantity_parse(const char *text, enum dimension dimension, enum unit_system system,
                   struct quantity *out, struct error *e)
{
    return quantity_parse_as(text, &(struct quantity_form){dimension, system, NULL}, out, e);
}
