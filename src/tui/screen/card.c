#include "tui/screen/card.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "app/task_coupon.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/part.h"
#include "page/cautions.h"
#include "tui/screen/card_form.h"
#include "tui/screen/keys.h"
#include "tui/screen/part.h"
#include "tui/screen/ranking.h"
#include "tui/widget/prompt.h"

enum leaving { STAY, LEAVE };

static const char *mark_of(const struct card *card)
{
    return card->coupon.mark == NULL ? "without a mark" : card->coupon.mark;
}

/* Rows above the form for the sentence about differences. Taller screens have one more row, for the
 * live figures. */
static int differs_rows(const struct card *card, struct area body)
{
    int wanted = paint_wrapped_rows(card->differs, body.columns);
    int max = body.rows >= 12 ? 2 : 1;

    return wanted < max ? wanted : max;
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
    char *title = mem_format("Coupon %s%s%s", mark_of(card), card->is_new ? ", new" : "",
                             card->coupon.struck_why != NULL ? ", struck out" : "");
    enum tone tone;
    char *words = form_words(&card->form, &tone);
    struct screen_layout layout = {.title = title,
                                   .aside = session_read_only(&card->ui->session) != NULL
                                                ? "the book can only be read"
                                            : card->changed ? "not saved yet"
                                                            : NULL,
                                   .context = CONTEXT_CARD,
                                   .caution = caution_short};
    struct area body;

    ui_words(card->ui, &layout, words, tone);
    body = screen_layout_draw(c, &layout);
    draw_above(c, body, card);
    form_draw(c, form_area(card, body), &card->form);
    free(title);
    free(words);
}

/* A mark the program proposed is chosen again when the coupon is saved, as another program may have
 * used it since. A mark the user typed is kept; the book refuses it if it is taken. */
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

/* The words at the foot have no room for a path. */
static void say_where(struct card *card, const struct error *e)
{
    static const struct choice back[] = {{L'b', "back to the card"}};
    const char *where = drafts_where(&card->ui->drafts);
    char *words;

    if (e->kind != ERROR_SYSTEM || where == NULL)
        return;
    words = mem_format("%s. What was written is kept in %s", e->text, where);
    prompt_pick(card->ui, words, back, 1, 0);
    ui_say_error(card->ui, e);
    free(words);
}

static enum leaving save(struct card *card)
{
    struct ui *ui = card->ui;
    struct error e = {0};
    char *shown = mem_copy(card->coupon.mark);
    bool failed = ui_failed(ui, store(card, &e), &e);

    if (failed) {
        say_where(card, &e);
    } else {
        drafts_keep(&ui->drafts, "", "", NULL); /* before anything else can end the program */
        ui_say(ui, TONE_PLAIN, "Coupon %s is saved in %s%s.", mark_of(card),
               session_book_name(&ui->session),
               text_same(shown, card->coupon.mark) ? "" : "; stamp it so");
    }
    free(shown);
    return failed ? STAY : LEAVE;
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

/* Shows a pass or flaw. True if the user wrote something in it. */
static bool open_part(struct card *card, struct part_screen *p)
{
    char *title = mem_format("Coupon %s, %s %zu%s", mark_of(card), part_tables[p->id].name,
                             p->index + 1, p->id == PART_FLAW ? " on the broken face" : "");

    p->ui = card->ui;
    p->title = title;
    p->coupon = &card->coupon;
    card->inside = p;
    screen_part(p);
    card->inside = NULL;
    card->changed = card->changed || p->written;
    free(title);
    return p->written;
}

/* Opens one that was just made; it is removed again if nothing is written in it. The focus goes
 * back to the field that adds the next one. */
static void open_fresh(struct card *card, struct part_screen *p)
{
    card->fresh = true;
    if (!open_part(card, p))
        part_remove(&card->coupon, p->id, p->index);
    card->fresh = false;
    card_fill(card);
    form_find(&card->form, CARD_ADD + (int)p->id, 0);
}

static void add_part(struct card *card, enum part_id id)
{
    struct part_screen p = {.id = id};

    if (id == PART_PASS)
        coupon_add_pass(&card->coupon);
    else
        coupon_add_flaw(&card->coupon);
    p.index = part_count(&card->coupon, id) - 1;
    open_fresh(card, &p);
}

static void add_photo(struct card *card)
{
    struct error e = {0};
    char *path = prompt_text(card->ui, "Which file is the photograph in?",
                             "The file stays where it is; the card keeps its path.", NULL);

    if (path != NULL && *path != '\0' &&
        !ui_failed(card->ui, task_coupon_add_photo(&card->coupon, path, &e), &e)) {
        card->changed = true;
        card_fill(card);
    }
    free(path);
}

static void remove_focused(struct card *card)
{
    const struct field *field = form_field(&card->form);
    char *question = field == NULL ? NULL : mem_format("Take '%s' away?", field->label);

    if (field != NULL && field->kind == FIELD_OPEN &&
        (field->part < CARD_ITEM || field->part >= CARD_ADD))
        ui_say(card->ui, TONE_PLAIN, "There is nothing here to take away.");
    else if (field != NULL && prompt_yes(card->ui, question) && !card_remove(card))
        ui_say(card->ui, TONE_PLAIN, "This cannot be taken away.");
    free(question);
}

static void change_units(struct card *card)
{
    ui_switch_units(card->ui);
    card_fill(card);
}

static enum leaving run(struct card *card, enum action action)
{
    switch (action) {
    case ACTION_SAVE:
        return save(card);
    case ACTION_LEAVE:
        return leave(card);
    case ACTION_PASS:
        add_part(card, PART_PASS);
        break;
    case ACTION_FLAW:
        add_part(card, PART_FLAW);
        break;
    case ACTION_PHOTO:
        add_photo(card);
        break;
    case ACTION_REMOVE:
        remove_focused(card);
        break;
    case ACTION_RANKING:
        screen_ranking(card->ui, card->trial.name);
        break;
    case ACTION_UNITS:
        change_units(card);
        break;
    case ACTION_KEYS:
        screen_keys(card->ui, CONTEXT_CARD);
        break;
    case ACTION_NONE:
    case ACTION_REFUSED:
        break;
    case ACTION_OPEN:
    case ACTION_NEW:
    case ACTION_RESULT:
    case ACTION_TRIALS:
    case ACTION_FIND:
    case ACTION_SHOW_ALL:
    case ACTION_STRIKE:
    case ACTION_STRUCK:
        assert(!"a key of another screen");
    }
    return STAY;
}

/* Enter on a field that opens something. */
static enum leaving open_field(struct card *card)
{
    const struct field *field = form_field(&card->form);
    enum action action = field->part == CARD_ADD + PART_PASS    ? ACTION_PASS
                         : field->part == CARD_ADD + PART_FLAW  ? ACTION_FLAW
                         : field->part == CARD_ADD + PART_PHOTO ? ACTION_PHOTO
                         : field->part == CARD_SAVE             ? ACTION_SAVE
                                                                : ACTION_NONE;

    if (action != ACTION_NONE)
        return ui_read_only(card->ui) ? STAY : run(card, action);
    if (field->part != CARD_ITEM + PART_PHOTO)
        open_part(card, &(struct part_screen){.id = (enum part_id)(field->part - CARD_ITEM),
                                              .index = field->index});
    card_fill(card);
    return STAY;
}

static enum leaving act(struct card *card, struct key k)
{
    enum action action = ui_action(card->ui, k, CONTEXT_CARD);

    if (action == ACTION_NONE && k.code == PRESS_CHAR)
        ui_say(card->ui, TONE_PLAIN, "Press Enter to write here, ? for what the keys do.");
    return run(card, action);
}

/* What is being typed, here or in the pass or flaw that is open; NULL: nothing. */
static const char *typed_text(const struct form *f)
{
    const struct field *field = form_field(f);
    const char *text = line_text(&f->line);

    if (!f->writing || field == NULL)
        return NULL;
    return strcmp(text, field->start != NULL ? field->start : field->value) == 0 ? NULL : text;
}

/* A pass or flaw that was made to be written in, and in which nothing is written yet. */
static void leave_out(struct coupon *c, enum part_id id)
{
    size_t *count = (size_t *)(void *)((char *)c + part_tables[id].count);

    (*count)--;
}

static void keep(struct unsaved *u, const void *state)
{
    const struct card *card = state;
    const struct part_screen *inside = card->inside;
    const struct form *form = inside != NULL ? &inside->form : &card->form;
    const struct field *field = form_field(&card->form), *row = form_field(form);
    const char *typed = typed_text(form);
    bool written = typed != NULL || (inside != NULL && inside->written);
    struct draft draft = {.coupon = card->coupon};

    memcpy(draft.offered, card->offered, sizeof draft.offered);
    u->there = u->there || card->changed || written;
    if (card->fresh && inside != NULL && !written)
        leave_out(&draft.coupon, inside->id);
    if (typed != NULL) {
        draft.writing = mem_copy(typed);
        draft.part = inside != NULL ? CARD_ITEM + (int)inside->id : field->part;
        draft.index = inside != NULL ? inside->index : field->index;
        draft.row = inside != NULL ? row->index : 0;
    }
    draft_write(&draft, &u->accepted, &u->typed);
    free(draft.writing);
}

static bool is_part(const struct card *card, const struct draft *draft)
{
    int id = draft->part - CARD_ITEM;

    return (id == PART_PASS || id == PART_FLAW) &&
           draft->index < part_count(&card->coupon, (enum part_id)id);
}

static bool nothing_known(const struct coupon *c, enum part_id id, size_t index)
{
    const struct part_row *rows = part_tables[id].rows;

    for (size_t i = 0; rows[i].key != NULL; i++)
        if (part_known(&rows[i], part_item(c, id, index)))
            return false;
    return true;
}

/* Goes on where the draft was left. */
static void resume(struct card *card, const struct draft *draft)
{
    struct part_screen p = {.index = draft->index, .row = draft->row, .writing = draft->writing};

    card->changed = true;
    memcpy(card->offered, draft->offered, sizeof card->offered);
    for (size_t i = 0; i < MOST_ANSWERS; i++)
        answer_set(&card->ui->left[i], draft->answers[i].question, draft->answers[i].text);
    if (draft->answers[0].question != NULL)
        ui_say(card->ui, TONE_PLAIN, "What was typed is there again when this is asked: %s",
               draft->answers[0].question);
    if (draft->writing == NULL)
        return;
    if (is_part(card, draft)) {
        p.id = (enum part_id)(draft->part - CARD_ITEM);
        if (nothing_known(&card->coupon, p.id, p.index))
            open_fresh(card, &p);
        else
            open_part(card, &p);
        card_fill(card);
        return;
    }
    form_find(&card->form, draft->part, draft->index);
    form_write(&card->form, draft->writing);
}

/* Until the user leaves or the program has to end. */
static void card_loop(struct card *card)
{
    enum leaving leaving = STAY;

    while (leaving == STAY) {
        struct key k = ui_key(card->ui);
        int rows = form_area(card, ui_body()).rows;
        enum form_event event = edit_key(card->ui, &card->form, &card_edit, card, k, rows);

        if (k.code == PRESS_GONE)
            return;
        if (event == FORM_OPENED)
            leaving = open_field(card);
        else if (event == FORM_UNUSED)
            leaving = act(card, k);
    }
}

long screen_card(struct ui *ui, const struct trial *trial, struct draft *draft)
{
    struct error e = {0};
    struct layer layer;
    struct card card;
    long number;

    if (ui_failed(ui, card_open(&card, ui, trial, &draft->coupon, &e), &e))
        return -1;
    ui_push(ui, &layer, draw, keep, &card);
    if (draft->kept) {
        drafts_adopt(&ui->drafts);
        resume(&card, draft);
    }
    card_loop(&card);
    ui_pop(ui);
    number = card.coupon.sequence;
    card_close(&card);
    return number;
}
