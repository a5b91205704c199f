/* A command given: the command line does it. None: the screens. */
#include "cli/cli.h"
#include "stats/num/guard.h"
#include "tui/tui.h"

static int run_screens(const struct cli_call *call)
{
    const struct tui_options options = {call->book, call->units_given, call->units, call->keys};
    struct error e = {0};
    int rc = tui_run(&options, &e);

    return rc >= 0 ? rc : cli_report(NULL, &e);
}

int main(int argc, char **argv)
{
    struct cli_call call;
    int done = cli_parse(argc, argv, &call);

    guard_start();
    if (done >= 0)
        return done;
    return call.command != NULL ? cli_run(&call) : run_screens(&call);
}
