#include "cli/open.h"
#include "app/task_trial.h"

int open_book(const struct invocation *in, enum book_mode mode, struct session *s, struct error *e)
{
    if (session_open(s, in->call.book, mode, e) < 0)
        return -1;
    if (mode != BOOK_READ && session_read_only(s) != NULL) {
        error_set(e, ERROR_SYSTEM, "%s: %s; nothing can be stored in it", session_book_name(s),
                  session_read_only(s));
        session_close(s);
        return -1;
    }
    if (in->call.units_given)
        s->units = in->call.units;
    return 0;
}

int open_trial(const struct invocation *in, enum book_mode mode, struct session *s, struct trial *t,
               struct error *e)
{
    if (open_book(in, mode, s, e) < 0)
        return -1;
    if (task_trial(s, option_value(in, "trial"), t, e) == 0)
        return 0;
    session_close(s);
    return -1;
}
