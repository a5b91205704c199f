#include "tui/widget/layers.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "tui/term/signals.h"

enum { TICK_MS = 1000 };

void ui_push(struct ui *ui, struct layer *layer, layer_painter *draw, layer_keeper *keep,
             const void *state)
{
    *layer = (struct layer){draw, keep, state, ui->top};
    ui->top = layer;
}

void ui_pop(struct ui *ui)
{
    assert(ui->top != NULL);
    ui->top = ui->top->below;
}

static void draw_layers(struct canvas *c, const struct layer *layer)
{
    if (layer == NULL)
        return;
    draw_layers(c, layer->below);
    if (layer->draw != NULL)
        layer->draw(c, layer->state);
}

static void keep_layers(struct unsaved *u, const struct layer *layer)
{
    if (layer == NULL)
        return;
    keep_layers(u, layer->below);
    if (layer->keep != NULL)
        layer->keep(u, layer->state);
}

void answer_keep(struct unsaved *u, const struct answer *a)
{
    draft_line(&u->typed, "question", a->question);
    draft_line(&u->typed, "answer", a->text);
}

void answer_set(struct answer *a, const char *question, const char *text)
{
    free(a->question);
    free(a->text);
    *a = (struct answer){mem_copy(question), mem_copy(text)};
}

void ui_answered(struct ui *ui, const char *question, const char *text)
{
    bool given = text != NULL && *text != '\0';

    for (size_t i = 0; i < MOST_ANSWERS; i++) {
        bool same = ui->left[i].question != NULL && strcmp(ui->left[i].question, question) == 0;

        if (!same && (!given || ui->left[i].question != NULL))
            continue;
        answer_set(&ui->left[i], given ? question : NULL, given ? text : NULL);
        return;
    }
}

static void say_it_may_be_lost(struct ui *ui, const struct error *why)
{
    if (!ui->said_lost)
        ui_say(ui, TONE_REFUSED,
               "An unfinished card cannot be kept (%s): what is not saved is lost if coldlap is "
               "ended.",
               why->text);
    ui->said_lost = true;
}

/* When the program has to end the draft stays as it was at the last key. */
static void keep_draft(struct ui *ui)
{
    struct unsaved u = {0};
    struct error e = {0};

    if (ui->gone)
        return;
    for (size_t i = 0; i < MOST_ANSWERS; i++) {
        u.there = u.there || ui->left[i].question != NULL;
        answer_keep(&u, &ui->left[i]);
    }
    keep_layers(&u, ui->top);
    ui->lost = drafts_keep(&ui->drafts, u.there ? text_str(&u.accepted) : "",
                           u.there ? text_str(&u.typed) : "", &e) < 0;
    if (ui->lost)
        say_it_may_be_lost(ui, &e);
    signals_words(drafts_where(&ui->drafts));
    text_free(&u.accepted);
    text_free(&u.typed);
}

static void draw_too_small(struct canvas *c)
{
    char words[80];

    snprintf(words, sizeof words, "coldlap needs %dx%d cells here; this is %dx%d.",
             SCREEN_MIN_COLUMNS, SCREEN_MIN_ROWS, c->columns, c->rows);
    paint_wrapped(c, canvas_area(c), TONE_PLAIN, words);
}

void ui_show(struct ui *ui)
{
    struct canvas c = canvas_begin(ui->term.colour, ui->term.utf8);

    if (c.columns < SCREEN_MIN_COLUMNS || c.rows < SCREEN_MIN_ROWS)
        draw_too_small(&c);
    else
        draw_layers(&c, ui->top);
    canvas_end(&c);
}

/* The next key of the keyboard or the script, or a tick of the clock. */
static struct key next_key(struct ui *ui)
{
    struct key key = {.code = PRESS_GONE};

    if (ui->term.ended_by != 0 || ui->failure.kind != ERROR_NONE)
        return key;
    ui->playing = script_more(ui->script);
    if (ui->playing) {
        key = term_listen(&ui->term);
        return key.code != PRESS_TICK || ui->working
                   ? key
                   : script_step(ui->script, session_book_name(&ui->session), &ui->failure);
    }
    key = term_read(&ui->term);
    if (key.code != PRESS_NONE)
        return key;
    if (ui->working)
        return (struct key){.code = PRESS_TICK};
    if (ui->term.nowhere != NULL)
        return (struct key){.code = PRESS_GONE};
    return term_wait(&ui->term, TICK_MS);
}

/* What there is to say of the book, where nothing else was said. */
static void say_remark(struct ui *ui)
{
    char *remark =
        ui->words[0] == '\0' && ui->session.book != NULL ? book_remark(ui->session.book) : NULL;

    if (remark != NULL)
        ui_say(ui, TONE_CAUTION, "%s", remark);
    free(remark);
}

struct key ui_key(struct ui *ui)
{
    struct error e = {0};
    struct key key;

    say_remark(ui);
    do {
        keep_draft(ui);
        ui_show(ui);
        session_rest(&ui->session);
        key = next_key(ui);
    } while (key.code == PRESS_NONE);
    ui->working = false;
    ui->gone = key.code == PRESS_GONE;
    if (key.code == PRESS_TICK && session_moved(&ui->session, &e))
        ui_say_error(ui, &e);
    if (key.code != PRESS_TICK)
        ui->words[0] = '\0';
    return key;
}

void ui_working(struct ui *ui)
{
    ui->working = true;
}

void ui_say(struct ui *ui, enum tone tone, const char *format, ...)
{
    va_list args;

    va_start(args, format);
    vsnprintf(ui->words, sizeof ui->words, format, args);
    va_end(args);
    ui->tone = tone;
}

void ui_say_error(struct ui *ui, const struct error *e)
{
    ui_say(ui, TONE_REFUSED, "%s", e->text);
    if (ui->playing && ui->unsaved.kind == ERROR_NONE && e->kind == ERROR_SYSTEM)
        ui->unsaved = *e;
}

bool ui_failed(struct ui *ui, int rc, const struct error *e)
{
    if (rc < 0)
        ui_say_error(ui, e);
    return rc < 0;
}

bool ui_read_only(struct ui *ui)
{
    const char *why = session_read_only(&ui->session);
    struct error e = {0};

    if (why == NULL)
        return false;
    error_set(&e, ERROR_SYSTEM, "%s: %s; nothing can be stored in it",
              session_book_name(&ui->session), why);
    ui_say_error(ui, &e);
    return true;
}

enum action ui_action(struct ui *ui, struct key k, enum key_context context)
{
    const struct key_row *row;
    char name[16];

    key_word(k, name, sizeof name);
    row = key_row_find(name, context);
    if (row == NULL)
        return ACTION_NONE;
    return row->writes && ui_read_only(ui) ? ACTION_REFUSED : row->action;
}

void ui_switch_units(struct ui *ui)
{
    enum unit_system other = ui->session.units == UNITS_METRIC ? UNITS_INCH : UNITS_METRIC;
    struct error e = {0};

    if (session_read_only(&ui->session) != NULL)
        ui->session.units = other; /* for this run */
    else if (ui_failed(ui, session_set_units(&ui->session, other, &e), &e))
        return;
    ui_say(ui, TONE_PLAIN, "Numbers are shown in %s units. Stored values did not change.",
           units_name(other));
}

void ui_words(const struct ui *ui, struct screen_layout *l, const char *otherwise, enum tone tone)
{
    bool said = ui->words[0] != '\0';

    l->words = said ? ui->words : otherwise;
    l->tone = said ? ui->tone : tone;
}

struct area ui_body(void)
{
    return screen_layout_body(term_rows(), term_columns());
}
