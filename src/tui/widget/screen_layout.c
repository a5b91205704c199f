#include "tui/widget/screen_layout.h"

#include <stdlib.h>

#include "base/mem.h"
#include "base/text.h"

enum { RULES_FROM_ROWS = 16, WORD_ROWS = 2 };

/* The hints for help and leaving come last and are never left out. */
static bool named_always(const struct key_row *row)
{
    return row->action == ACTION_KEYS || row->action == ACTION_LEAVE;
}

static char *joined(const char *line, const char *more)
{
    return mem_format("%s%s%s", line, *line != '\0' && *more != '\0' ? " · " : "", more);
}

/* The hints of a context that fit: either those always named or the others. */
static char *hints(enum key_context context, bool always, int columns)
{
    char *line = mem_copy("");
    const struct key_row *row;

    for (size_t i = 0; (row = key_row_at(i)) != NULL; i++) {
        char *hint, *longer;

        if ((row->contexts & (int)context) == 0 || row->hint == NULL || named_always(row) != always)
            continue;
        hint = mem_format("%s %s", row->key, row->hint);
        longer = joined(line, hint);
        free(hint);
        if (text_width(longer) > columns) {
            free(longer);
        } else {
            free(line);
            line = longer;
        }
    }
    return line;
}

char *screen_layout_keys(enum key_context context, int columns)
{
    char *last = hints(context, true, columns);
    char *first = hints(context, false, columns - text_width(last) - 3);
    char *line = joined(first, last);

    free(first);
    free(last);
    return line;
}

static int rule_rows(int rows)
{
    return rows >= RULES_FROM_ROWS ? 1 : 0;
}

struct area screen_layout_body(int rows, int columns)
{
    int rule = rule_rows(rows), body = rows - 2 - WORD_ROWS - 2 * rule;

    return (struct area){2 + rule, 0, body > 0 ? body : 0, columns};
}

static void draw_title(struct canvas *c, const struct screen_layout *l)
{
    const char *aside = l->aside == NULL ? "" : l->aside;
    int columns = c->columns - text_width(aside) - 2;

    if (columns < c->columns / 2)
        columns = c->columns;
    else
        paint_right(c, 0, columns, c->columns - columns, TONE_QUIET, aside);
    paint_text(c, 0, 0, columns, TONE_TITLE, l->title);
}

static void draw_keys(struct canvas *c, enum key_context context)
{
    char *keys = screen_layout_keys(context, c->columns);

    paint_text(c, 1, 0, c->columns, TONE_QUIET, keys);
    free(keys);
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

struct area screen_layout_draw(struct canvas *c, const struct screen_layout *l)
{
    struct area words = {c->rows - WORD_ROWS, 0, WORD_ROWS, c->columns};

    paint_blank(c, canvas_area(c), TONE_PLAIN);
    draw_title(c, l);
    draw_keys(c, l->context);
    if (rule_rows(c->rows)) {
        paint_rule(c, 2, 0, c->columns);
        draw_caution(c, l->caution);
    }
    if (l->words != NULL)
        paint_wrapped(c, words, l->tone, l->words);
    return screen_layout_body(c->rows, c->columns);
}
