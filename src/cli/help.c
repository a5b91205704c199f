#include "cli/help.h"

#include <stdlib.h>

#include "base/mem.h"
#include "cli/cli.h"
#include "cli/print.h"
#include "page/cautions.h"
#include "page/page.h"

const char *code_meaning(int code)
{
    static const char *const meanings[] = {
        [CLI_DONE] = "done",
        [CLI_INPUT] = "an input or the book was refused",
        [CLI_USAGE] = "the command was not understood",
        [CLI_ANSWER] = "the book cannot answer the question",
        [CLI_SYSTEM] = "a file, the disk or the terminal did not do as asked",
    };

    return code >= 0 && code < (int)(sizeof meanings / sizeof *meanings) ? meanings[code] : NULL;
}

static void fill_row(struct block *table, const char *left, const char *right)
{
    size_t row = PAGE_ROW(table, NULL, NULL, right);

    page_table_cell(table, row, 0, "  %s", left);
}

static void add_options(struct page *p, const char *title, const struct command_option *list)
{
    struct block *table;

    if (list == NULL || list->name == NULL)
        return;
    table = PAGE_TABLE(p, {.title = title}, {.title = ""});
    for (; list->name != NULL; list++) {
        char *left = mem_format("--%s%s%s", list->name, list->argument != NULL ? " " : "",
                                list->argument != NULL ? list->argument : "");
        char *right = command_option_help(list);

        fill_row(table, left, right);
        free(left);
        free(right);
    }
}

void help_program(FILE *out)
{
    struct page p = {0};
    struct block *table;

    page_add(&p, BLOCK_TITLE,
             "coldlap - a logbook and adviser for weld test coupons: which change made the "
             "difference, how sure that is, and what to weld next");
    table = PAGE_TABLE(&p, {.title = "Use"}, {.title = ""});
    fill_row(table, "coldlap", "the screens");
    fill_row(table, "coldlap COMMAND ...", "one command; 'coldlap COMMAND --help' explains it");
    table = PAGE_TABLE(&p, {.title = "Commands"}, {.title = ""});
    for (size_t i = 0; command_at(i) != NULL; i++)
        fill_row(table, command_at(i)->name, command_at(i)->summary);
    add_options(&p, "Options for every command", command_global_options);
    table = PAGE_TABLE(&p, {.title = "Exit code"}, {.title = ""});
    for (int code = 0; code_meaning(code) != NULL; code++) {
        char digits[16];

        snprintf(digits, sizeof digits, "%d", code);
        fill_row(table, digits, code_meaning(code));
    }
    cautions_add_all(&p);
    print_page(out, &p);
    page_free(&p);
}

void help_command(FILE *out, const struct command_usage *usage)
{
    struct page p = {0};

    page_add(&p, BLOCK_TITLE, "coldlap %s%s%s%s - %s", usage->name,
             usage->options != NULL ? " [OPTION]..." : "", usage->arguments != NULL ? " " : "",
             usage->arguments != NULL ? usage->arguments : "", usage->summary);
    if (usage->detail != NULL)
        page_add(&p, BLOCK_TEXT, "%s", usage->detail);
    add_options(&p, "Options", usage->options);
    add_options(&p, "Options for every command", command_global_options);
    if (usage->example != NULL)
        page_add(&p, BLOCK_TEXT, "Example: %s", usage->example);
    print_page(out, &p);
    page_free(&p);
}
