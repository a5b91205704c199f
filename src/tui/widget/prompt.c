#include "tui/widget/prompt.h"

#include <stdlib.h>
#include <string.h>
#include <wctype.h>

#include "base/mem.h"
#include "base/text.h"
#include "tui/widget/line.h"
#include "tui/widget/list.h"

enum { BOX_COLUMNS = 64 };

struct pick {
    const char *question;
    const struct choice *choices;
    struct list list;
};

struct writing {
    const char *question, *help, *initial;
    struct line line;
};

/* A box in the middle with room for `rows` lines; returns its inside. */
static struct area box_inside(int terminal_rows, int terminal_columns, int rows)
{
    int columns = terminal_columns - 2 < BOX_COLUMNS ? terminal_columns - 2 : BOX_COLUMNS;
    int max = terminal_rows - 2;

    if (rows > max)
        rows = max;
    return (struct area){(terminal_rows - rows) / 2, (terminal_columns - columns) / 2 + 2, rows,
                         columns - 4};
}

static struct area draw_box(struct canvas *c, int rows)
{
    struct area in = box_inside(c->rows, c->columns, rows);

    paint_box(c, (struct area){in.y - 1, in.x - 2, in.rows + 2, in.columns + 4});
    return in;
}

static void draw_choice(struct canvas *c, struct area row, const void *owner, size_t at,
                        bool focused)
{
    const struct choice *choice = &((const struct pick *)owner)->choices[at];
    enum tone tone = focused ? TONE_FOCUS : TONE_PLAIN;
    char name[16] = "";

    if (choice->key != 0)
        key_word((struct key){.code = PRESS_CHAR, .ch = choice->key}, name, sizeof name);
    if (*name != '\0')
        paint_text(c, row.y, row.x, 2, tone, name);
    paint_text(c, row.y, row.x + (*name == '\0' ? 0 : 3), row.columns - (*name == '\0' ? 0 : 3),
               tone, choice->text);
}

/* The area of the choices; `question_rows` is set to the rows of the question above it. */
static struct area pick_areas(int terminal_rows, int terminal_columns, const struct pick *p,
                              int *question_rows)
{
    struct area in = box_inside(terminal_rows, terminal_columns, 0);
    int asked = paint_wrapped_rows(p->question, in.columns), choices = (int)p->list.count;

    in = box_inside(terminal_rows, terminal_columns, asked + choices);
    *question_rows = asked < in.rows - 1 ? asked : in.rows / 2;
    return (struct area){in.y + *question_rows, in.x, in.rows - *question_rows, in.columns};
}

static void draw_pick(struct canvas *c, const void *state)
{
    const struct pick *p = state;
    int asked;
    struct area rows = pick_areas(c->rows, c->columns, p, &asked);

    draw_box(c, asked + rows.rows);
    paint_wrapped(c, (struct area){rows.y - asked, rows.x, asked, rows.columns}, TONE_HEADING,
                  p->question);
    list_draw(c, rows, &p->list, draw_choice, p);
}

static bool begins_with(const char *text, wchar_t ch)
{
    wchar_t first;

    return mbtowc(&first, text, MB_CUR_MAX) > 0 && towlower((wint_t)first) == towlower((wint_t)ch);
}

/* True if the character is the key of a choice, which then has the focus. Otherwise the focus moves
 * to the next choice that begins with the character. */
static bool pick_by_character(struct pick *p, wchar_t ch, int rows)
{
    for (size_t i = 0; i < p->list.count; i++)
        if (p->choices[i].key != 0 && p->choices[i].key == (wchar_t)towlower((wint_t)ch)) {
            list_focus(&p->list, i, rows);
            return true;
        }
    for (size_t i = 1; i <= p->list.count; i++) {
        size_t at = (p->list.focus + i) % p->list.count;

        if (begins_with(p->choices[at].text, ch)) {
            list_focus(&p->list, at, rows);
            return false;
        }
    }
    return false;
}

static int pick_loop(struct ui *ui, struct pick *p)
{
    for (;;) {
        struct key k = ui_key(ui);
        int asked, rows = pick_areas(term_rows(), term_columns(), p, &asked).rows;

        if (k.code == PRESS_ESC || k.code == PRESS_GONE)
            return -1;
        if (k.code == PRESS_ENTER && p->list.count > 0)
            return (int)p->list.focus;
        if (k.code == PRESS_CHAR && pick_by_character(p, k.ch, rows))
            return (int)p->list.focus;
        list_key(&p->list, k, rows);
    }
}

int prompt_pick(struct ui *ui, const char *question, const struct choice *choices, size_t count,
                size_t first)
{
    struct pick p = {.question = question, .choices = choices};
    struct layer layer;
    int chosen;

    list_resize(&p.list, count);
    list_focus(&p.list, first, term_rows());
    ui_push(ui, &layer, draw_pick, NULL, &p);
    chosen = pick_loop(ui, &p);
    ui_pop(ui);
    return chosen;
}

bool prompt_yes(struct ui *ui, const char *question)
{
    static const struct choice answers[] = {{L'y', "yes"}, {L'n', "no"}};

    return prompt_pick(ui, question, answers, 2, 0) == 0;
}

static void draw_writing(struct canvas *c, const void *state)
{
    const struct writing *w = state;
    struct area in = box_inside(c->rows, c->columns, 0);
    int asked = paint_wrapped_rows(w->question, in.columns);
    int helped = w->help == NULL ? 0 : paint_wrapped_rows(w->help, in.columns);

    in = draw_box(c, asked + 1 + helped);
    asked = paint_wrapped(c, (struct area){in.y, in.x, in.rows - 1, in.columns}, TONE_HEADING,
                          w->question);
    if (w->help != NULL && in.rows > asked + 1)
        paint_wrapped(c, (struct area){in.y + asked + 1, in.x, in.rows - asked - 1, in.columns},
                      TONE_QUIET, w->help);
    line_draw(c, in.y + asked, in.x, in.columns, &w->line);
}

static void keep_writing(struct unsaved *u, const void *state)
{
    const struct writing *w = state;
    const char *text = line_text(&w->line);

    if (strcmp(text, w->initial == NULL ? "" : w->initial) == 0)
        return;
    u->there = true;
    draft_line(&u->typed, "question", w->question);
    draft_line(&u->typed, "answer", text);
}

/* What was being answered when the program had to end comes back once. */
static void start_writing(struct ui *ui, struct writing *w)
{
    line_start(&w->line, w->initial);
    for (size_t i = 0; i < MOST_ANSWERS; i++)
        if (ui->left[i].question != NULL && strcmp(ui->left[i].question, w->question) == 0) {
            line_free(&w->line);
            line_start(&w->line, ui->left[i].text);
            answer_set(&ui->left[i], NULL, NULL);
        }
}

static char *writing_loop(struct ui *ui, struct writing *w, prompt_listener *heard, void *ctx)
{
    for (;;) {
        struct key k;

        if (heard != NULL)
            heard(ctx, line_text(&w->line));
        k = ui_key(ui);

        if (k.code == PRESS_ESC || k.code == PRESS_GONE)
            return NULL;
        if (k.code == PRESS_ENTER)
            return mem_copy(line_text(&w->line));
        line_key(&w->line, k);
    }
}

char *prompt_text_heard(struct ui *ui, const char *question, const char *help, const char *initial,
                        prompt_listener *heard, void *ctx)
{
    struct writing w = {.question = question, .help = help, .initial = initial};
    struct layer layer;
    char *written;

    if (heard != NULL) /* what is looked for is not kept */
        line_start(&w.line, initial);
    else
        start_writing(ui, &w);
    ui_push(ui, &layer, draw_writing, heard != NULL ? NULL : keep_writing, &w);
    written = writing_loop(ui, &w, heard, ctx);
    ui_pop(ui);
    line_free(&w.line);
    return written;
}

char *prompt_text(struct ui *ui, const char *question, const char *help, const char *initial)
{
    return prompt_text_heard(ui, question, help, initial, NULL, NULL);
}
