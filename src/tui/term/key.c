#include "tui/term/key.h"

#include <curses.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wctype.h>

#include "base/text.h"

/* The first name of a code is the one shown. */
static const struct {
    const char *name;
    enum key_code code;
    int curses;
} named[] = {
    {"Enter", PRESS_ENTER, KEY_ENTER},
    {"Esc", PRESS_ESC, 0},
    {"Tab", PRESS_TAB, 0},
    {"Shift-Tab", PRESS_BACK_TAB, KEY_BTAB},
    {"Backspace", PRESS_BACKSPACE, KEY_BACKSPACE},
    {"Delete", PRESS_DELETE, KEY_DC},
    {"Up", PRESS_UP, KEY_UP},
    {"Down", PRESS_DOWN, KEY_DOWN},
    {"Left", PRESS_LEFT, KEY_LEFT},
    {"Right", PRESS_RIGHT, KEY_RIGHT},
    {"Home", PRESS_HOME, KEY_HOME},
    {"End", PRESS_END, KEY_END},
    {"PageUp", PRESS_PAGE_UP, KEY_PPAGE},
    {"PageDown", PRESS_PAGE_DOWN, KEY_NPAGE},
    /* the corners of a keypad, and what older terminals send for Home and End */
    {"Home", PRESS_HOME, KEY_A1},
    {"PageUp", PRESS_PAGE_UP, KEY_A3},
    {"End", PRESS_END, KEY_C1},
    {"PageDown", PRESS_PAGE_DOWN, KEY_C3},
    {"Home", PRESS_HOME, KEY_FIND},
    {"End", PRESS_END, KEY_SELECT},
};

/*
 * Sequences that are defined for curses: those of pastes and of a keypad in application mode (DEC
 * VT100 user guide, table 3-8). Those in `also`, which most terminals send for the cursor keys, are
 * defined only if the description of the terminal lacks them.
 */
static const struct {
    const char *sequence;
    enum key_code code;
    wchar_t ch;
} sequences[] =
    {
        {"\033[200~", PRESS_PASTE, 0}, {"\033[201~", PRESS_PASTE, 1}, {"\033OM", PRESS_ENTER, 0},
        {"\033Op", PRESS_CHAR, L'0'},  {"\033Oq", PRESS_CHAR, L'1'},  {"\033Or", PRESS_CHAR, L'2'},
        {"\033Os", PRESS_CHAR, L'3'},  {"\033Ot", PRESS_CHAR, L'4'},  {"\033Ou", PRESS_CHAR, L'5'},
        {"\033Ov", PRESS_CHAR, L'6'},  {"\033Ow", PRESS_CHAR, L'7'},  {"\033Ox", PRESS_CHAR, L'8'},
        {"\033Oy", PRESS_CHAR, L'9'},  {"\033Oj", PRESS_CHAR, L'*'},  {"\033Ok", PRESS_CHAR, L'+'},
        {"\033Ol", PRESS_CHAR, L','},  {"\033Om", PRESS_CHAR, L'-'},  {"\033On", PRESS_CHAR, L'.'},
        {"\033Oo", PRESS_CHAR, L'/'},  {"\033OX", PRESS_CHAR, L'='},
},
  also[] = {
      {"\033[A", PRESS_UP, 0},      {"\033OA", PRESS_UP, 0},       {"\033[B", PRESS_DOWN, 0},
      {"\033OB", PRESS_DOWN, 0},    {"\033[C", PRESS_RIGHT, 0},    {"\033OC", PRESS_RIGHT, 0},
      {"\033[D", PRESS_LEFT, 0},    {"\033OD", PRESS_LEFT, 0},     {"\033[H", PRESS_HOME, 0},
      {"\033OH", PRESS_HOME, 0},    {"\033[1~", PRESS_HOME, 0},    {"\033[7~", PRESS_HOME, 0},
      {"\033[F", PRESS_END, 0},     {"\033OF", PRESS_END, 0},      {"\033[4~", PRESS_END, 0},
      {"\033[8~", PRESS_END, 0},    {"\033[5~", PRESS_PAGE_UP, 0}, {"\033[6~", PRESS_PAGE_DOWN, 0},
      {"\033[3~", PRESS_DELETE, 0}, {"\033[Z", PRESS_BACK_TAB, 0},
};

enum {
    NAMED = sizeof named / sizeof *named,
    SEQUENCES = sizeof sequences / sizeof *sequences,
    ALSO = sizeof also / sizeof *also,
    FIRST_CODE = 2000, /* above the codes of curses itself */
    FIRST_ALSO = FIRST_CODE + SEQUENCES,
};

void key_define_sequences(void)
{
    for (int i = 0; i < SEQUENCES; i++)
        define_key(sequences[i].sequence, FIRST_CODE + i);
    for (int i = 0; i < ALSO; i++)
        if (key_defined(also[i].sequence) == 0)
            define_key(also[i].sequence, FIRST_ALSO + i);
}

bool key_is_paste(wint_t code, bool end)
{
    return code == FIRST_CODE + (wint_t)end;
}

static struct key of_code(enum key_code code, wchar_t ch)
{
    return (struct key){.code = code, .ch = ch};
}

static struct key from_function_key(wint_t code)
{
    for (int i = 0; i < NAMED; i++)
        if (named[i].curses != 0 && (wint_t)named[i].curses == code)
            return of_code(named[i].code, 0);
    if (code > FIRST_CODE + 1 && code < FIRST_ALSO)
        return of_code(sequences[code - FIRST_CODE].code, sequences[code - FIRST_CODE].ch);
    if (code >= FIRST_ALSO && code < FIRST_ALSO + ALSO)
        return of_code(also[code - FIRST_ALSO].code, 0);
    return of_code(PRESS_NONE, 0);
}

static struct key from_control(wint_t code)
{
    switch (code) {
    case '\r':
    case '\n':
        return of_code(PRESS_ENTER, 0);
    case '\t':
        return of_code(PRESS_TAB, 0);
    case 27:
        return of_code(PRESS_ESC, 0);
    case '\b':
    case 127:
        return of_code(PRESS_BACKSPACE, 0);
    default:
        return code >= 1 && code <= 26 ? of_code(PRESS_CONTROL, (wchar_t)(code + 'a' - 1))
                                       : of_code(PRESS_NONE, 0);
    }
}

struct key key_from_curses(wint_t code, bool is_code)
{
    if (is_code)
        return from_function_key(code);
    if (code < 32 || code == 127)
        return from_control(code);
    if (code >= 0x80 && code < 0xa0)
        return of_code(PRESS_NONE, 0);
    return of_code(PRESS_CHAR, (wchar_t)code);
}

bool key_parse(const char *name, struct key *out)
{
    wchar_t wide[3];

    for (int i = 0; i < NAMED; i++)
        if (text_same(named[i].name, name)) {
            *out = of_code(named[i].code, 0);
            return true;
        }
    if (text_same(name, "Space")) {
        *out = of_code(PRESS_CHAR, L' ');
        return true;
    }
    if (strlen(name) == 6 && text_starts(name, "Ctrl-")) {
        *out = of_code(PRESS_CONTROL, (wchar_t)towlower((wint_t)name[5]));
        return true;
    }
    if (mbstowcs(wide, name, 3) != 1)
        return false;
    *out = of_code(PRESS_CHAR, wide[0]);
    return true;
}

void key_word(struct key k, char *out, size_t size)
{
    snprintf(out, size, "%s", "");
    if (k.code == PRESS_CHAR)
        snprintf(out, size, "%lc", (wint_t)k.ch);
    else if (k.code == PRESS_CONTROL)
        snprintf(out, size, "Ctrl-%lc", towupper((wint_t)k.ch));
    for (int i = 0; i < NAMED; i++)
        if (named[i].code == k.code) {
            snprintf(out, size, "%s", named[i].name);
            return;
        }
}
