#include <math.h>
#include <stdio.h>
#include <string.h>

#include "app/task_variable.h"
#include "base/print.h"
#include "cli/command.h"
#include "cli/open.h"
#include "cli/print.h"

static int list_variables(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    struct page p = {0};

    if (in->count > 0)
        return error_set(e, ERROR_USAGE, "name the variable: coldlap variable NAME --unit mm");
    /* without a book there are still the built-in ones to read about */
    if (open_book(in, BOOK_READ, &s, NULL) < 0) {
        memset(&s, 0, sizeof s);
        variable_list_init(&s.variables);
        s.units = in->call.units_given ? in->call.units : UNITS_METRIC;
    }
    task_variable_page(&s, &p);
    print_page(stdout, &p);
    page_free(&p);
    session_close(&s);
    return 0;
}

static int make_variable(const struct invocation *in, const char *name, struct error *e)
{
    const char *unit = option_value(in, "unit");
    bool number = unit != NULL || option_given(in, "number");
    bool result = option_given(in, "result");
    struct variable own = {
        .label = name,
        .group = result ? GROUP_RESULT : GROUP_OTHER,
        .role = result ? ROLE_RESULT : ROLE_CAUSE,
        .kind = number ? VARIABLE_NUMBER : VARIABLE_CATEGORY,
        .help = option_value(in, "help-text"),
        .own = true,
    };
    struct session s = {0};
    char key[64];
    int code;

    if (!variable_key_from_name(name, key, sizeof key))
        return error_set(e, ERROR_INPUT, "'%s' leaves no letters for a name", name);
    own.key = key;
    own.unit = unit;
    if (open_book(in, BOOK_CREATE, &s, e) < 0)
        return -1;
    code = task_variable_add(&s, &own, e);
    if (code == 0)
        print_line(stdout, "%s is now a variable of this book: a %s, %s", key,
                   result ? "result" : "cause", number ? "a number" : "a category");
    session_close(&s);
    return code < 0 ? code : RUN_STORED;
}

static int run(const struct invocation *in, struct error *e)
{
    if (need_arguments(in, 0, 1, e) < 0)
        return -1;
    return in->argc == 0 ? list_variables(in, e) : make_variable(in, in->argv[0], e);
}

const struct command cmd_variable = {
    .name = "variable", .run = run, .stored = "the variable is stored"};
