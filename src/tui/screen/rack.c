#include "tui/screen/rack.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "base/mem.h"
#include "base/text.h"
#include "tui/screen/card.h"
#include "tui/screen/draft.h"
#include "tui/screen/keys.h"
#include "tui/screen/rack_list.h"
#include "tui/screen/ranking.h"
#include "tui/widget/prompt.h"

static char *title_of(const struct rack *r)
{
    const char *question = r->has_trial ? r->trial.question : NULL;

    if (!r->has_trial)
        return mem_copy("coldlap: an empty book");
    return mem_format("Trial %s%s%s", r->trial.name, question == NULL ? "" : ": ",
                      question == NULL ? "" : question);
}

static char *aside_of(const struct rack *r)
{
    const struct coupon_view *v = &r->view;
    const char *plural = v->total == 1 ? "" : "s";

    if (v->letters != NULL && !coupon_view_done(v))
        return mem_format("searching: %zu found so far, holding '%s'", coupon_view_found(v),
                          v->letters);
    if (v->letters != NULL)
        return mem_format("%zu of %zu coupon%s, holding '%s'", coupon_view_found(v), v->total,
                          plural, v->letters);
    return mem_format("%zu coupon%s%s%s", v->total, plural, coupon_view_done(v) ? "" : " so far",
                      r->with_struck ? ", struck-out ones too" : "");
}

/* What is seen is read now, as only here it is known how many lines there are. */
static void draw(struct canvas *c, const void *state)
{
    struct rack *r = *(struct rack *const *)state;
    struct error e = {0};
    char *title = title_of(r), *aside = aside_of(r);
    const char *locked = session_read_only(&r->ui->session);
    char *where = mem_format("Book %s%s%s%s", session_book_name(&r->ui->session),
                             locked == NULL ? "" : ": ", locked == NULL ? "" : locked,
                             locked == NULL ? "" : "; nothing can be stored in it");
    struct screen_layout layout = {.title = title, .aside = aside, .context = CONTEXT_RACK};

    ui_failed(r->ui, rack_prepare(r, ui_body().rows - 1, &e), &e);
    ui_words(r->ui, &layout, where, TONE_PLAIN);
    rack_draw(c, screen_layout_draw(c, &layout), r);
    free(title);
    free(aside);
    free(where);
}

/* Shows a trial; NULL reloads the one shown. False, with the reason shown, if that fails. */
static bool load(struct rack *r, const char *trial)
{
    struct error e = {0};

    return !ui_failed(r->ui, rack_load(r, trial, &e), &e);
}

/* Asks for a new trial, saves it and shows it. False if the user leaves or saving fails. */
static bool make_trial(struct rack *r, const char *proposed)
{
    static const char what[] = "What is this trial to answer?",
                      called[] = "What is the trial called?";
    struct trial trial;
    struct error e = {0};
    char *purpose, *name = NULL;
    bool made = false;

    trial_init(&trial);
    purpose = prompt_text(r->ui, what,
                          "One line, such as: which change keeps the corner from opening? Enter "
                          "alone leaves it open.",
                          NULL);
    ui_answered(r->ui, what, purpose);
    if (purpose != NULL)
        name = prompt_text(r->ui, called, "A short name; Enter takes it.", proposed);
    ui_answered(r->ui, called, name);
    if (name != NULL && *text_trim(name) != '\0') {
        trial.name = mem_copy(text_trim(name));
        trial.question = *text_trim(purpose) == '\0' ? NULL : mem_copy(text_trim(purpose));
        made = !ui_failed(r->ui, task_trial_save(&r->ui->session, &trial, &e), &e) &&
               load(r, trial.name);
    }
    if (e.kind == ERROR_NONE) { /* else it is asked again with what was typed */
        ui_answered(r->ui, what, NULL);
        ui_answered(r->ui, called, NULL);
    }
    free(purpose);
    free(name);
    trial_free(&trial);
    return made;
}

static void choose_trial(struct rack *r)
{
    struct trial_list list = {0};
    struct choice *choices;
    struct error e = {0};
    size_t first = 0;
    int chosen;

    if (ui_failed(r->ui, task_trials(&r->ui->session, &list, &e), &e))
        return;
    choices = mem_zero(list.count + 1, sizeof *choices);
    for (size_t i = 0; i < list.count; i++) {
        choices[i].text = list.items[i].name;
        first = r->has_trial && strcmp(list.items[i].id, r->trial.id) == 0 ? i : first;
    }
    choices[list.count] = (struct choice){L'+', "make a new trial"};
    chosen = prompt_pick(r->ui, "Which trial?", choices, list.count + 1, first);
    if (chosen >= 0 && chosen < (int)list.count)
        load(r, list.items[chosen].name);
    else if (chosen >= 0 && !ui_read_only(r->ui))
        make_trial(r, NULL);
    free(choices);
    trial_list_free(&list);
}

static bool show_card(struct rack *r, struct draft *draft)
{
    long number = screen_card(r->ui, &r->trial, draft);
    struct error e = {0};

    if (load(r, NULL) && number >= 0)
        ui_failed(r->ui, rack_focus(r, number, &e), &e);
    return number >= 0;
}

/* The name of the trial with this id, NULL if the book has none. The caller frees it. */
static char *trial_name(struct rack *r, const char *id, struct error *e)
{
    struct trial_list list = {0};
    const struct trial *trial = NULL;
    char *name;

    if (task_trials(&r->ui->session, &list, e) == 0)
        trial = trial_list_with_id(&list, id);
    name = trial != NULL ? mem_copy(trial->name) : NULL;
    trial_list_free(&list);
    return name;
}

/* What was typed is there again when the question is asked. */
static void take_answers(struct rack *r, struct draft *draft)
{
    for (size_t i = 0; i < MOST_ANSWERS; i++)
        answer_set(&r->ui->left[i], draft->answers[i].question, draft->answers[i].text);
    ui_say(r->ui, TONE_PLAIN, "What was typed is there again when this is asked: %s",
           draft->answers[0].question);
    drafts_adopt(&r->ui->drafts);
}

/* True when it is this process's from now on, or done with. */
static bool go_on(struct rack *r, struct draft *draft, const char *trial)
{
    if (draft->coupon.trial[0] != '\0')
        return load(r, trial) && show_card(r, draft);
    take_answers(r, draft);
    return true;
}

static char *draft_question(const struct draft *draft, struct instant when, const char *trial)
{
    const char *mark = draft->coupon.mark == NULL ? "without a mark" : draft->coupon.mark;
    char since[40] = "", moment[32];

    clock_format_short(moment, sizeof moment, when);
    if (when.utc_ms != 0)
        snprintf(since, sizeof since, " (%s)", moment);
    if (draft->coupon.trial[0] == '\0')
        return mem_format("This was being answered when coldlap had to end%s: %s '%s'", since,
                          draft->answers[0].question, draft->answers[0].text);
    if (trial == NULL)
        return mem_format("Coupon %s was being written when coldlap had to end%s, but its trial is "
                          "not in this book: it cannot be opened.",
                          mark, since);
    return mem_format("Coupon %s of trial %s was being written when coldlap had to end%s.", mark,
                      trial, since);
}

/* Its trial is missing if the book was put back to an older copy. */
static void offer(struct rack *r, struct draft *draft, struct instant when)
{
    static const struct choice answers[] = {
        {L'g', "go on with it"}, {L'k', "keep it for later"}, {L't', "throw it away"}};
    bool card = draft->coupon.trial[0] != '\0';
    struct error e = {0};
    char *trial = card ? trial_name(r, draft->coupon.trial, &e) : NULL, *question;
    size_t first = card && trial == NULL ? 1 : 0; /* of the answers that make sense */
    int chosen;

    if (e.kind != ERROR_NONE) {
        ui_say_error(r->ui, &e);
        return;
    }
    question = draft_question(draft, when, trial);
    chosen = prompt_pick(r->ui, question, answers + first, 3 - first, 0) + (int)first;
    if (chosen == 2)
        drafts_drop(&r->ui->drafts);
    else if (chosen == 0 && first == 0 && go_on(r, draft, trial))
        ;
    else
        drafts_put_back(&r->ui->drafts);
    free(question);
    free(trial);
}

/* Offers what was not saved when a program had to end, one after the other. */
static void offer_drafts(struct rack *r)
{
    struct draft_names names = {0};

    drafts_list(&r->ui->drafts, &names);
    if (names.count > 0 && session_read_only(&r->ui->session) != NULL) {
        ui_say(r->ui, TONE_PLAIN,
               "An unfinished card is in %s; it is offered when the book can be written.",
               names.items[0]);
        draft_names_free(&names);
        return;
    }
    for (size_t i = 0; i < names.count; i++) {
        struct draft draft;
        struct instant when;
        char *text = drafts_take(&r->ui->drafts, names.items[i], &when);

        if (text == NULL)
            continue;
        draft_read(&r->ui->session.variables, text, &draft);
        draft.kept = true;
        if (draft.coupon.trial[0] != '\0' || draft.answers[0].text != NULL)
            offer(r, &draft, when);
        else
            drafts_drop(&r->ui->drafts);
        draft_free(&draft);
        free(text);
    }
    draft_names_free(&names);
}

static void new_coupon(struct rack *r)
{
    struct draft draft = {.kept = false};
    struct error e = {0};

    if (!r->has_trial && !make_trial(r, "first"))
        return;
    if (!ui_failed(r->ui, task_coupon_new(&r->ui->session, &r->trial, &draft.coupon, &e), &e))
        show_card(r, &draft);
    draft_free(&draft);
}

static void open_coupon(struct rack *r)
{
    const struct list_row *row = rack_focused(r);
    struct draft draft = {.kept = false};
    struct error e = {0};

    if (row == NULL)
        return;
    if (!ui_failed(r->ui, task_coupon_by_number(&r->ui->session, row->number, &draft.coupon, &e),
                   &e))
        show_card(r, &draft);
    draft_free(&draft);
}

static void open_ranking(struct rack *r)
{
    if (r->has_trial)
        screen_ranking(r->ui, r->trial.name);
    else
        ui_say(r->ui, TONE_PLAIN, "There is nothing to rank yet. Press n to log a coupon.");
}

/* What is left to do is done at a tick, when no key has come. */
static void work_soon(struct rack *r)
{
    if (!coupon_view_done(&r->view))
        ui_working(r->ui);
}

static void filter(void *rack, const char *letters)
{
    struct rack *r = rack;
    struct error e = {0};

    ui_failed(r->ui, rack_find(r, letters, &e), &e);
    work_soon(r);
}

static void show_all(struct rack *r)
{
    if (r->view.letters == NULL)
        return;
    filter(r, NULL);
    ui_say(r->ui, TONE_PLAIN, "All coupons are shown again.");
}

static void find(struct rack *r)
{
    char *before = mem_copy(r->view.letters);
    char *word = prompt_text_heard(r->ui, "Show only coupons that hold these letters",
                                   "Searched: mark, day, what changed, result, values, note. Empty "
                                   "shows all; so does Esc on the rack.",
                                   before, filter, r);

    if (word == NULL)
        filter(r, before);
    free(word);
    free(before);
}

static int strike_or_restore(struct rack *r, const struct list_row *row, const char *why,
                             struct error *e)
{
    struct session *s = &r->ui->session;
    struct coupon c;
    int rc = task_coupon_by_number(s, row->number, &c, e);

    if (rc == 0)
        rc = row->struck ? task_coupon_restore(s, &c, e) : task_coupon_strike(s, &c, why, e);
    coupon_free(&c);
    return rc;
}

static void strike(struct rack *r)
{
    const struct list_row *row = rack_focused(r);
    struct error e = {0};
    char *question, *why = NULL;
    bool go;

    if (row == NULL)
        return;
    question = row->struck ? mem_format("Bring coupon %s back?", row->mark)
                           : mem_format("Why is coupon %s struck out?", row->mark);
    if (row->struck)
        go = prompt_yes(r->ui, question);
    else
        go = (why = prompt_text(r->ui, question,
                                "The reason is kept. It stays in the book, does "
                                "not count, and can come back.",
                                NULL)) != NULL;
    ui_answered(r->ui, question, why);
    go = go && !ui_failed(r->ui, strike_or_restore(r, row, why, &e), &e);
    if (go)
        ui_say(r->ui, TONE_PLAIN,
               row->struck ? "Coupon %s counts again."
                           : "Coupon %s is struck out; a shows such coupons.",
               row->mark);
    if (e.kind == ERROR_NONE)
        ui_answered(r->ui, question, NULL);
    if (go)
        load(r, NULL);
    free(question);
    free(why);
}

static void show_struck(struct rack *r)
{
    r->with_struck = !r->with_struck;
    load(r, NULL);
    ui_say(r->ui, TONE_PLAIN,
           r->with_struck ? "Struck-out coupons are shown." : "Struck-out coupons are hidden.");
}

static void change_units(struct rack *r)
{
    ui_switch_units(r->ui);
    load(r, NULL);
}

static void look_again(struct rack *r)
{
    if (session_moved(&r->ui->session, NULL) || session_changes(&r->ui->session) == r->seen)
        return;
    load(r, NULL);
    if (r->ui->words[0] == '\0')
        ui_say(r->ui, TONE_PLAIN, "Another program wrote into this book; the rack is up to date.");
}

/* All other keys move the cursor; without one there is time for work. */
static void other_key(struct rack *r, struct key k)
{
    struct error e = {0};

    if (k.code == PRESS_TICK)
        look_again(r);
    ui_failed(r->ui, k.code == PRESS_TICK ? rack_work(r, &e) : rack_key(r, k, &e), &e);
}

/* False to leave the screen. */
static bool act(struct rack *r, struct key k)
{
    switch (ui_action(r->ui, k, CONTEXT_RACK)) {
    case ACTION_LEAVE:
        return false;
    case ACTION_OPEN:
        open_coupon(r);
        break;
    case ACTION_NEW:
        new_coupon(r);
        break;
    case ACTION_RANKING:
        open_ranking(r);
        break;
    case ACTION_TRIALS:
        choose_trial(r);
        break;
    case ACTION_FIND:
        find(r);
        break;
    case ACTION_SHOW_ALL:
        show_all(r);
        break;
    case ACTION_STRIKE:
        strike(r);
        break;
    case ACTION_STRUCK:
        show_struck(r);
        break;
    case ACTION_UNITS:
        change_units(r);
        break;
    case ACTION_KEYS:
        screen_keys(r->ui, CONTEXT_RACK);
        break;
    case ACTION_NONE:
        other_key(r, k);
        break;
    case ACTION_REFUSED:
        break;
    case ACTION_SAVE:
    case ACTION_PASS:
    case ACTION_FLAW:
    case ACTION_PHOTO:
    case ACTION_REMOVE:
    case ACTION_RESULT:
        assert(!"a key of another screen");
    }
    return true;
}

void screen_rack(struct ui *ui)
{
    struct rack r = {.ui = ui, .lines = 1}, *state = &r;
    struct layer layer;
    struct key k;

    ui_push(ui, &layer, draw, NULL, &state);
    load(&r, NULL);
    offer_drafts(&r);
    do {
        work_soon(&r);
        k = ui_key(ui);
    } while (k.code != PRESS_GONE && act(&r, k));
    ui_pop(ui);
    rack_free(&r);
}
