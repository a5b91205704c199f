#include <stdlib.h>

#include "base/mem.h"
#include "base/text.h"
#include "tui/form.h"

/* The columns of a row: label, value, remark; on a narrow terminal the remark is dropped. */
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
    int space = plan.value + plan.remark - unit;

    if (unit > 0)
        paint_text(c, row.y, row.x + plan.label + (space > 30 ? 30 : space) + 1, unit, TONE_QUIET,
                   field->unit);
    line_draw(c, row.y, row.x + plan.label, unit > 0 && space > 30 ? 30 : space, &f->line);
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

/* A row that has nothing but its label takes the whole width. */
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
