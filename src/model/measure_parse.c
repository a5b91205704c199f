/* Reading a result: a quantity that may be at least, at most or between. */
#include "model/quantity.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "base/text.h"
#include "model/refuse.h"

enum { TEXT_SIZE = 96 };

/* What may stand before a limit, and how the limit is written again. */
static const struct {
    const char *mark;
    enum measure_kind kind;
} marks[] = {
    {">=", MEASURE_AT_LEAST},       {"≥", MEASURE_AT_LEAST},      {">", MEASURE_AT_LEAST},
    {"at least", MEASURE_AT_LEAST}, {"<=", MEASURE_AT_MOST},      {"≤", MEASURE_AT_MOST},
    {"<", MEASURE_AT_MOST},         {"at most", MEASURE_AT_MOST},
};

static const char *const betweens[] = {"..", "…", " to "};

struct reading {
    enum dimension dimension;
    enum unit_system system;
    const struct unit *bare;
    struct measure *out;
    char *entry;
    struct error *e;
};

static int parse(const struct reading *r, const char *text, struct quantity *q)
{
    return quantity_parse_in(text, r->dimension, r->system, r->bare, q, r->e);
}

static void entry_set(const struct reading *r, const char *before, const char *a, const char *b)
{
    bool two = b[0] != '\0';

    /* An entry that does not fit is left out; the value is then shown from the number. */
    if (r->entry != NULL &&
        snprintf(r->entry, ENTRY_SIZE, "%s%s%s%s", before, a, two ? " to " : "", b) >= ENTRY_SIZE)
        r->entry[0] = '\0';
}

static int read_limit(const struct reading *r, const char *s, enum measure_kind kind)
{
    struct quantity q;

    if (parse(r, s, &q) != 0)
        return -1;
    *r->out = kind == MEASURE_EXACT      ? measure_exact(q.value)
              : kind == MEASURE_AT_LEAST ? measure_at_least(q.value)
                                         : measure_at_most(q.value);
    entry_set(r,
              kind == MEASURE_EXACT      ? ""
              : kind == MEASURE_AT_LEAST ? "at least "
                                         : "at most ",
              q.entry, "");
    return 0;
}

/* A low end without unit takes that of the high end: 40..60 mm. */
static int read_low(const struct reading *r, const char *low, const struct unit *unit,
                    struct quantity *out)
{
    char with_unit[TEXT_SIZE + 32], *end;
    double bare;

    if (unit != NULL && text_number(low, (const char **)&end, &bare) && *end == '\0') {
        snprintf(with_unit, sizeof with_unit, "%s %s", low, unit->symbol);
        return parse(r, with_unit, out);
    }
    return parse(r, low, out);
}

static int read_between(const struct reading *r, const char *text, char *low, char *high)
{
    struct quantity from, to;
    char shown[QUOTE_SIZE];

    if (parse(r, high, &to) != 0 || read_low(r, text_trim(low), to.unit, &from) != 0)
        return -1;
    if (from.value > to.value)
        return error_set(r->e, ERROR_INPUT, "'%s': the smaller value comes first",
                         quote_text(shown, text));
    *r->out = measure_between(from.value, to.value);
    entry_set(r, "", from.entry, from.value < to.value ? to.entry : "");
    return 0;
}

/* Takes a "+" behind the number out of the text: "135+", "135+ °". Not that of "1e+3" or "+5". */
static bool cut_plus(char *s)
{
    char *plus = strrchr(s, '+');

    if (plus == NULL || plus == s || strchr("eE", plus[-1]) != NULL)
        return false;
    memmove(plus, plus + 1, strlen(plus));
    return true;
}

int measure_parse_in(const char *text, enum dimension dimension, enum unit_system system,
                     const struct unit *bare, struct measure *out, char entry[ENTRY_SIZE],
                     struct error *e)
{
    struct reading r = {dimension, system, bare, out, entry, e};
    char work[TEXT_SIZE], *s, *at;

    *out = measure_missing();
    if (entry != NULL)
        entry[0] = '\0';
    if (snprintf(work, sizeof work, "%s", text) >= (int)sizeof work || !text_valid(text))
        return refuse_form(e, text, dimension);
    s = text_trim(work);
    if (*s == '\0' || strcmp(s, "–") == 0 || strcmp(s, "-") == 0)
        return 0;
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (strncasecmp(s, marks[i].mark, strlen(marks[i].mark)) == 0)
            return read_limit(&r, s + strlen(marks[i].mark), marks[i].kind);
    for (size_t i = 0; i < sizeof betweens / sizeof *betweens; i++)
        if ((at = strstr(s, betweens[i])) != NULL) {
            *at = '\0';
            return read_between(&r, text, s, at + strlen(betweens[i]));
        }
    return read_limit(&r, s, cut_plus(s) ? MEASURE_AT_LEAST : MEASURE_EXACT);
}

int measure_parse(const char *text, enum dimension dimension, enum unit_system system,
                  struct measure *out, char entry[ENTRY_SIZE], struct error *e)
{
    return measure_parse_in(text, dimension, system, NULL, out, entry, e);
}
