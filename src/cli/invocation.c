/*
 * getopt_long() with a list of options built from the table of commands: first those of the
 * command, then the global ones, which may stand before or behind the command.
 */
#include "cli/invocation.h"

#include <errno.h>
#include <getopt.h>
#include <stdlib.h>
#include <string.h>

#include "app/session.h"
#include "base/array.h"
#include "base/mem.h"
#include "cli/nearest.h"

enum { FIRST_OPTION = 256, MAX_OPTIONS = 64 };

/* The two option lists side by side in the form getopt_long() wants. */
struct option_table {
    struct option rows[MAX_OPTIONS + 1];
    const struct command_option *from[MAX_OPTIONS];
    int count;
};

static void add_options(struct option_table *t, const struct command_option *list)
{
    for (; list != NULL && list->name != NULL && t->count < MAX_OPTIONS; list++) {
        t->rows[t->count].name = list->name;
        t->rows[t->count].has_arg = list->argument != NULL ? required_argument : no_argument;
        t->rows[t->count].val = FIRST_OPTION + t->count;
        t->from[t->count++] = list;
    }
}

static int refuse_option(const struct option_table *t, const char *text, struct error *e)
{
    struct nearest near = {0};

    if (text[0] != '-' || text[1] != '-')
        return error_set(e, ERROR_USAGE, "there is no option '%s'; options begin with two dashes",
                         text);
    for (int i = 0; i < t->count; i++)
        nearest_try(&near, text + 2, t->rows[i].name);
    if (near.word != NULL)
        return error_set(e, ERROR_USAGE, "there is no option '%s'; did you mean --%s?", text,
                         near.word);
    return error_set(e, ERROR_USAGE, "there is no option '%s'; see --help", text);
}

/* Sets one option every command takes. */
static int set_global(struct cli_call *call, const char *name, const char *value, struct error *e)
{
    if (strcmp(name, "book") == 0)
        call->book = value;
    else if (strcmp(name, "keys") == 0)
        call->keys = value;
    else if (strcmp(name, "units") == 0) {
        if (units_parse(value, &call->units, e) < 0) {
            if (e != NULL)
                e->kind = ERROR_USAGE;
            return -1;
        }
        call->units_given = true;
    }
    return 0;
}

static bool is_global(const struct command_option *option)
{
    for (const struct command_option *o = command_global_options; o->name != NULL; o++)
        if (o == option)
            return true;
    return false;
}

static int set_option(struct invocation *in, const struct command_option *option, const char *value,
                      struct error *e)
{
    if (is_global(option)) {
        in->help = in->help || strcmp(option->name, "help") == 0;
        in->version = in->version || strcmp(option->name, "version") == 0;
        return set_global(&in->call, option->name, value, e);
    }
    if (!option->repeats && option->argument != NULL && option_given(in, option->name))
        return error_set(e, ERROR_USAGE, "--%s was given twice; once is right", option->name);
    in->options = array_reserve(in->options, &in->capacity, in->count + 1, sizeof *in->options);
    in->options[in->count].option = option;
    in->options[in->count++].value = value;
    return 0;
}

static int read_options(struct invocation *in, const struct option_table *table, const char *form,
                        struct error *e)
{
    const struct cli_call *call = &in->call;
    int found;

    optind = 0; /* getopt_long() starts from the beginning */
    opterr = 0; /* mistakes are reported here */
    while ((found = getopt_long(call->argc, call->argv, form, table->rows, NULL)) != -1) {
        if (found == 'h')
            in->help = true;
        else if (found == ':')
            return error_set(e, ERROR_USAGE, "%s needs a value behind it", call->argv[optind - 1]);
        else if (found < FIRST_OPTION)
            return refuse_option(table, call->argv[optind > 1 ? optind - 1 : 1], e);
        else if (set_option(in, table->from[found - FIRST_OPTION], optarg, e) < 0)
            return -1;
    }
    return 0;
}

int invocation_read(struct invocation *in, const struct command_usage *usage,
                    const struct cli_call *call, struct error *e)
{
    struct option_table table = {0};

    memset(in, 0, sizeof *in);
    in->call = *call;
    in->usage = usage;
    if (usage != NULL)
        add_options(&table, usage->options);
    add_options(&table, command_global_options);
    /* without a command the first argument, the command, ends the options */
    if (read_options(in, &table, usage == NULL ? "+:h" : ":h", e) < 0) {
        invocation_free(in);
        return -1;
    }
    in->argc = call->argc - optind;
    in->argv = call->argv + optind;
    return 0;
}

void invocation_free(struct invocation *in)
{
    free(in->options);
    memset(in, 0, sizeof *in);
}

const char *option_value(const struct invocation *in, const char *name)
{
    for (size_t i = in->count; i-- > 0;)
        if (strcmp(in->options[i].option->name, name) == 0)
            return in->options[i].value;
    return NULL;
}

bool option_given(const struct invocation *in, const char *name)
{
    for (size_t i = 0; i < in->count; i++)
        if (strcmp(in->options[i].option->name, name) == 0)
            return true;
    return false;
}

const char **option_values(const struct invocation *in, const char *name, size_t *count)
{
    const char **values = mem_zero(in->count, sizeof *values);

    *count = 0;
    for (size_t i = 0; i < in->count; i++)
        if (strcmp(in->options[i].option->name, name) == 0)
            values[(*count)++] = in->options[i].value;
    return values;
}

int option_count(const struct invocation *in, const char *name, long min, long max, long otherwise,
                 long *out, struct error *e)
{
    const char *text = option_value(in, name);
    char *end;

    *out = otherwise;
    if (text == NULL)
        return 0;
    errno = 0;
    *out = strtol(text, &end, 10);
    if (end == text || *end != '\0' || errno != 0 || *out < min || *out > max)
        return error_set(e, ERROR_USAGE, "--%s %s: a whole number from %ld to %ld is right", name,
                         text, min, max);
    return 0;
}

int need_arguments(const struct invocation *in, int min, int max, struct error *e)
{
    const char *form = in->usage->arguments != NULL ? in->usage->arguments : "";

    if (in->argc >= min && in->argc <= max)
        return 0;
    if (in->argc < min)
        return error_set(e, ERROR_USAGE, "something is missing: coldlap %s %s", in->usage->name,
                         form);
    return error_set(e, ERROR_USAGE, "'%s' is too much: coldlap %s%s%s", in->argv[max],
                     in->usage->name, *form != '\0' ? " " : "", form);
}
