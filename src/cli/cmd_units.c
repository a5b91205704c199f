#include "base/print.h"
#include "cli/command.h"

static int run(struct job *job, struct error *e)
{
    bool switches = job->in->argc > 0;
    enum unit_system units = UNITS_METRIC;

    if ((switches && units_parse(job->in->argv[0], &units, e) < 0) ||
        job_open(job, switches ? BOOK_CREATE : BOOK_READ, e) < 0 ||
        (switches && session_set_units(&job->session, units, e) < 0))
        return -1;
    print_line(stdout, "%s", units_name(job->session.units));
    return switches ? RUN_STORED : RUN_ANSWERED;
}

const struct command cmd_units = {
    .name = "units", .most = 1, .run = run, .stored = "the units are stored"};
