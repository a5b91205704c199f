#include "app/machine_feed.h"
#include "base/print.h"
#include "base/text.h"
#include "cli/command.h"
#include "model/quantity.h"

static int list_readings(struct job *job, struct error *e)
{
    if (job_open(job, BOOK_READ, e) < 0)
        return -1;
    return machine_feed_page(&job->session, &job->page, e);
}

static int read_dial(const char *text, double *out, struct error *e)
{
    const char *end;

    if (text_number(text, &end, out) && *end == '\0')
        return 0;
    return error_set(e, ERROR_USAGE, "'%s' is no dial position; it is a number on the scale", text);
}

static int keep_reading(struct job *job, const char *machine, const char *position,
                        const char *run_out, const char *seconds, struct error *e)
{
    struct session *s = &job->session;
    struct quantity length, time;
    double dial;

    if (read_dial(position, &dial, e) < 0 || job_open(job, BOOK_CREATE, e) < 0 ||
        quantity_parse(run_out, DIM_LENGTH, s->units, &length, e) < 0 ||
        quantity_parse(seconds, DIM_TIME, s->units, &time, e) < 0 ||
        machine_feed_keep(s, machine, dial, length.value, time.value, option_value(job->in, "note"),
                          e) < 0)
        return -1;
    print_line(stdout, "machine %s, dial %s: %s in %s kept", machine, position, length.entry,
               time.entry);
    return RUN_STORED;
}

static int run(struct job *job, struct error *e)
{
    char **argv = job->in->argv;

    if (job->in->argc == 0)
        return list_readings(job, e);
    if (need_arguments(job->in, 4, 4, e) < 0)
        return -1;
    return keep_reading(job, argv[0], argv[1], argv[2], argv[3], e);
}

const struct command cmd_feed = {
    .name = "feed", .most = 4, .run = run, .stored = "the reading is stored"};
