#include "tui/part.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/coupon.h"
#include "model/quantity.h"

/* Words for the values of an enum, a side or a yes; the first is for "not known". */
static const char *const end_words[] = {[BEND_NOT_DONE] = "not bent yet",
                                        [BEND_BROKE] = "broke in two",
                                        [BEND_TORE] = "tore",
                                        [BEND_HELD] = "held to the stop"};
static const char *const direction_words[] = {[BEND_DIRECTION_UNKNOWN] = "not said",
                                              [BEND_ROOT_OPENING] = "root opening",
                                              [BEND_FACE_OPENING] = "face opening",
                                              [BEND_SIDE] = "sideways"};
static const char *const side_words[] = {"", "1", "2"};
static const char *const yes_words[] = {"no", "yes"};

static const struct {
    const char *const *words;
    int count;
} lists[] = {
    [PART_ENDED] = {end_words, 4},
    [PART_DIRECTION] = {direction_words, 4},
    [PART_SIDE] = {side_words, 3},
    [PART_YES] = {yes_words, 2},
};

static const void *at(const struct part_row *row, const void *base)
{
    return (const char *)base + row->offset;
}

static int whole(const struct part_row *row, const void *base)
{
    if (row->kind == PART_YES)
        return *(const bool *)at(row, base);
    if (row->kind == PART_ENDED)
        return (int)*(const enum bend_end *)at(row, base);
    if (row->kind == PART_DIRECTION)
        return (int)*(const enum bend_direction *)at(row, base);
    return *(const int *)at(row, base);
}

static void set_whole(const struct part_row *row, void *base, int value)
{
    void *to = (char *)base + row->offset;

    if (row->kind == PART_YES)
        *(bool *)to = value != 0;
    else if (row->kind == PART_ENDED)
        *(enum bend_end *)to = (enum bend_end)value;
    else if (row->kind == PART_DIRECTION)
        *(enum bend_direction *)to = (enum bend_direction)value;
    else
        *(int *)to = value;
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
    case PART_FLAW:
        return show_flaw(whole(row, base));
    case PART_WHEN:
        return show_when(at(row, base));
    case PART_TEXT:
        text = *(char *const *)at(row, base);
        return mem_copy(text == NULL ? "" : text);
    default:
        return mem_copy(lists[row->kind].words[whole(row, base)]);
    }
}

char *part_summary(const struct part_row *rows, const void *base, enum unit_system units)
{
    struct text all = {0};

    for (size_t i = 0; rows[i].as.label != NULL; i++) {
        char *shown = part_show(&rows[i], base, units);

        if (*shown != '\0')
            text_addf(&all, "%s%s%s", all.length > 0 ? ", " : "", rows[i].brief, shown);
        free(shown);
    }
    if (all.length == 0)
        text_add(&all, "nothing said yet");
    return text_take(&all);
}

static char *flaw_choices(void)
{
    struct text all = {0};
    const struct flaw_kind *kind;

    for (size_t i = 0; (kind = flaw_kind_at(i)) != NULL; i++)
        text_addf(&all, "%s%d %s", i == 0 ? "" : "|", kind->iso6520, kind->name);
    return text_take(&all);
}

char *part_choices(const struct part_row *row)
{
    struct text all = {0};

    if (row->kind == PART_FLAW)
        return flaw_choices();
    if (row->kind == PART_NUMBER || row->kind == PART_TEXT || row->kind == PART_WHEN)
        return NULL;
    for (int i = 0; i < lists[row->kind].count; i++)
        if (*lists[row->kind].words[i] != '\0')
            text_addf(&all, "%s%s", all.length == 0 ? "" : "|", lists[row->kind].words[i]);
    return text_take(&all);
}

static int take_number(const struct part_row *row, double *to, const char *text,
                       enum unit_system units, bool sure, char *question, size_t size,
                       struct error *e)
{
    struct quantity q;

    if (quantity_parse(text, row->as.dimension, units, &q, e) < 0)
        return error_where(e, "%s", row->as.label);
    switch (variable_judge(&row->as, q.value, units, question, size)) {
    case VALUE_IMPOSSIBLE:
        error_set(e, ERROR_INPUT, "%s", question);
        *question = '\0';
        return -1;
    case VALUE_UNUSUAL:
        if (!sure)
            return 0;
        break;
    case VALUE_USUAL:
        break;
    }
    *to = q.value;
    return 0;
}

static int take_text(char **to, const char *text, struct error *e)
{
    if (!text_valid(text) || strchr(text, '\n') != NULL)
        return error_set(e, ERROR_INPUT, "one line of plain text is right");
    free(*to);
    *to = *text == '\0' ? NULL : mem_copy(text);
    return 0;
}

/* A day and a time as shown, a day alone (noon is taken), or a whole instant with its offset. */
static int take_when(struct instant *to, const char *text, struct error *e)
{
    static const char *const endings[] = {"", ":00", "T12:00:00"};
    char here[40], form[64];

    clock_format(here, sizeof here, *to);
    snprintf(form, sizeof form, "%.40s", text);
    if (strlen(form) > 10 && form[10] == ' ')
        form[10] = 'T';
    if (clock_parse(form, to))
        return 0;
    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
        char *all = mem_format("%s%s%s", form, endings[i], here + strlen("2026-03-07T14:05:00"));
        bool good = clock_parse(all, to);

        free(all);
        if (good)
            return 0;
    }
    return error_set(e, ERROR_INPUT, "Welded: '%s'; 2026-03-07 or 2026-03-07 14:05 is right", text);
}

/* The one word that begins with `text`; -1 when none does, or several. */
static int find_word(const char *const *words, int count, const char *text)
{
    int found = -1;
    char *start;

    for (int i = 0; i < count; i++) {
        if (text_same(words[i], text))
            return i;
        start = mem_copy_part(words[i],
                              strlen(text) < strlen(words[i]) ? strlen(text) : strlen(words[i]));
        if (*text != '\0' && text_same(start, text))
            found = found == -1 ? i : -2;
        free(start);
    }
    return found < 0 ? -1 : found;
}

static int take_word(const struct part_row *row, void *base, const char *text, struct error *e)
{
    int found = *text == '\0' ? 0 : find_word(lists[row->kind].words, lists[row->kind].count, text);
    char *choices;

    if (found < 0) {
        choices = part_choices(row);
        for (char *bar = choices; (bar = strchr(bar, '|')) != NULL;)
            *bar = ',';
        error_set(e, ERROR_INPUT, "%s: '%s' is none of %s", row->as.label, text, choices);
        free(choices);
        return -1;
    }
    set_whole(row, base, found);
    return 0;
}

static int take_flaw(int *to, const char *text, struct error *e)
{
    char *end;
    long number = strtol(text, &end, 10);

    if (*text == '\0')
        number = 0;
    else if (end == text || (*end != '\0' && *end != ' ') || number < 100 || number > 9999)
        return error_set(e, ERROR_INPUT,
                         "'%s' is no ISO 6520-1 number; 4013, for lack of root "
                         "fusion, is one",
                         text);
    *to = (int)number;
    return 0;
}

int part_take(const struct part_row *row, void *base, const char *text, enum unit_system units,
              bool sure, char *question, size_t size, struct error *e)
{
    void *to = (char *)base + row->offset;

    *question = '\0';
    if (*text == '\0' && row->needed)
        return error_set(e, ERROR_INPUT, "%s cannot be left empty", row->as.label);
    switch (row->kind) {
    case PART_NUMBER:
        if (*text == '\0') {
            *(double *)to = NAN;
            return 0;
        }
        return take_number(row, to, text, units, sure, question, size, e);
    case PART_TEXT:
        return take_text(to, text, e);
    case PART_WHEN:
        return take_when(to, text, e);
    case PART_FLAW:
        return take_flaw(to, text, e);
    default:
        return take_word(row, base, text, e);
    }
}

void part_fill(struct form *f, const struct part_row *rows, const void *base,
               enum unit_system units, int part)
{
    for (size_t i = 0; rows[i].as.label != NULL; i++) {
        char *shown = part_show(&rows[i], base, units);
        struct field *field = form_add(f, FIELD_VALUE, rows[i].as.label, shown);

        field->choices = part_choices(&rows[i]);
        field->help = rows[i].as.help;
        if (rows[i].kind == PART_NUMBER)
            field->unit = variable_unit(&rows[i].as, units);
        field->part = part;
        field->index = i;
        free(shown);
    }
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
        return mem_copy(*(char *const *)at(row, base));
    case PART_WHEN:
        clock_format(when, sizeof when, *(const struct instant *)at(row, base));
        return mem_copy(when);
    default:
        return mem_format("%d", whole(row, base));
    }
}

void part_read(const struct part_row *row, void *base, const char *written)
{
    void *to = (char *)base + row->offset;

    if (row->kind == PART_NUMBER) {
        *(double *)to = strtod(written, NULL);
    } else if (row->kind == PART_TEXT) {
        free(*(char **)to);
        *(char **)to = mem_copy(written);
    } else if (row->kind == PART_WHEN) {
        clock_parse(written, to);
    } else {
        set_whole(row, base, atoi(written));
    }
}
