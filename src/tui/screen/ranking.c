#include "tui/screen/ranking.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "analysis/compare.h"
#include "analysis/rank.h"
#include "base/array.h"
#include "base/clock.h"
#include "base/mem.h"
#include "page/cautions.h"
#include "tui/screen/keys.h"
#include "tui/screen/page.h"
#include "tui/widget/page_view.h"
#include "tui/widget/prompt.h"

enum { TELL_MS = 200 };

struct ranking_screen {
    struct ui *ui;
    const char *trial;
    char *result;               /* key; NULL: the one that decides the trial */
    struct rank_answer *answer; /* NULL: there is no ranking */
    struct view view;
    long seen;    /* change counter of the book when it was ranked */
    int64_t told; /* when the progress was last shown */
};

static void draw(struct canvas *c, const void *state)
{
    const struct ranking_screen *r = state;
    char *title = mem_format("Ranking of trial %s", r->trial);
    struct screen_layout layout = {
        .title = title, .context = CONTEXT_RANKING, .caution = caution_short};

    ui_words(r->ui, &layout, "Enter on a variable puts its two levels side by side.", TONE_PLAIN);
    view_draw(c, screen_layout_draw(c, &layout), &r->view);
    free(title);
}

/* Shows the progress now and then; Esc or the end of the program stops the ranking. */
static bool progress(void *context, double done)
{
    struct ranking_screen *r = context;
    int64_t now = clock_monotonic_ms();

    if (now - r->told < TELL_MS)
        return true;
    r->told = now;
    ui_say(r->ui, TONE_PLAIN, "Ranking: %.0f %% done. Esc stops it.", 100 * done);
    ui_show(r->ui);
    return term_wait(&r->ui->term, 0).code != PRESS_GONE &&
           term_read(&r->ui->term).code != PRESS_ESC;
}

static struct trial_question request_of(struct ranking_screen *r)
{
    return (struct trial_question){
        .trial = r->trial, .result = r->result, .progress = progress, .context = r};
}

static void refusal_page(const struct ranking_screen *r, const char *why, struct page *page)
{
    const struct variable *v =
        variable_find(&r->ui->session.variables, r->result == NULL ? "" : r->result);

    page_add(page, BLOCK_TITLE, "No ranking%s%s yet", v == NULL ? "" : " by ",
             v == NULL ? "" : v->label);
    page_add(page, BLOCK_ANSWER, "%s", why);
    cautions_add(page);
}

static void rank(struct ranking_screen *r)
{
    struct trial_question request = request_of(r);
    struct page page = {0};
    struct error e = {0};

    r->seen = session_changes(&r->ui->session);
    r->told = clock_monotonic_ms();
    rank_free(r->answer);
    if (rank_make(&r->ui->session, &request, &r->answer, &e) < 0)
        refusal_page(r, e.text, &page);
    else
        rank_page(r->answer, &page);
    r->ui->words[0] = '\0';
    view_set(&r->view, &page);
}

static void compare(struct ranking_screen *r)
{
    const char *target = view_target(&r->view, ui_body());
    struct trial_question request = request_of(r);
    struct compare_answer *answer = NULL;
    struct page page = {0};
    struct error e = {0};

    if (target == NULL) {
        ui_say(r->ui, TONE_PLAIN, "Only the lines of the table lead somewhere.");
        return;
    }
    if (ui_failed(r->ui, compare_make(&r->ui->session, &request, target, NULL, NULL, &answer, &e),
                  &e))
        return;
    compare_page(answer, &page);
    compare_free(answer);
    screen_page(r->ui, "Side by side", &page, caution_short);
}

/* Lets the user choose one of the numeric results: only those can be ranked. */
static void choose_result(struct ranking_screen *r)
{
    const struct variable_list *list = &r->ui->session.variables;
    struct choice *choices = NULL;
    const char **keys = mem_zero(list->count, sizeof *keys);
    size_t count = 0, capacity = 0, first = 0;
    int chosen;

    for (size_t i = 0; i < list->count; i++) {
        const struct variable *v = &list->items[i];

        if (v->role != ROLE_RESULT || v->kind != VARIABLE_NUMBER)
            continue;
        choices = array_reserve(choices, &capacity, count + 1, sizeof *choices);
        choices[count] = (struct choice){0, v->label};
        first = r->result != NULL && strcmp(r->result, v->key) == 0 ? count : first;
        keys[count++] = v->key;
    }
    chosen = prompt_pick(r->ui, "Rank by which result?", choices, count, first);
    if (chosen >= 0) {
        mem_replace(&r->result, keys[chosen]);
        rank(r);
        r->view.list.focus = 0;
    }
    free(choices);
    free(keys);
}

static void change_units(struct ranking_screen *r)
{
    struct page page = {0};

    ui_switch_units(r->ui);
    if (r->answer == NULL)
        return;
    rank_show(&r->ui->session, r->answer);
    rank_page(r->answer, &page);
    view_set(&r->view, &page);
}

static void look_again(struct ranking_screen *r)
{
    if (session_changes(&r->ui->session) != r->seen)
        rank(r);
}

/* All other keys move the cursor. */
static void other_key(struct ranking_screen *r, struct key k)
{
    if (k.code == PRESS_TICK)
        look_again(r);
    else
        view_key(&r->view, k, ui_body());
}

/* False to leave the screen. */
static bool act(struct ranking_screen *r, struct key k)
{
    switch (ui_action(r->ui, k, CONTEXT_RANKING)) {
    case ACTION_LEAVE:
        return false;
    case ACTION_OPEN:
        compare(r);
        break;
    case ACTION_RESULT:
        choose_result(r);
        break;
    case ACTION_UNITS:
        change_units(r);
        break;
    case ACTION_KEYS:
        screen_keys(r->ui, CONTEXT_RANKING);
        break;
    case ACTION_NONE:
        other_key(r, k);
        break;
    case ACTION_REFUSED:
        break;
    case ACTION_NEW:
    case ACTION_RANKING:
    case ACTION_SAVE:
    case ACTION_PASS:
    case ACTION_FLAW:
    case ACTION_PHOTO:
    case ACTION_REMOVE:
    case ACTION_TRIALS:
    case ACTION_FIND:
    case ACTION_SHOW_ALL:
    case ACTION_STRIKE:
    case ACTION_STRUCK:
        assert(!"a key of another screen");
    }
    return true;
}

void screen_ranking(struct ui *ui, const char *trial)
{
    struct ranking_screen r = {.ui = ui, .trial = trial};
    struct layer layer;
    struct key k;

    ui_push(ui, &layer, draw, NULL, &r);
    rank(&r);
    do
        k = ui_key(ui);
    while (k.code != PRESS_GONE && act(&r, k));
    ui_pop(ui);
    view_free(&r.view);
    rank_free(r.answer);
    free(r.result);
}
