/* What is typed, made from the tables: usual, unusual, nothing, and what has to be refused. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/coupon.h"
#include "model/part_word.h"
#include "tui/widget/form.h"
#include "walk.h"

static const void *touched[2 * VARIABLES];
static size_t touched_count;

static bool was_touched(const void *row)
{
    for (size_t i = 0; i < touched_count; i++)
        if (touched[i] == row)
            return true;
    return false;
}

static void touch(const void *row)
{
    if (!was_touched(row))
        touched[touched_count++] = row;
}

bool all_typed(void)
{
    static const struct part_row *const tables[] = {part_pass_rows, part_bend_rows,
                                                    part_flaw_rows, part_coupon_rows,
                                                    part_face_rows, part_note_rows};

    for (size_t i = 0; i < walk.variables.count; i++)
        if (!was_touched(&walk.variables.items[i]))
            return false;
    for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
        for (size_t row = 0; row < row_count(tables[i]); row++)
            if (!was_touched(&tables[i][row]))
                return false;
    return true;
}

static struct entry entry_of(int verdict, const char *text, const char *is)
{
    struct entry e = {.verdict = verdict};

    snprintf(e.text, WORDS, "%s", text);
    snprintf(e.is, WORDS, "%s", is);
    return e;
}

/* A number within the row's limits and its tidy form; `is` holds the number alone. */
struct entry number_entry(const struct variable *v)
{
    const struct unit *unit = v->dimension == DIM_NUMBER ? NULL : unit_base(v->dimension);
    const char *symbol = unit == NULL ? "" : unit->symbol;
    bool usual_limits = !range_open(v->usual) && isfinite(v->usual.high);
    bool limits = !range_open(v->can) && isfinite(v->can.high);
    double low = usual_limits ? v->usual.low : 1, high = usual_limits ? v->usual.high : low + 80;
    double number = low + (high - low) * (double)(1 + roll(7)) / 8;
    struct entry e = {.verdict = USUAL};

    if (slip())
        return entry_of(REFUSED, roll(2) ? "lots" : "7 nonsense", "");
    if (v->dimension == DIM_COUNT) {
        number = ceil(low);
    } else if (roll(10) == 0 && !(limits && v->can.high <= high)) {
        number = limits ? (high + v->can.high) / 2 : high * 2;
        e.verdict = usual_limits ? UNUSUAL : USUAL;
    }
    if (slip() && limits) {
        number = v->can.high * 2 + 1;
        e.verdict = REFUSED;
    }
    snprintf(e.text, WORDS, "%.10g%s%s", number,
             *symbol == '\0' || strcmp(symbol, "°") == 0 ? "" : " ", symbol);
    snprintf(e.is, WORDS, "%a", strtod(e.text, NULL));
    return e;
}

/* A limit now and then, where the value is a result. */
static struct entry measure_entry(const struct variable *v)
{
    struct entry e = number_entry(v), limit = e;

    if (e.verdict == REFUSED)
        return e;
    if (v->role == ROLE_RESULT && roll(3) == 0) {
        snprintf(limit.text, WORDS, ">=%.200s", e.text);
        snprintf(limit.is, WORDS, "at_least %.60s inf at least %.100s", e.is, e.text);
    } else {
        snprintf(limit.is, WORDS, "exact %.60s %.60s %.100s", e.is, e.is, e.text);
    }
    return limit;
}

static struct entry words_entry(void)
{
    char words[WORDS];

    snprintf(words, sizeof words, "%s %zu", roll(2) ? "wörds \\ n" : "abc", roll(1000));
    return entry_of(USUAL, words, words);
}

static struct entry category_entry(const struct variable *v)
{
    char *choice = v->choices == NULL ? NULL : choice_at(v->choices, roll(2));
    size_t digits = choice == NULL ? 0 : strspn(choice, "0123456789");
    struct entry e = words_entry();
    char longer[WORDS] = "";

    memset(longer, 'x', 201);
    if (slip()) {
        e = entry_of(REFUSED, v->choices_only ? "nonsense" : longer, "");
    } else if (v->choices_only || (choice != NULL && roll(2))) {
        e = entry_of(USUAL, choice, choice);
        if (digits > 0 && choice[digits] == ' ') /* the number is what is kept */
            e.is[digits] = '\0';
    }
    free(choice);
    return e;
}

struct entry value_entry(const struct variable *v)
{
    touch(v);
    if (v->group == GROUP_DERIVED)
        return entry_of(REFUSED, "5", "");
    if (roll(3) == 0)
        return entry_of(USUAL, "", "");
    return v->kind == VARIABLE_CATEGORY ? category_entry(v) : measure_entry(v);
}

static struct entry when_entry(void)
{
    static const char *const no_dates[] = {"0026-03-01", "2999-03-01", "tomorrow", "2026-02-30"};
    char text[WORDS], is[WORDS];
    int day = 1 + (int)roll(6), hour = 10 + (int)roll(10);

    if (slip())
        return entry_of(REFUSED, no_dates[roll(4)], "");
    snprintf(text, sizeof text, "2026-03-%02d %02d:05", day, hour);
    snprintf(is, sizeof is, "2026-03-%02dT%02d:05:00+01:00", day, hour);
    return entry_of(USUAL, text, is);
}

struct entry flaw_entry(void)
{
    char number[WORDS];

    if (slip())
        return entry_of(REFUSED, "12", "");
    if (roll(8) == 0)
        return entry_of(UNUSUAL, "9999", "9999");
    snprintf(number, sizeof number, "%d", flaw_kind_at(roll(5))->iso6520);
    return entry_of(USUAL, number, number);
}

/* Marks are not given twice. */
static struct entry mark_entry(void)
{
    static unsigned marks;
    char mark[WORDS];

    snprintf(mark, sizeof mark, "M%u", marks++);
    return entry_of(USUAL, mark, mark);
}

static struct entry word_entry(enum part_kind kind)
{
    int count = 0;
    char is[WORDS];

    if (slip())
        return entry_of(REFUSED, "nonsense", "");
    while (part_word(kind, count) != NULL)
        count++;
    count = 1 + (int)roll((size_t)count - 1);
    snprintf(is, sizeof is, "%d", count);
    return entry_of(USUAL, part_word(kind, count), is);
}

struct entry row_entry(const struct part_row *row)
{
    touch(row);
    if (row->needed && slip())
        return entry_of(REFUSED, "", "");
    if (!row->needed && roll(4) == 0)
        return entry_of(USUAL, "", holds_whole(row) ? "0" : "");
    switch (row->kind) {
    case PART_NUMBER:
        return number_entry(&row->as);
    case PART_TEXT:
    case PART_LINES:
        return row->needed ? mark_entry() : words_entry();
    case PART_WHEN:
        return when_entry();
    case PART_ISO6520:
        return flaw_entry();
    default:
        return word_entry(row->kind);
    }
}
