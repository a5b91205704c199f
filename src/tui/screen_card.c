#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/actions.h"
#include "app/cautions.h"
#include "app/task_coupon.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/part.h"
#include "tui/card.h"
#include "tui/hints.h"
#include "tui/prompt.h"
#include "tui/screens.h"

enum leaving { STAY, LEAVE, LEAVE_SAVED };

static const char *mark_of(const struct card *card)
{
    return card->coupon.mark == NULL ? "without a mark" : card->coupon.mark;
}

/* Lines above the form: for what differs, and one for the live figures where there is room. */
static int differs_rows(const struct card *card, struct area body)
{
    int wanted = paint_wrapped_rows(card->differs, body.columns);
    int most = body.rows >= 12 ? 2 : body.rows >= 6 ? 1 : 0;

    return wanted < most ? wanted : most;
}

static struct area form_area(const struct card *card, struct area body)
{
    int above = differs_rows(card, body) + (body.rows >= 12);

    return (struct area){body.y + above, body.x, body.rows - above, body.columns};
}

static void draw_above(struct canvas *c, struct area body, const struct card *card)
{
    struct area differs = {body.y, body.x, differs_rows(card, body), body.columns};
    struct area form = form_area(card, body);

    paint_wrapped(c, differs, card->differences.count > 1 ? TONE_DIFFERS : TONE_PLAIN,
                  card->differs);
    if (form.y > differs.y + differs.rows)
        paint_text(c, form.y - 1, body.x, body.columns, TONE_PLAIN,
                   card->figures[0] == '\0' ? "No figures yet." : card->figures);
}

static void draw(struct canvas *c, const void *state)
{
    const struct card *card = state;
    char *keys = hint_line(PLACE_CARD, c->columns);
    char *title = mem_format("Coupon %s%s%s", mark_of(card), card->is_new ? ", new" : "",
                             card->coupon.struck_why != NULL ? ", struck out" : "");
    enum tone tone;
    char *words = form_words(&card->form, &tone);
    struct board board = {.title = title,
                          .aside = session_read_only(&card->ui->session) != NULL
                                       ? "the book can only be read"
                                   : card->changed ? "not saved yet"
                                                   : NULL,
                          .keys = keys,
                          .caution = caution_short};
    struct area body;

    ui_words(card->ui, &board, words);
    if (card->ui->words[0] == '\0')
        board.tone = tone;
    body = board_draw(c, &board);
    draw_above(c, body, card);
    form_draw(c, form_area(card, body), &card->form);
    free(keys);
    free(title);
    free(words);
}

/* A mark that was only offered is given anew at the moment of saving: another bench may have taken
 * it since. One that was written stays, and a clash is refused. */
static int store(struct card *card, struct error *e)
{
    struct coupon *c = &card->coupon;
    bool offered = card->offered[0] != '\0' && text_same(c->mark, card->offered);
    int rc;

    if (offered) {
        free(c->mark);
        c->mark = NULL;
    }
    rc = task_coupon_save(&card->ui->session, c, e);
    if (c->mark == NULL)
        c->mark = mem_copy(card->offered);
    return rc;
}

static enum leaving save(struct card *card)
{
    struct ui *ui = card->ui;
    struct error e = {0};
    char *shown = mem_copy(card->coupon.mark);
    bool moved;

    if (ui_read_only(ui)) {
        free(shown);
        return STAY;
    }
    if (store(card, &e) < 0) {
        free(shown);
        ui_say_error(ui, &e);
        return STAY;
    }
    moved = !text_same(shown, card->coupon.mark);
    free(shown);
    if (moved)
        ui_say(ui, TONE_PLAIN, "Coupon %s is saved in %s; stamp it so.", mark_of(card),
               session_book_name(&ui->session));
    else
        ui_say(ui, TONE_PLAIN, "Coupon %s is saved in %s.", mark_of(card),
               session_book_name(&ui->session));
    return LEAVE_SAVED;
}

static enum leaving leave(struct card *card)
{
    static const struct choice answers[] = {
        {L's', "save it"}, {L'd', "drop what was written"}, {L'b', "back to the card"}};
    char *question;
    int chosen;

    if (!card->changed)
        return LEAVE;
    question = mem_format("Coupon %s is not saved yet.", mark_of(card));
    chosen = prompt_pick(card->ui, question, answers, 3, 0);
    free(question);
    return chosen == 0 ? save(card) : chosen == 1 ? LEAVE : STAY;
}

static void open_pass(struct card *card, size_t index)
{
    char *title = mem_format("Coupon %s, pass %zu", mark_of(card), index + 1);

    if (screen_part(card->ui, title, &card->coupon, part_pass_rows, &card->coupon.passes[index]))
        card->changed = true;
    free(title);
}

static void open_flaw(struct card *card, size_t index)
{
    char *title = mem_format("Coupon %s, flaw %zu on the broken face", mark_of(card), index + 1);

    if (screen_part(card->ui, title, &card->coupon, part_flaw_rows, &card->coupon.flaws[index]))
        card->changed = true;
    free(title);
}

/* Adds a pass or flaw and opens it; one in which nothing is written does not stay. */
static void add_pass(struct card *card)
{
    bool before = card->changed;

    coupon_add_pass(&card->coupon);
    card->changed = false;
    open_pass(card, card->coupon.pass_count - 1);
    if (!card->changed)
        card->coupon.pass_count--;
    card->changed = card->changed || before;
    card_fill(card);
    form_find(&card->form, CARD_ADD_PASS, 0);
}

static void add_flaw(struct card *card)
{
    bool before = card->changed;

    coupon_add_flaw(&card->coupon);
    card->changed = false;
    open_flaw(card, card->coupon.flaw_count - 1);
    if (!card->changed)
        card->coupon.flaw_count--;
    card->changed = card->changed || before;
    card_fill(card);
    form_find(&card->form, CARD_ADD_FLAW, 0);
}

static void add_photo(struct card *card)
{
    struct error e = {0};
    char *path = prompt_text(card->ui, "Which file is the photograph in?",
                             "The file stays where it is; the card keeps its path.", NULL);

    if (path != NULL && *path != '\0') {
        if (task_coupon_add_photo(&card->coupon, path, &e) < 0) {
            ui_say_error(card->ui, &e);
        } else {
            card->changed = true;
            card_fill(card);
        }
    }
    free(path);
}

static void open_ranking(struct card *card)
{
    screen_ranking(card->ui, card->trial.name);
}

static void remove_focused(struct card *card)
{
    const struct field *field = form_field(&card->form);
    char *question = field == NULL ? NULL : mem_format("Take '%s' away?", field->label);

    if (field != NULL && field->kind == FIELD_OPEN && field->part != CARD_PASS &&
        field->part != CARD_FLAW && field->part != CARD_PHOTO)
        ui_say(card->ui, TONE_PLAIN, "There is nothing here to take away.");
    else if (field != NULL && prompt_yes(card->ui, question) && !card_remove(card))
        ui_say(card->ui, TONE_PLAIN, "This cannot be taken away.");
    free(question);
}

static void change_units(struct card *card)
{
    switch_units(card->ui);
    card_fill(card);
}

static void show_keys(struct card *card)
{
    screen_keys(card->ui, PLACE_CARD);
}

static const struct {
    const char *action;
    void (*run)(struct card *card);
    bool writes;
} runs[] = {
    {"pass", add_pass, true},         {"flaw", add_flaw, true},        {"photo", add_photo, true},
    {"remove", remove_focused, true}, {"switch", change_units, false}, {"keys", show_keys, false},
    {"ranking", open_ranking, false},
};

static enum leaving open_field(struct card *card)
{
    const struct field *field = form_field(&card->form);
    size_t index = field->index;

    if (field->part != CARD_PASS && field->part != CARD_FLAW && ui_read_only(card->ui))
        return STAY;
    switch (field->part) {
    case CARD_PASS:
        open_pass(card, index);
        break;
    case CARD_FLAW:
        open_flaw(card, index);
        break;
    case CARD_ADD_PASS:
        add_pass(card);
        break;
    case CARD_ADD_FLAW:
        add_flaw(card);
        break;
    case CARD_ADD_PHOTO:
        add_photo(card);
        break;
    case CARD_SAVE:
        return save(card);
    }
    card_fill(card);
    return STAY;
}

static enum leaving act(struct card *card, struct key k)
{
    const struct action *a = hint_action(k, PLACE_CARD);

    if (hint_is(a, "save") || (k.code == PRESS_CONTROL && k.ch == L's'))
        return save(card);
    if (hint_is(a, "back"))
        return leave(card);
    for (size_t i = 0; i < sizeof runs / sizeof *runs; i++)
        if (hint_is(a, runs[i].action)) {
            if (!runs[i].writes || !ui_read_only(card->ui))
                runs[i].run(card);
            return STAY;
        }
    if (k.code == PRESS_CHAR)
        ui_say(card->ui, TONE_PLAIN, "Press Enter to write here, ? for what the keys do.");
    return STAY;
}

/* The program has to end: what is not in the book yet is kept. */
static void keep(struct card *card)
{
    const struct field *field = form_field(&card->form);
    struct draft draft = {.coupon = card->coupon};

    memcpy(draft.offered, card->offered, sizeof draft.offered);
    if (card->form.writing && field != NULL) {
        draft.part = field->part;
        draft.index = field->index;
        draft.writing = mem_copy(line_text(&card->form.line));
    }
    if (card->changed || draft.writing != NULL)
        draft_keep(&card->ui->session, &draft, NULL);
    free(draft.writing);
}

/* Goes on where a draft was left. */
static void take_up(struct card *card, const struct draft *draft)
{
    card->changed = true;
    memcpy(card->offered, draft->offered, sizeof card->offered);
    if (draft->writing == NULL)
        return;
    form_find(&card->form, draft->part, draft->index);
    form_write(&card->form, draft->writing);
}

/* STAY when it was not the user who left. */
static enum leaving card_loop(struct card *card)
{
    enum leaving leaving = STAY;

    while (leaving == STAY) {
        struct key k = ui_key(card->ui);
        int rows = form_area(card, ui_body()).rows;
        enum form_event event = edit_key(card->ui, &card->form, &card_edit, card, k, rows);

        if (k.code == PRESS_GONE) {
            keep(card);
            return STAY;
        }
        if (event == FORM_OPENED)
            leaving = open_field(card);
        else if (event == FORM_UNUSED)
            leaving = act(card, k);
    }
    return leaving;
}

void screen_card(struct ui *ui, const struct trial *trial, struct draft *draft)
{
    struct error e = {0};
    struct layer layer;
    enum leaving left;
    struct card card;

    if (card_open(&card, ui, trial, &draft->coupon, &e) < 0) {
        ui_say_error(ui, &e);
        return;
    }
    if (draft->kept)
        take_up(&card, draft);
    ui_push(ui, &layer, draw, &card);
    left = card_loop(&card);
    ui_pop(ui);
    if (draft->kept && left != STAY)
        draft_forget(&ui->session);
    card_close(&card);
}
