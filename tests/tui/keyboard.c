#include "keyboard.h"

#include <stddef.h>
#include <string.h>

/* As of an xterm whose cursor keys are in application mode, which curses asks for. */
static const struct {
    const char *name, *bytes;
} keys[] = {
    {"Enter", "\r"},       {"Esc", "\033"},         {"Tab", "\t"},      {"Shift-Tab", "\033[Z"},
    {"Backspace", "\177"}, {"Delete", "\033[3~"},   {"Up", "\033OA"},   {"Down", "\033OB"},
    {"Right", "\033OC"},   {"Left", "\033OD"},      {"Home", "\033OH"}, {"End", "\033OF"},
    {"PageUp", "\033[5~"}, {"PageDown", "\033[6~"}, {"Ctrl-S", "\023"}, {"Space", " "},
};

const char *key_bytes(const char *name)
{
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (strcmp(keys[i].name, name) == 0)
            return keys[i].bytes;
    return name;
}
