/* In a file of its own because <term.h> takes names such as "lines" and "columns" for itself. */
#include "tui/term_type.h"

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
