/* The rows of a coupon's form. */
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/coupon_questions.h"
#include "base/mem.h"
#include "base/text.h"
#include "derived/coupon_figures.h"
#include "derived/derived.h"
#include "model/part.h"
#include "model/quantity.h"
#include "tui/screen/card_form.h"
#include "tui/widget/part_form.h"

enum { SHOWN = 160 };

/* "differs from 07: 3 mm", "worked out", or NULL. */
static char *value_remark(const struct card *card, const struct variable *v, bool worked_out)
{
    char was[SHOWN];

    if (!differences_have(&card->differences, v))
        return worked_out ? mem_copy("worked out") : NULL;
    coupon_show(was, sizeof was, &card->before, v, card->ui->session.units);
    if (*was == '\0')
        return mem_format("differs: not said in %s", card->before.mark);
    return mem_format("differs from %s: %s", card->before.mark, was);
}

static void add_variable(struct card *card, size_t index)
{
    const struct variable *v = &card->ui->session.variables.items[index];
    enum unit_system units = card->ui->session.units;
    const struct value *value = coupon_value(&card->coupon, v->key);
    char shown[SHOWN] = "";
    struct field *field;

    coupon_show(shown, sizeof shown, &card->coupon, v, units);
    field = form_add(&card->form, FIELD_VALUE, v->label, shown);
    field->start = mem_copy(value == NULL ? "" : value->text != NULL ? value->text : shown);
    field->remark = value_remark(card, v, value == NULL && *shown != '\0');
    field->tone =
        field->remark != NULL && text_starts(field->remark, "differs") ? TONE_DIFFERS : TONE_PLAIN;
    field->unit = v->kind == VARIABLE_NUMBER ? variable_unit(v, units) : NULL;
    field->choices = mem_copy(v->choices);
    field->help = v->help;
    field->part = CARD_VARIABLE;
    field->index = index;
}

static void add_group(struct card *card, enum variable_group group)
{
    const struct variable_list *list = &card->ui->session.variables;
    bool begun = false;

    for (size_t i = 0; i < list->count; i++) {
        if (list->items[i].group != group)
            continue;
        if (!begun)
            form_add(&card->form, FIELD_HEADING, variable_group_name(group), "");
        begun = true;
        add_variable(card, i);
    }
}

static void add_open(struct card *card, int part, size_t index, const char *label,
                     const char *value, const char *help)
{
    struct field *field = form_add(&card->form, FIELD_OPEN, label, value);

    field->part = part;
    field->index = index;
    field->help = help;
}

/* A field for each pass, flaw or photograph, and one that adds another. */
static void add_items(struct card *card, enum part_id id)
{
    static const struct {
        const char *label, *help, *add, *add_help;
    } words[PARTS] = {
        [PART_PASS] = {"Pass", "Enter opens it, d takes it away.", "Add a pass",
                       "Enter: side, arc time, length, volts, amps, wire feed, temperature, "
                       "pause."},
        [PART_FLAW] = {"Flaw", "Enter opens it, d takes it away.", "Add a flaw",
                       "Enter: from and to along the bead, ISO 6520-1 number, note."},
        [PART_PHOTO] = {"Photograph", "d takes it off the card.", "Attach a photograph",
                        "Enter: the file. Its path and a fingerprint of what it holds are kept."},
    };

    for (size_t i = 0; i < part_count(&card->coupon, id); i++) {
        bool photo = id == PART_PHOTO;
        char *summary = photo ? mem_copy(card->coupon.photos[i].path)
                              : part_summary(part_tables[id].rows, part_item(&card->coupon, id, i),
                                             card->ui->session.units);
        char *label =
            photo ? mem_copy(words[id].label) : mem_format("%s %zu", words[id].label, i + 1);

        add_open(card, CARD_ITEM + (int)id, i, label, summary, words[id].help);
        free(label);
        free(summary);
    }
    add_open(card, CARD_ADD + (int)id, 0, words[id].add, "", words[id].add_help);
}

static void add_remark(struct card *card, const char *label, const char *value, enum tone tone)
{
    form_add(&card->form, FIELD_REMARK, label, value)->tone = tone;
}

/* Figures shown above the form at all times, in this order. */
static const char *const live[] = {"bend_angle_deg", "weld_to_plate", "arc_energy_kj_per_mm"};

static void live_line(struct card *card, const struct coupon_figures *figures)
{
    struct text line = {0};

    for (size_t i = 0; i < sizeof live / sizeof *live; i++)
        for (size_t j = 0; j < figures->count; j++) {
            const struct calc_figure *f = &figures->items[j].figure;

            if (strcmp(f->key, live[i]) != 0 || f->outside)
                continue;
            text_addf(&line, "%s%s", line.length > 0 ? " · " : "", f->label);
            if (figures->items[j].pass > 0)
                text_addf(&line, " of pass %d", figures->items[j].pass);
            text_addf(&line, " %s", f->shown);
        }
    snprintf(card->figures, sizeof card->figures, "%s", text_str(&line));
    text_free(&line);
}

static void add_figure(struct card *card, const struct coupon_figure *item)
{
    const struct calc_figure *f = &item->figure;
    struct text label = {0};

    text_add(&label, f->label);
    if (item->pass > 0)
        text_addf(&label, ", pass %d", item->pass);
    add_remark(card, text_str(&label), f->shown, f->outside ? TONE_CAUTION : TONE_PLAIN);
    if (f->outside)
        card->form.items[card->form.count - 1].remark = mem_copy(f->why);
    card->form.items[card->form.count - 1].help = f->source;
    text_free(&label);
}

static void add_figures(struct card *card)
{
    struct coupon_figures figures;

    coupon_figures(&card->coupon, card->ui->session.units, &figures);
    form_add(&card->form, FIELD_HEADING, "What follows from it", "");
    for (size_t i = 0; i < figures.count; i++)
        add_figure(card, &figures.items[i]);
    for (size_t i = 0; i < figures.note_count; i++)
        add_remark(card, figures.notes[i], "", TONE_PLAIN);
    if (figures.count == 0)
        add_remark(card, "Figures appear here as soon as passes, legs or the bend are written.", "",
                   TONE_PLAIN);
    live_line(card, &figures);
    coupon_figures_free(&figures);
}

/* The coupon to compare with. Its passes are left out until the new coupon has one: what is not
 * welded yet does not differ. Owns nothing. */
static struct coupon comparable(const struct card *card)
{
    struct coupon before = card->before;

    if (card->is_new && card->coupon.pass_count == 0)
        before.pass_count = 0;
    return before;
}

static void compare(struct card *card)
{
    const struct coupon before = comparable(card);

    differences_free(&card->differences);
    free(card->differs);
    if (card->has_before) {
        card->differences =
            differences_between(&card->ui->session.variables, &card->coupon, &before);
        card->differs = differences_sentence(&card->differences, before.mark);
    } else {
        card->differs = mem_copy("the first coupon of this trial");
    }
    card->differs[0] = (char)toupper((unsigned char)card->differs[0]);
}

static void add_questions(struct card *card)
{
    const struct coupon before = comparable(card);
    struct page page = {0};

    coupon_questions(&card->ui->session, &card->coupon, card->has_before ? &before : NULL, &page);
    for (size_t i = 0; i < page.count; i++) {
        char *words = mem_format("Is this right? %s", page.blocks[i].text);

        add_remark(card, words, "", TONE_CAUTION);
        free(words);
    }
    page_free(&page);
}

void card_fill(struct card *card)
{
    struct form *f = &card->form;
    enum unit_system units = card->ui->session.units;

    compare(card);
    form_begin(f);
    form_add(f, FIELD_HEADING, "Coupon", "");
    part_fill(f, part_coupon_rows, &card->coupon, units, CARD_COUPON);
    for (int group = GROUP_MACHINE; group <= GROUP_OTHER; group++)
        add_group(card, (enum variable_group)group);
    form_add(f, FIELD_HEADING, "Passes, as welded", "");
    add_items(card, PART_PASS);
    form_add(f, FIELD_HEADING, "Bend", "");
    part_fill(f, part_bend_rows, &card->coupon.bend, units, CARD_BEND);
    form_add(f, FIELD_HEADING, "Broken face", "");
    part_fill(f, part_face_rows, &card->coupon, units, CARD_FACE);
    add_items(card, PART_FLAW);
    add_group(card, GROUP_RESULT);
    form_add(f, FIELD_HEADING, "Photographs and note", "");
    add_items(card, PART_PHOTO);
    part_fill(f, part_note_rows, &card->coupon, units, CARD_NOTE);
    add_figures(card);
    add_questions(card);
    form_add(f, FIELD_HEADING, "Done", "");
    add_open(card, CARD_SAVE, 0, "Save this coupon", "", "Enter puts it into the book; so does s.");
    form_end(f);
}
