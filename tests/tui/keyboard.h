/* What a terminal sends for a key. */
#ifndef TESTS_TUI_KEYBOARD_H
#define TESTS_TUI_KEYBOARD_H

/* "Down", "Enter", "Ctrl-S"; a name that is none of the known keys stands for itself. */
const char *key_bytes(const char *name);

#endif
