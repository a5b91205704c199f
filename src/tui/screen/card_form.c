#include "tui/screen/card_form.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/task_coupon.h"
#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/part.h"

int card_open(struct card *card, struct ui *ui, const struct trial *trial, struct coupon *coupon,
              struct error *e)
{
    int got;

    memset(card, 0, sizeof *card);
    card->ui = ui;
    got = task_coupon_before(&ui->session, coupon, &card->before, e);
    if (got < 0)
        return -1;
    card->has_before = got > 0;
    trial_copy(&card->trial, trial);
    card->coupon = *coupon;
    memset(coupon, 0, sizeof *coupon);
    card->is_new = card->coupon.id[0] == '\0';
    if (card->is_new && card->coupon.mark != NULL)
        snprintf(card->offered, sizeof card->offered, "%s", card->coupon.mark);
    card_fill(card);
    return 0;
}

void card_close(struct card *card)
{
    form_free(&card->form);
    differences_free(&card->differences);
    free(card->differs);
    trial_free(&card->trial);
    coupon_free(&card->coupon);
    coupon_free(&card->before);
}

static const struct part_row *rows_of(int part, struct coupon *c, void **base)
{
    *base = part == CARD_BEND ? (void *)&c->bend : (void *)c;
    return part == CARD_BEND     ? part_bend_rows
           : part == CARD_COUPON ? part_coupon_rows
           : part == CARD_FACE   ? part_face_rows
                                 : part_note_rows;
}

static int set_from_text(void *owner, const struct field *field, const char *text,
                         struct intake *in)
{
    struct card *card = owner;
    const struct part_row *rows;
    void *base;
    int rc;

    if (field->part == CARD_VARIABLE) {
        rc = coupon_set_from_text(&card->coupon, &card->ui->session.variables.items[field->index],
                                  text, in);
    } else {
        rows = rows_of(field->part, &card->coupon, &base);
        rc = coupon_set_part(&card->coupon, &rows[field->index], base, text, in);
    }
    if (rc == 0 && !intake_asks(in))
        card->changed = true;
    return rc;
}

static void fill(void *owner)
{
    card_fill(owner);
}

const struct edit_owner card_edit = {set_from_text, fill};

static bool empty_field(struct card *card, const struct field *field)
{
    struct intake in = {.units = card->ui->session.units, .sure = true};

    return set_from_text(card, field, "", &in) == 0;
}

bool card_remove(struct card *card)
{
    const struct field *field = form_field(&card->form);
    struct coupon *c = &card->coupon;

    if (field == NULL)
        return false;
    if (field->part >= CARD_ITEM && field->part < CARD_ADD)
        part_remove(c, (enum part_id)(field->part - CARD_ITEM), field->index);
    else if (field->kind != FIELD_VALUE || !empty_field(card, field))
        return false;
    card->changed = true;
    card_fill(card);
    return true;
}
