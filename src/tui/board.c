#include "tui/board.h"

#include <stdlib.h>

#include "base/mem.h"
#include "base/text.h"

enum { WITH_RULES = 16, WORD_ROWS = 2 };

static int rule_rows(int rows)
{
    return rows >= WITH_RULES ? 1 : 0;
}

struct area board_body(int rows, int columns)
{
    int rule = rule_rows(rows), body = rows - 2 - WORD_ROWS - 2 * rule;

    return (struct area){2 + rule, 0, body > 0 ? body : 0, columns};
}

static void draw_title(struct canvas *c, const struct board *b)
{
    const char *aside = b->aside == NULL ? "" : b->aside;
    int space = c->columns - text_width(aside) - 2;

    if (space < c->columns / 2)
        space = c->columns;
    else
        paint_right(c, 0, space, c->columns - space, TONE_QUIET, aside);
    paint_text(c, 0, 0, space, TONE_TITLE, b->title);
}

/* The rule above the words, with the caution in it. */
static void draw_caution(struct canvas *c, const char *caution)
{
    int y = c->rows - WORD_ROWS - 1;

    paint_rule(c, y, 0, c->columns);
    if (caution != NULL) {
        char *words = mem_format(" %s ", caution);

        paint_text(c, y, 1, c->columns - 1, TONE_CAUTION, words);
        free(words);
    }
}

struct area board_draw(struct canvas *c, const struct board *b)
{
    struct area body = board_body(c->rows, c->columns);
    struct area words = {c->rows - WORD_ROWS, 0, WORD_ROWS, c->columns};

    paint_blank(c, canvas_area(c), TONE_PLAIN);
    draw_title(c, b);
    paint_text(c, 1, 0, c->columns, TONE_QUIET, b->keys);
    if (rule_rows(c->rows)) {
        paint_rule(c, 2, 0, c->columns);
        draw_caution(c, b->caution);
    }
    if (b->words != NULL)
        paint_wrapped(c, words, b->tone, b->words);
    return body;
}
