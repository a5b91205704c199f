#include <stdio.h>

#include "app/machine_feed.h"
#include "base/print.h"
#include "base/text.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"
#include "model/quantity.h"

static int list_all(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    struct page p = {0};
    int result;

    if (open_book(in, BOOK_READ, &s, e) < 0)
        return -1;
    result = machine_feed_page(&s, &p, e);
    if (result == 0)
        print_page(stdout, &p);
    page_free(&p);
    session_close(&s);
    return result;
}

static int read_dial(const char *text, double *out, struct error *e)
{
    const char *end;

    if (text_number(text, &end, out) && *end == '\0')
        return 0;
    return error_set(e, ERROR_USAGE, "'%s' is no dial position; it is a number on the scale", text);
}

static int keep(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    struct quantity length, time;
    double dial;
    int result;

    if (read_dial(in->argv[1], &dial, e) < 0 || open_book(in, BOOK_CREATE, &s, e) < 0)
        return -1;
    result = quantity_parse(in->argv[2], DIM_LENGTH, s.units, &length, e);
    if (result == 0)
        result = quantity_parse(in->argv[3], DIM_TIME, s.units, &time, e);
    if (result == 0)
        result = machine_feed_keep(&s, in->argv[0], dial, length.value, time.value,
                                   option_value(in, "note"), e);
    if (result == 0)
        print_line(stdout, "machine %s, dial %s: %s in %s kept", in->argv[0], in->argv[1],
                   length.entry, time.entry);
    session_close(&s);
    return result < 0 ? result : RUN_STORED;
}

static int run(const struct invocation *in, struct error *e)
{
    if (in->argc == 0)
        return list_all(in, e);
    if (need_arguments(in, 4, 4, e) < 0)
        return -1;
    return keep(in, e);
}

const struct command cmd_feed = {.name = "feed", .run = run, .stored = "the reading is stored"};
