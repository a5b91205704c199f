#include <stdio.h>

#include "app/machine_feed.h"
#include "app/session.h"
#include "base/print.h"
#include "calc/calc.h"
#include "calc/json.h"
#include "calc/page.h"
#include "cli/command.h"
#include "cli/nearest.h"
#include "cli/open.h"
#include "cli/print.h"

static const struct calc_kind *find_kind(const char *name, struct error *e)
{
    const struct calc_kind *kind = calc_kind_find(name);
    struct nearest near = {0};

    if (kind != NULL)
        return kind;
    for (size_t i = 0; calc_kind_at(i) != NULL; i++)
        nearest_try(&near, name, calc_kind_at(i)->name);
    error_set(e, ERROR_USAGE, "there is nothing to work out called '%s'%s%s%s", name,
              near.word != NULL ? "; did you mean '" : "; 'coldlap calc' lists what there is",
              near.word != NULL ? near.word : "", near.word != NULL ? "'?" : "");
    return NULL;
}

static void print_kinds(void)
{
    struct page p = {0};

    calc_kinds_page(&p);
    print_page(stdout, &p);
    page_free(&p);
}

static void print_kind(const struct calc_kind *kind)
{
    struct page p = {0};

    calc_kind_page(kind, &p);
    print_page(stdout, &p);
    page_free(&p);
}

/* The book is of use, for its units and its machines' feed, but not needed. */
static int work_out(const struct invocation *in, struct error *e)
{
    struct session s = {0};
    bool opened = open_book(in, BOOK_READ, &s, NULL) == 0;
    enum unit_system units = in->call.units_given ? in->call.units : s.units;
    struct calc_answer a;
    struct page p = {0};
    int result = calc_run_with_book(opened ? &s : NULL, in->argv[0], (size_t)in->argc - 1,
                                    in->argv + 1, units, &a, e);

    if (opened)
        session_close(&s);
    if (result < 0)
        return result;
    if (option_given(in, "json"))
        print_data(stdout, calc_json(&a));
    else {
        calc_answer_page(&a, &p);
        print_page(stdout, &p);
    }
    page_free(&p);
    calc_answer_free(&a);
    return 0;
}

static int run(const struct invocation *in, struct error *e)
{
    const struct calc_kind *kind;

    if (in->argc == 0) {
        print_kinds();
        return 0;
    }
    kind = find_kind(in->argv[0], e);
    if (kind == NULL)
        return -1;
    if (!in->help)
        return work_out(in, e);
    print_kind(kind);
    return 0;
}

const struct command cmd_calc = {.name = "calc", .run = run, .own_help = true};
