#include <stdlib.h>
#include <string.h>

#include "app/actions.h"
#include "app/cautions.h"
#include "app/rank_task.h"
#include "base/array.h"
#include "base/clock.h"
#include "base/mem.h"
#include "tui/hints.h"
#include "tui/prompt.h"
#include "tui/screens.h"
#include "tui/view.h"

enum { TELL_MS = 200 };

struct ranking_screen {
    struct ui *ui;
    const char *trial;
    char *result;               /* key; NULL: the one that decides the trial */
    struct rank_answer *answer; /* NULL: there is no ranking */
    struct view view;
    long seen;    /* change counter of the book when it was ranked */
    int64_t told; /* when the user was last told how far the work is */
};

static void draw(struct canvas *c, const void *state)
{
    const struct ranking_screen *r = state;
    char *keys = hint_line(PLACE_RANKING, c->columns);
    char *title = mem_format("Ranking of trial %s", r->trial);
    struct board board = {.title = title, .keys = keys, .caution = caution_short};

    ui_words(r->ui, &board, "Enter on a variable puts its two levels side by side.");
    view_draw(c, board_draw(c, &board), &r->view);
    free(keys);
    free(title);
}

/* Says now and then how far the work is; Esc or the end of the program stops it. */
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

static struct rank_request request_of(struct ranking_screen *r)
{
    return (struct rank_request){
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
    struct rank_request request = request_of(r);
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
    struct rank_request request = request_of(r);
    struct compare_answer *answer = NULL;
    struct page page = {0};
    struct error e = {0};

    if (target == NULL) {
        ui_say(r->ui, TONE_PLAIN, "Only the lines of the table lead somewhere.");
        return;
    }
    if (compare_make(&r->ui->session, &request, target, NULL, NULL, &answer, &e) < 0) {
        ui_say_error(r->ui, &e);
        return;
    }
    compare_page(answer, &page);
    compare_free(answer);
    screen_page(r->ui, "Side by side", &page, caution_short);
}

/* The results in numbers, by which coupons can be ranked. */
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
        free(r->result);
        r->result = mem_copy(keys[chosen]);
        rank(r);
        r->view.list.focus = 0;
    }
    free(choices);
    free(keys);
}

static void change_units(struct ranking_screen *r)
{
    struct page page = {0};

    switch_units(r->ui);
    if (r->answer == NULL)
        return;
    rank_show(&r->ui->session, r->answer);
    rank_page(r->answer, &page);
    view_set(&r->view, &page);
}

static void show_keys(struct ranking_screen *r)
{
    screen_keys(r->ui, PLACE_RANKING);
}

static void look_again(struct ranking_screen *r)
{
    if (session_changes(&r->ui->session) != r->seen)
        rank(r);
}

static const struct {
    const char *action;
    void (*run)(struct ranking_screen *r);
} runs[] = {
    {"open", compare},
    {"result", choose_result},
    {"switch", change_units},
    {"keys", show_keys},
};

static void act(struct ranking_screen *r, struct key k)
{
    const struct action *a = hint_action(k, PLACE_RANKING);

    for (size_t i = 0; i < sizeof runs / sizeof *runs; i++)
        if (hint_is(a, runs[i].action)) {
            runs[i].run(r);
            return;
        }
    if (k.code == PRESS_TICK)
        look_again(r);
    else
        view_key(&r->view, k, ui_body());
}

void screen_ranking(struct ui *ui, const char *trial)
{
    struct ranking_screen r = {.ui = ui, .trial = trial};
    struct layer layer;
    struct key k;

    ui_push(ui, &layer, draw, &r);
    rank(&r);
    for (k = ui_key(ui); k.code != PRESS_GONE; k = ui_key(ui)) {
        if (hint_is(hint_action(k, PLACE_RANKING), "back"))
            break;
        act(&r, k);
    }
    ui_pop(ui);
    view_free(&r.view);
    rank_free(r.answer);
    free(r.result);
}
