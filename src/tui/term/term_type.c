/* A file of its own, because <term.h> defines names such as "lines" and "columns". */
#include "tui/term/term_type.h"

#include <curses.h>
#include <term.h>
#include <unistd.h>

int term_type_check(const char *type, struct error *e)
{
    int found = 0;
    bool places_cursor;

    if (type == NULL || *type == '\0')
        return error_set(e, ERROR_SYSTEM,
                         "TERM does not say which terminal this is; try TERM=vt100");
    if (setupterm(type, STDOUT_FILENO, &found) != OK)
        return error_set(e, ERROR_SYSTEM,
                         "the terminal type '%s' (TERM) is not known here; try TERM=vt100", type);
    places_cursor = tigetstr("cup") != NULL;
    del_curterm(cur_term);
    if (!places_cursor)
        return error_set(e, ERROR_SYSTEM,
                         "a terminal of type '%s' (TERM) cannot place the cursor, so no screens; "
                         "give a command instead",
                         type);
    return 0;
}

/* Static because tputs() passes nothing but the byte to its callback. */
static struct {
    char *out;
    size_t size, length;
} collected;

static int collect(int byte)
{
    if (collected.length < collected.size)
        collected.out[collected.length++] = (char)byte;
    return byte;
}

size_t term_type_give_back(char *out, size_t size)
{
    static const char *const names[] = {"rmkx", "cnorm", "sgr0", "rmcup"};

    collected.out = out;
    collected.size = size;
    collected.length = 0;
    for (const char *s = TERM_PASTE_OFF; *s != '\0'; s++)
        collect(*s);
    for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
        char *bytes = tigetstr(names[i]);

        if (bytes != NULL && bytes != (char *)-1)
            tputs(bytes, 1, collect);
    }
    return collected.length;
}
