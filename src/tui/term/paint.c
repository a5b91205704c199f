#include "tui/term/paint.h"

#include <curses.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"

/* The look of each tone on terminals with and without colours. */
static const struct {
    short colour;
    attr_t attributes;
    attr_t without; /* colour */
} looks[TONES] = {
    [TONE_PLAIN] = {-1, A_NORMAL, A_NORMAL},
    [TONE_TITLE] = {-1, A_BOLD, A_BOLD},
    [TONE_HEADING] = {-1, A_BOLD, A_BOLD},
    [TONE_QUIET] = {-1, A_NORMAL, A_NORMAL},
    [TONE_DIFFERS] = {COLOR_CYAN, A_BOLD, A_BOLD},
    [TONE_CAUTION] = {COLOR_YELLOW, A_NORMAL, A_NORMAL},
    [TONE_REFUSED] = {COLOR_RED, A_BOLD, A_BOLD},
    [TONE_FOCUS] = {-1, A_REVERSE, A_REVERSE},
};

/* Signs written out where the terminal has no UTF-8. */
static const struct {
    const char *sign, *plain;
} plain_signs[] = {
    {"°", " deg"}, {"·", "|"},  {"–", "-"}, {"—", "-"},  {"…", "..."}, {"≥", ">="},
    {"≤", "<="},   {"×", "x"},  {"²", "2"}, {"³", "3"},  {"½", "1/2"}, {"µ", "u"},
    {"±", "+/-"},  {"→", "->"}, {"’", "'"}, {"“", "\""}, {"”", "\""},  {"ø", "o"},
    {"−", "-"},    {"Δ", "d"},  {"≈", "~"}, {"⁄", "/"},
};

/* The text without control characters and, where there is no UTF-8, in ASCII. */
static char *plain_text(const char *text, bool utf8)
{
    char *shown = text_shown(text, false);
    struct text out = {0};

    if (utf8)
        return shown;
    for (const char *s = shown; *s != '\0';) {
        size_t bytes = 1, i;

        for (i = 0; i < sizeof plain_signs / sizeof *plain_signs; i++)
            if (text_starts(s, plain_signs[i].sign))
                break;
        if (i < sizeof plain_signs / sizeof *plain_signs) {
            text_add(&out, plain_signs[i].plain);
            bytes = strlen(plain_signs[i].sign);
        } else if ((unsigned char)*s < 0x80) {
            text_add_part(&out, s, 1);
        } else {
            text_add(&out, "?");
            while (((unsigned char)s[bytes] & 0xc0) == 0x80)
                bytes++;
        }
        s += bytes;
    }
    free(shown);
    return text_steal(&out);
}

void paint_define_colours(void)
{
    for (int i = 0; i < TONES; i++)
        if (looks[i].colour >= 0)
            init_pair((short)(i + 1), looks[i].colour, -1);
}

struct canvas canvas_begin(bool colour, bool utf8)
{
    struct canvas c = {.rows = LINES, .columns = COLS, .colour = colour, .utf8 = utf8};

    erase();
    return c;
}

void canvas_end(const struct canvas *c)
{
    move(c->cursor_y, c->cursor_x);
    refresh();
}

struct area canvas_area(const struct canvas *c)
{
    return (struct area){0, 0, c->rows, c->columns};
}

static void set_tone(const struct canvas *c, enum tone tone)
{
    bool pair = c->colour && looks[tone].colour >= 0;

    attr_set(c->colour ? looks[tone].attributes : looks[tone].without, pair ? (short)(tone + 1) : 0,
             NULL);
}

int paint_text(struct canvas *c, int y, int x, int columns, enum tone tone, const char *text)
{
    char *plain = plain_text(text, c->utf8);
    const char *more = c->utf8 ? "…" : ".";
    int space = columns < c->columns - x ? columns : c->columns - x, used = 0;
    size_t bytes;

    if (y >= 0 && y < c->rows && x >= 0 && space > 0) {
        bytes = text_fit(plain, space);
        set_tone(c, tone);
        move(y, x);
        if (plain[bytes] != '\0')
            bytes = text_fit(plain, space - 1);
        addnstr(plain, (int)bytes);
        if (plain[bytes] != '\0')
            addstr(more);
        used = text_width(plain) < space ? text_width(plain) : space;
        attr_set(A_NORMAL, 0, NULL);
    }
    free(plain);
    return used;
}

void paint_right(struct canvas *c, int y, int x, int columns, enum tone tone, const char *text)
{
    char *plain = plain_text(text, c->utf8);
    int space = columns - text_width(plain);

    paint_text(c, y, space > 0 ? x + space : x, space > 0 ? columns - space : columns, tone, text);
    free(plain);
}

/* The length of the first line of `s` in bytes; `next` is set to where the second begins. */
static size_t first_line(const char *s, int columns, const char **next)
{
    size_t fits = text_fit(s, columns > 0 ? columns : 1), at = fits;

    if (s[fits] != '\0' && s[fits] != ' ') {
        while (at > 0 && s[at] != ' ')
            at--;
        if (at == 0)
            at = fits > 0 ? fits : 1;
    }
    *next = s + at;
    while (**next == ' ')
        (*next)++;
    return at;
}

int paint_wrapped(struct canvas *c, struct area a, enum tone tone, const char *text)
{
    int row;

    for (row = 0; row < a.rows && *text != '\0'; row++) {
        const char *next;
        char *line = mem_copy_part(text, first_line(text, a.columns, &next));

        if (row == a.rows - 1 && *next != '\0')
            paint_text(c, a.y + row, a.x, a.columns, tone, text); /* the last one shows the cut */
        else
            paint_text(c, a.y + row, a.x, a.columns, tone, line);
        free(line);
        text = next;
    }
    return row;
}

int paint_wrapped_rows(const char *text, int columns)
{
    int rows = 0;

    for (; *text != '\0'; rows++)
        first_line(text, columns, &text);
    return rows;
}

void paint_blank(struct canvas *c, struct area a, enum tone tone)
{
    set_tone(c, tone);
    for (int y = a.y; y < a.y + a.rows && y < c->rows; y++)
        if (y >= 0 && a.x < c->columns)
            mvhline(y, a.x, ' ', a.x + a.columns > c->columns ? c->columns - a.x : a.columns);
    attr_set(A_NORMAL, 0, NULL);
}

void paint_rule(struct canvas *c, int y, int x, int columns)
{
    if (y >= 0 && y < c->rows && x < c->columns)
        mvhline_set(y, x, WACS_HLINE, x + columns > c->columns ? c->columns - x : columns);
}

void paint_box(struct canvas *c, struct area a)
{
    WINDOW *box = subwin(stdscr, a.rows, a.columns, a.y, a.x);

    paint_blank(c, a, TONE_PLAIN);
    if (box == NULL)
        return;
    box_set(box, WACS_VLINE, WACS_HLINE);
    delwin(box);
}

void paint_cursor(struct canvas *c, int y, int x)
{
    c->cursor_y = y < 0 ? 0 : y >= c->rows ? c->rows - 1 : y;
    c->cursor_x = x < 0 ? 0 : x >= c->columns ? c->columns - 1 : x;
}
