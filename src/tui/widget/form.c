#include "tui/widget/form.h"

#include <assert.h>
#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <wctype.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"

char *choice_at(const char *choices, size_t i)
{
    size_t length;

    if (choices == NULL)
        return NULL;
    for (; i > 0; i--) {
        choices = strchr(choices, '|');
        if (choices == NULL)
            return NULL;
        choices++;
    }
    length = strcspn(choices, "|");
    return mem_copy_part(choices, length);
}

char *choice_step(const char *choices, const char *value, int by)
{
    size_t count = 0, at = 0;
    bool found = false;
    char *choice;

    while ((choice = choice_at(choices, count)) != NULL) {
        if (!found && text_same(choice, value)) {
            found = true;
            at = count;
        }
        count++;
        free(choice);
    }
    if (count == 0)
        return NULL;
    if (!found)
        return choice_at(choices, by > 0 ? 0 : count - 1);
    return choice_at(choices, (at + (by > 0 ? 1 : count - 1)) % count);
}

static void clear_field(struct field *field)
{
    free(field->label);
    free(field->value);
    free(field->start);
    free(field->remark);
    free(field->choices);
}

void form_begin(struct form *f)
{
    for (size_t i = 0; i < f->count; i++)
        clear_field(&f->items[i]);
    f->count = 0;
}

struct field *form_add(struct form *f, enum field_kind kind, const char *label, const char *value)
{
    struct field *field;

    f->items = array_reserve(f->items, &f->capacity, f->count + 1, sizeof *f->items);
    field = &f->items[f->count++];
    *field = (struct field){.kind = kind, .label = mem_copy(label), .value = mem_copy(value)};
    return field;
}

static bool can_have_focus(const struct form *f, size_t at)
{
    return at < f->count && f->items[at].kind != FIELD_HEADING;
}

/* The nearest row that can have the focus, from `at` on in this direction, else in the other. */
static size_t nearest(const struct form *f, size_t at, int by)
{
    for (int turn = 0; turn < 2; turn++, by = -by)
        for (size_t i = at; i < f->count; i += (size_t)by)
            if (can_have_focus(f, i))
                return i;
    return at;
}

void form_end(struct form *f)
{
    list_resize(&f->list, f->count);
    f->list.focus = nearest(f, f->list.focus, 1);
}

void form_free(struct form *f)
{
    form_begin(f);
    free(f->items);
    free(f->refused);
    line_free(&f->line);
    memset(f, 0, sizeof *f);
}

const struct field *form_field(const struct form *f)
{
    return f->list.focus < f->count ? &f->items[f->list.focus] : NULL;
}

void form_find(struct form *f, int part, size_t index)
{
    for (size_t i = 0; i < f->count; i++)
        if (f->items[i].part == part && f->items[i].index == index && can_have_focus(f, i)) {
            f->list.focus = i;
            return;
        }
}

static void stop_writing(struct form *f)
{
    line_free(&f->line);
    free(f->refused);
    f->refused = NULL;
    f->writing = false;
    f->stepping = false;
}

void form_write(struct form *f, const char *text)
{
    const struct field *field = form_field(f);

    stop_writing(f);
    if (field == NULL || field->kind != FIELD_VALUE)
        return;
    line_start(&f->line, text != NULL ? text : field->start != NULL ? field->start : field->value);
    f->writing = true;
}

void form_accept(struct form *f, int rows)
{
    bool stays = f->stepping;

    assert(f->writing);
    stop_writing(f);
    if (!stays && f->list.focus + 1 < f->count)
        list_focus(&f->list, nearest(f, f->list.focus + 1, 1), rows);
}

void form_refuse(struct form *f, const char *why)
{
    assert(f->writing);
    mem_replace(&f->refused, why);
}

/* The first row that can have the focus under the next (1) or the previous (-1) heading. */
static size_t by_heading(const struct form *f, int by)
{
    size_t at = f->list.focus;

    if (by < 0) /* first to the heading the focus is under */
        while (at > 0 && at < f->count && f->items[at].kind != FIELD_HEADING)
            at--;
    for (at += (size_t)by; at < f->count; at += (size_t)by)
        if (f->items[at].kind == FIELD_HEADING)
            return nearest(f, at, 1);
    return nearest(f, by < 0 ? 0 : f->count - 1, -by);
}

static bool begins_number(struct key k)
{
    return k.code == PRESS_CHAR && (iswdigit((wint_t)k.ch) || wcschr(L".,-+<>", k.ch) != NULL);
}

/* Left and Right step through choices and are handled before. */
static bool begins_writing(struct key k)
{
    return k.code == PRESS_ENTER || k.code == PRESS_PASTE || begins_number(k);
}

static enum form_event writing_key(struct form *f, struct key k)
{
    if (k.code == PRESS_ENTER || k.code == PRESS_DOWN || k.code == PRESS_TAB)
        return FORM_WRITTEN;
    if (k.code == PRESS_ESC)
        stop_writing(f);
    else
        line_key(&f->line, k);
    return FORM_USED;
}

static enum form_event step_choice(struct form *f, int by)
{
    const struct field *field = form_field(f);
    char *next = choice_step(field->choices, field->value, by);

    if (next == NULL)
        return FORM_UNUSED;
    form_write(f, next);
    f->stepping = true;
    free(next);
    return FORM_WRITTEN;
}

static enum form_event begin_key(struct form *f, const struct field *field, struct key k)
{
    if (k.code == PRESS_ENTER && field->kind == FIELD_OPEN)
        return FORM_OPENED;
    if (field->kind != FIELD_VALUE)
        return FORM_UNUSED;
    if (f->locked)
        return begins_writing(k) || k.code == PRESS_LEFT || k.code == PRESS_RIGHT ? FORM_LOCKED
                                                                                  : FORM_UNUSED;
    if (k.code == PRESS_ENTER && field->choices != NULL)
        return FORM_CHOOSE;
    if (k.code == PRESS_LEFT || k.code == PRESS_RIGHT)
        return step_choice(f, k.code == PRESS_LEFT ? -1 : 1);
    if (begins_writing(k)) {
        form_write(f, k.code == PRESS_ENTER ? NULL : "");
        if (k.code != PRESS_ENTER)
            line_key(&f->line, k);
        return FORM_USED;
    }
    return FORM_UNUSED;
}

static bool move_key(struct form *f, struct key k, int rows)
{
    size_t before = f->list.focus;

    if (k.code == PRESS_TAB || k.code == PRESS_BACK_TAB)
        list_focus(&f->list, by_heading(f, k.code == PRESS_TAB ? 1 : -1), rows);
    else if (!list_key(&f->list, k, rows))
        return false;
    list_focus(&f->list, nearest(f, f->list.focus, f->list.focus < before ? -1 : 1), rows);
    if (f->list.focus == 1 && f->count > 1 && f->items[0].kind == FIELD_HEADING)
        f->list.top = 0; /* show the first heading again */
    return true;
}

enum form_event form_key(struct form *f, struct key k, int rows)
{
    const struct field *field = form_field(f);

    if (field == NULL)
        return FORM_UNUSED;
    if (f->writing)
        return writing_key(f, k);
    if (move_key(f, k, rows))
        return FORM_USED;
    return begin_key(f, field, k);
}

static char *choices_words(const char *choices)
{
    struct text words = {0};
    char *choice;

    for (size_t i = 0; (choice = choice_at(choices, i)) != NULL; i++) {
        text_addf(&words, "%s%s", i == 0 ? "" : ", ", choice);
        free(choice);
    }
    return text_steal(&words);
}

char *form_words(const struct form *f, enum tone *tone)
{
    const struct field *field = form_field(f);
    struct text words = {0};

    *tone = f->refused != NULL ? TONE_REFUSED : TONE_PLAIN;
    if (field == NULL)
        return mem_copy("");
    if (f->refused != NULL)
        return mem_copy(f->refused);
    if (field->remark != NULL && field->kind == FIELD_VALUE) {
        text_addf(&words, "%s. ", field->remark);
        words.s[0] = (char)toupper((unsigned char)words.s[0]);
    }
    if (field->help != NULL)
        text_addf(&words, "%s ", field->help);
    else if (field->kind == FIELD_REMARK) /* down there a long one can be read in full */
        text_addf(&words, "%s %s", field->label, field->value);
    if (field->choices != NULL && f->writing) {
        char *all = choices_words(field->choices);

        text_addf(&words, "Usual: %s.", all);
        free(all);
    }
    return text_steal(&words);
}

/* Widths of the columns of a row in cells. On a narrow terminal the remark is left out. */
struct columns {
    int label, value, remark;
};

static struct columns plan_columns(int columns, enum field_kind kind)
{
    int label = kind == FIELD_REMARK && columns >= 70 ? 38 : 26;
    struct columns plan = {columns < 60 ? columns * 2 / 5 : label, 0, 0};

    plan.value = columns - plan.label;
    if (columns >= 70) {
        plan.value = columns >= 100 ? 34 : 26;
        plan.remark = columns - plan.label - plan.value;
    }
    return plan;
}

static void draw_heading(struct canvas *c, struct area row, const struct field *field)
{
    int used = paint_text(c, row.y, row.x - 2, row.columns, TONE_HEADING, field->label);

    paint_rule(c, row.y, row.x - 2 + used + 1, row.columns - used + 1);
}

static void draw_writing(struct canvas *c, struct area row, struct columns plan,
                         const struct form *f, const struct field *field)
{
    int unit = field->unit == NULL || *field->unit == '\0' ? 0 : text_width(field->unit) + 1;
    int columns = plan.value + plan.remark - unit;

    if (unit > 0)
        paint_text(c, row.y, row.x + plan.label + (columns > 30 ? 30 : columns) + 1, unit,
                   TONE_QUIET, field->unit);
    line_draw(c, row.y, row.x + plan.label, unit > 0 && columns > 30 ? 30 : columns, &f->line);
}

static void draw_parts(struct canvas *c, struct area row, struct columns plan,
                       const struct field *field, bool focused)
{
    enum tone tone = focused ? TONE_FOCUS : field->tone;
    enum tone remark = focused ? TONE_FOCUS : field->tone == TONE_PLAIN ? TONE_QUIET : field->tone;

    paint_text(c, row.y, row.x, plan.label - 1, focused ? TONE_FOCUS : TONE_PLAIN, field->label);
    paint_text(c, row.y, row.x + plan.label,
               field->remark == NULL ? plan.value + plan.remark : plan.value - 1, tone,
               field->value);
    if (field->remark != NULL && plan.remark > 0)
        paint_text(c, row.y, row.x + plan.label + plan.value, plan.remark, remark, field->remark);
}

/* A row with nothing but a label may use the whole width. */
static bool label_only(const struct field *field)
{
    return *field->value == '\0' && field->remark == NULL && field->kind != FIELD_VALUE;
}

static void draw_row(struct canvas *c, struct area row, const void *owner, size_t at, bool focused)
{
    const struct form *f = owner;
    const struct field *field = &f->items[at];
    struct columns plan = plan_columns(row.columns, field->kind);

    if (field->kind == FIELD_HEADING) {
        draw_heading(c, row, field);
    } else if (label_only(field)) {
        paint_text(c, row.y, row.x, row.columns, focused ? TONE_FOCUS : field->tone, field->label);
    } else {
        draw_parts(c, row, plan, field, focused);
        if (focused && f->writing) {
            paint_blank(c,
                        (struct area){row.y, row.x + plan.label, 1, row.columns - plan.label + 2},
                        TONE_PLAIN);
            draw_writing(c, row, plan, f, field);
        }
    }
}

void form_draw(struct canvas *c, struct area a, const struct form *f)
{
    list_draw(c, a, &f->list, draw_row, f);
}
