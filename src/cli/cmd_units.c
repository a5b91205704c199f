#include <stdio.h>

#include "app/session.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"

static int run(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    enum unit_system units;
    int result = 0;

    if (need_arguments(in, 0, 1, e) < 0)
        return -1;
    if (in->argc > 0 && units_parse(in->argv[0], &units, e) < 0)
        return -1;
    if (open_book(in, in->argc > 0 ? BOOK_CREATE : BOOK_READ, &s, e) < 0)
        return -1;
    if (in->argc > 0)
        result = session_set_units(&s, units, e);
    if (result == 0)
        print_line(stdout, "%s", units_name(s.units));
    session_close(&s);
    return result < 0 || in->argc == 0 ? result : RUN_STORED;
}

const struct command cmd_units = {.name = "units", .run = run, .stored = "the units are stored"};
