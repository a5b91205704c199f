#include "app/keys.h"

#include <string.h>

/* A row takes one or two lines, not one a field. */
/* clang-format off */
static const struct key_row rows[] = {
    {.contexts = CONTEXT_RACK | CONTEXT_RANKING, .key = "Enter", .action = ACTION_OPEN,
     .hint = "open", .summary = "open what the cursor is on"},
    {.contexts = CONTEXT_CARD, .key = "Enter", .hint = "write",
     .summary = "write into the field the cursor is on"},
    {.contexts = CONTEXT_RACK, .key = "n", .action = ACTION_NEW, .writes = true,
     .hint = "new coupon", .summary = "log a new coupon, set up like the last"},
    {.contexts = CONTEXT_RACK | CONTEXT_CARD, .key = "r", .action = ACTION_RANKING,
     .hint = "ranking", .summary = "rank the variables of this trial"},
    {.contexts = CONTEXT_CARD, .key = "s", .action = ACTION_SAVE, .writes = true, .hint = "save",
     .summary = "put the coupon into the book"},
    {.contexts = CONTEXT_CARD, .key = "Ctrl-S", .action = ACTION_SAVE, .writes = true,
     .summary = "the same"},
    {.contexts = CONTEXT_CARD, .key = "p", .action = ACTION_PASS, .writes = true,
     .hint = "add pass", .summary = "add a pass"},
    {.contexts = CONTEXT_CARD, .key = "f", .action = ACTION_FLAW, .writes = true,
     .hint = "add flaw", .summary = "add a flaw on the broken face"},
    {.contexts = CONTEXT_CARD, .key = "h", .action = ACTION_PHOTO, .writes = true,
     .summary = "attach a photograph"},
    {.contexts = CONTEXT_CARD, .key = "d", .action = ACTION_REMOVE, .writes = true,
     .summary = "take the pass, flaw or value under the cursor away"},
    {.contexts = CONTEXT_RANKING, .key = "o", .action = ACTION_RESULT, .hint = "other result",
     .summary = "rank by another result"},
    {.contexts = CONTEXT_RACK, .key = "t", .action = ACTION_TRIALS, .hint = "trials",
     .summary = "choose or make a trial"},
    {.contexts = CONTEXT_RACK, .key = "/", .action = ACTION_FIND, .hint = "find",
     .summary = "show only coupons that hold a word"},
    {.contexts = CONTEXT_RACK, .key = "x", .action = ACTION_STRIKE, .writes = true,
     .hint = "strike out", .summary = "strike a coupon out, or bring it back"},
    {.contexts = CONTEXT_RACK, .key = "a", .action = ACTION_STRUCK,
     .summary = "show or hide struck-out coupons"},
    {.contexts = CONTEXT_SCREENS, .key = "u", .action = ACTION_UNITS, .hint = "units",
     .summary = "switch between metric and inch"},
    {.contexts = CONTEXT_SCREENS, .key = "?", .action = ACTION_KEYS, .hint = "keys",
     .summary = "show what every key does here"},
    {.contexts = CONTEXT_CARD | CONTEXT_RANKING | CONTEXT_PAGE, .key = "Esc", .action = ACTION_LEAVE,
     .hint = "back", .summary = "go back"},
    {.contexts = CONTEXT_PAGE, .key = "q", .action = ACTION_LEAVE},
    {.contexts = CONTEXT_PART, .key = "Esc", .action = ACTION_LEAVE, .hint = "back to the card"},
    {.contexts = CONTEXT_RACK, .key = "q", .action = ACTION_LEAVE, .hint = "quit",
     .summary = "leave coldlap"},

    {.contexts = CONTEXT_PAGE, .key = "Up Down PageUp PageDown", .hint = "read"},
    {.contexts = CONTEXT_PART, .key = "Enter", .hint = "write"},
    {.contexts = CONTEXT_PART, .key = "Left Right", .hint = "choose"},
    {.contexts = CONTEXT_SCREENS, .key = "Up, Down", .summary = "move by one line"},
    {.contexts = CONTEXT_SCREENS, .key = "PageUp, PageDown", .summary = "move by a screen"},
    {.contexts = CONTEXT_SCREENS, .key = "Home, End", .summary = "to the first, to the last line"},
    {.contexts = CONTEXT_RACK, .key = "Esc", .action = ACTION_SHOW_ALL,
     .summary = "after finding: show all coupons again"},
    {.contexts = CONTEXT_CARD, .key = "Tab, Shift-Tab",
     .summary = "to the next, to the last part of the card"},
    {.contexts = CONTEXT_CARD, .key = "Left, Right",
     .summary = "the choice before, the next choice"},
    {.contexts = CONTEXT_CARD, .key = "0 to 9", .summary = "write a number at once, without Enter"},
    {.contexts = CONTEXT_CARD, .key = "Esc", .summary = "while writing: leave the value as it was"},
    {.contexts = CONTEXT_CARD, .key = "Ctrl-A, Ctrl-E",
     .summary = "while writing: to the start, to the end"},
    {.contexts = CONTEXT_CARD, .key = "Ctrl-U, Ctrl-K",
     .summary = "while writing: clear to the left, to the right"},
};
/* clang-format on */

const struct key_row *key_row_at(size_t i)
{
    return i < sizeof rows / sizeof *rows ? &rows[i] : NULL;
}

const struct key_row *key_row_find(const char *key, enum key_context context)
{
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        if (rows[i].action != ACTION_NONE && (rows[i].contexts & (int)context) != 0 &&
            strcmp(rows[i].key, key) == 0)
            return &rows[i];
    return NULL;
}
