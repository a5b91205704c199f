/* Reading a result: a quantity that may be at least, at most or between. */
#include "model/quantity.h"

#include <stdio.h>
#include <string.h>
#include <strings.h>

#include "base/text.h"
#include "model/refuse.h"

enum { TEXT_SIZE = 96 };

/* What may stand before a limit, and how the limit is written again. */
struct mark {
    const char *mark;
    struct measure (*make)(double limit);
    const char *entry;
};
static const struct mark plain = {"", measure_exact, ""};
static const struct mark held = {"+", measure_at_least, "at least "};
static const struct mark marks[] = {
    {">=", measure_at_least, "at least "}, {"≥", measure_at_least, "at least "},
    {">", measure_at_least, "at least "},  {"at least", measure_at_least, "at least "},
    {"<=", measure_at_most, "at most "},   {"≤", measure_at_most, "at most "},
    {"<", measure_at_most, "at most "},    {"at most", measure_at_most, "at most "},
};

static const char *const betweens[] = {"..", "…", " to "};

struct reading {
    const struct quantity_form *as;
    struct measure *out;
    char *entry;
    struct error *e;
};

static void entry_set(const struct reading *r, const char *before, const char *a, const char *b)
{
    bool two = b[0] != '\0';

    /* An entry that does not fit is left out; the value is then shown from the number. */
    if (r->entry != NULL &&
        snprintf(r->entry, ENTRY_SIZE, "%s%s%s%s", before, a, two ? " to " : "", b) >= ENTRY_SIZE)
        r->entry[0] = '\0';
}

static int read_limit(const struct reading *r, const char *s, const struct mark *mark)
{
    struct quantity q;

    if (quantity_parse_as(s, r->as, &q, r->e) != 0)
        return -1;
    *r->out = mark->make(q.value);
    entry_set(r, mark->entry, q.entry, "");
    return 0;
}

/* A low end without unit takes that of the high end: 40..60 mm. */
static int read_low(const struct reading *r, const char *low, const struct unit *unit,
                    struct quantity *out)
{
    char with_unit[TEXT_SIZE + 32] = "";
    const char *end;
    double bare;

    if (unit != NULL && text_number(low, &end, &bare) && *end == '\0')
        snprintf(with_unit, sizeof with_unit, "%s %s", low, unit->symbol);
    return quantity_parse_as(with_unit[0] != '\0' ? with_unit : low, r->as, out, r->e);
}

static int read_between(const struct reading *r, const char *text, char *low, char *high)
{
    struct quantity from, to;
    char shown[QUOTE_SIZE];

    if (quantity_parse_as(high, r->as, &to, r->e) != 0 ||
        read_low(r, text_trim(low), to.unit, &from) != 0)
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

int measure_parse(const char *text, const struct quantity_form *as, struct measure *out,
                  char entry[ENTRY_SIZE], struct error *e)
{
    struct reading r = {as, out, entry, e};
    char work[TEXT_SIZE], *s, *at;

    *out = measure_missing();
    if (entry != NULL)
        entry[0] = '\0';
    if (snprintf(work, sizeof work, "%s", text) >= (int)sizeof work || !text_valid(text))
        return refuse_form(e, text, as->dimension);
    s = text_trim(work);
    if (*s == '\0' || strcmp(s, "–") == 0 || strcmp(s, "-") == 0)
        return 0;
    for (size_t i = 0; i < sizeof marks / sizeof *marks; i++)
        if (strncasecmp(s, marks[i].mark, strlen(marks[i].mark)) == 0)
            return read_limit(&r, s + strlen(marks[i].mark), &marks[i]);
    for (size_t i = 0; i < sizeof betweens / sizeof *betweens; i++)
        if ((at = strstr(s, betweens[i])) != NULL) {
            *at = '\0';
            return read_between(&r, text, s, at + strlen(betweens[i]));
        }
    return read_limit(&r, s, cut_plus(s) ? &held : &plain);
}
