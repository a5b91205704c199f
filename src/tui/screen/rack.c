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
    struct trial trial;
    struct error e = {0};
    char *question, *name = NULL;
    bool made = false;

    trial_init(&trial);
    question = prompt_text(r->ui, "What is this trial to answer?",
                           "One line, such as: which change keeps the corner from opening? Enter "
                           "alone leaves it open.",
                           NULL);
    if (question != NULL)
        name = prompt_text(r->ui, "What is the trial called?", "A short name; Enter takes it.",
                           proposed);
    if (name != NULL && *text_trim(name) != '\0') {
        trial.name = mem_copy(text_trim(name));
        trial.question = *text_trim(question) == '\0' ? NULL : mem_copy(text_trim(question));
        made = !ui_failed(r->ui, task_trial_save(&r->ui->session, &trial, &e), &e) &&
               load(r, trial.name);
    }
    free(question);
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

static void show_card(struct rack *r, struct draft *draft)
{
    long number = screen_card(r->ui, &r->trial, draft);
    struct error e = {0};

    if (load(r, NULL))
        ui_failed(r->ui, rack_focus(r, number, &e), &e);
}

/* The name of the trial with this id, NULL if the book has none. The caller frees it. */
static char *trial_name(struct rack *r, const char *id, struct error *e)
{
    struct trial_list list = {0};
    char *name = NULL;

    if (task_trials(&r->ui->session, &list, e) == 0)
        for (size_t i = 0; i < list.count && name == NULL; i++)
            if (strcmp(list.items[i].id, id) == 0)
                name = mem_copy(list.items[i].name);
    trial_list_free(&list);
    return name;
}

static void go_on(struct rack *r, struct draft *draft, const char *trial)
{
    if (load(r, trial))
        show_card(r, draft);
}

/* Offers a card that was unsaved when the program had to end. Its trial is missing if the book was
 * restored from an older copy. */
static void offer_draft(struct rack *r)
{
    static const struct choice answers[] = {{L'g', "go on with it"}, {L'f', "forget it"}},
                               without_trial[] = {{L'k', "keep it for the next start"},
                                                  {L'f', "forget it"}};
    struct error e = {0};
    struct draft draft;
    char *question, *name = NULL;
    int chosen;

    if (draft_load(&r->ui->session, &draft))
        name = trial_name(r, draft.coupon.trial, &e);
    if (e.kind != ERROR_NONE) {
        ui_say_error(r->ui, &e);
    } else if (draft.kept) {
        question = mem_format(
            "Coupon %s was being written when coldlap had to end%s.",
            draft.coupon.mark == NULL ? "without a mark" : draft.coupon.mark,
            name == NULL ? ", but its trial is not in this book; it cannot be opened" : "");
        chosen = prompt_pick(r->ui, question, name == NULL ? without_trial : answers, 2, 0);
        free(question);
        if (chosen == 1)
            draft_forget(&r->ui->session);
        else if (chosen == 0 && name != NULL)
            go_on(r, &draft, name);
    }
    draft_free(&draft);
    free(name);
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
    go = go && !ui_failed(r->ui, strike_or_restore(r, row, why, &e), &e);
    if (go)
        ui_say(r->ui, TONE_PLAIN,
               row->struck ? "Coupon %s counts again."
                           : "Coupon %s is struck out; a shows such coupons.",
               row->mark);
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
    if (session_changes(&r->ui->session) == r->seen)
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

    ui_push(ui, &layer, draw, &state);
    load(&r, NULL);
    offer_draft(&r);
    do {
        work_soon(&r);
        k = ui_key(ui);
    } while (k.code != PRESS_GONE && act(&r, k));
    ui_pop(ui);
    rack_free(&r);
}
