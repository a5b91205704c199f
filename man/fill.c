/*
 * Fills the templates of the manual and of the shell completion from the tables of the program:
 *
 *     fill TEMPLATE        writes the template, with every line "@NAME@" replaced
 *
 * Runs while the program is built; it is not installed.
 */
#include <ctype.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/commands.h"
#include "app/keys.h"
#include "base/mem.h"
#include "base/text.h"
#include "calc/calc.h"
#include "cli/help.h"
#include "model/coupon.h"
#include "model/units.h"
#include "model/variable.h"
#include "page/cautions.h"

/* mdoc: what is beyond ASCII is named, backslashes are escaped; `quoted` also for macro arguments.
 */
static void put_escaped(const char *s, bool quoted)
{
    for (const unsigned char *c = (const unsigned char *)s; *c != '\0';) {
        int more = *c >= 0xf0 ? 3 : *c >= 0xe0 ? 2 : *c >= 0xc0 ? 1 : 0;

        if (more > 0) {
            unsigned long code = *c & (0x3fU >> more);

            for (int i = 1; i <= more; i++)
                code = code << 6 | (c[i] & 0x3fU);
            printf("\\[u%04lX]", code);
        } else if (*c == '\\')
            printf("\\e");
        else if (*c == '"' && quoted)
            printf("\\(dq");
        else
            putchar(*c);
        c += more + 1;
    }
}

/* Text lines; mdoc wants every sentence to begin on a new one. */
static void put_line(const char *s)
{
    while (*s != '\0') {
        const char *end = strpbrk(s, ".?!");
        char *sentence;

        while (end != NULL && end[1] != ' ' && end[1] != '\0')
            end = strpbrk(end + 1, ".?!");
        end = end != NULL ? end + 1 : s + strlen(s);
        sentence = mem_copy_part(s, (size_t)(end - s));
        if (*s == '.' || *s == '\'')
            printf("\\&");
        put_escaped(sentence, false);
        putchar('\n');
        free(sentence);
        s = *end == ' ' ? end + 1 : end;
    }
}

/* "log a coupon" → "Log a coupon." */
static void put_summary(const char *s)
{
    struct text t = {0};

    text_addf(&t, "%c%s.", toupper((unsigned char)*s), s + 1);
    put_line(text_str(&t));
    text_free(&t);
}

static void put_item(const char *macro, const char *name, const char *argument)
{
    /* a lone mark of punctuation would be taken for one */
    printf(".It %s \"%s", macro, isalnum((unsigned char)*name) ? "" : "\\&");
    put_escaped(name, true);
    printf("\"");
    if (argument != NULL && *argument != '\0') {
        printf(" Ar \"");
        put_escaped(argument, true);
        printf("\"");
    }
    putchar('\n');
}

static void put_options(const struct command_option *list)
{
    printf(".Bl -tag -width 12n -compact\n");
    for (; list->name != NULL; list++) {
        char name[64], *help = command_option_help(list);

        snprintf(name, sizeof name, "-%s", list->name);
        put_item("Fl", name, list->argument);
        put_line(help);
        free(help);
    }
    printf(".El\n");
}

static void put_commands(void)
{
    printf(".Bl -tag -width 9n\n");
    for (size_t i = 0; command_at(i) != NULL; i++) {
        const struct command_usage *a = command_at(i);

        put_item("Ic", a->name, a->arguments);
        put_summary(a->summary);
        if (a->detail != NULL)
            put_line(a->detail);
        if (a->options != NULL)
            put_options(a->options);
        if (a->example != NULL) {
            printf(".Pp\nExample:\n.Dl ");
            put_escaped(a->example, false);
            putchar('\n');
        }
    }
    printf(".El\n");
}

static void put_global_options(void)
{
    put_options(command_global_options);
}

static void put_exit_codes(void)
{
    printf(".Bl -tag -width 2n -compact\n");
    for (int code = 0; code_meaning(code) != NULL; code++)
        printf(".It %d\n%s\n", code, code_meaning(code));
    printf(".El\n");
}

static void put_keys(void)
{
    static const struct {
        enum key_context context;
        const char *title;
    } places[] = {{CONTEXT_RACK, "In the rack, the coupons of a trial"},
                  {CONTEXT_CARD, "On the card of one coupon"},
                  {CONTEXT_RANKING, "On the ranking"}};

    for (size_t p = 0; p < sizeof places / sizeof *places; p++) {
        printf(".Pp\n%s:\n.Bl -tag -width 6n -compact\n", places[p].title);
        for (size_t i = 0; key_row_at(i) != NULL; i++) {
            const struct key_row *row = key_row_at(i);

            if (row->summary == NULL || (row->contexts & (int)places[p].context) == 0)
                continue;
            put_item("Ic", row->key, NULL);
            put_line(row->summary);
        }
        printf(".El\n");
    }
}

static void put_variable(const struct variable *v)
{
    const char *unit = variable_unit(v, UNITS_METRIC);
    struct text t = {0};

    put_item("Cm", v->key, NULL);
    text_add(&t, v->kind == VARIABLE_CATEGORY ? "Category. " : "Number");
    if (v->kind == VARIABLE_NUMBER)
        text_addf(&t, *unit != '\0' ? " in %s. " : "%s. ", unit);
    text_add(&t, v->help);
    if (v->choices != NULL) {
        text_add(&t, v->choices_only ? " Only: " : " Usual: ");
        for (const char *c = v->choices; *c != '\0'; c++)
            text_add_part(&t, *c == '|' ? ", " : c, *c == '|' ? 2 : 1);
        text_add(&t, ".");
    }
    put_line(text_str(&t));
    text_free(&t);
}

static void put_variables_of(enum variable_group first, enum variable_group last)
{
    printf(".Bl -tag -width 16n -compact\n");
    for (size_t i = 0; i < variable_table_count; i++)
        if (variable_table[i].group >= first && variable_table[i].group <= last)
            put_variable(&variable_table[i]);
    printf(".El\n");
}

static void put_causes(void)
{
    put_variables_of(GROUP_MACHINE, GROUP_OTHER);
}

static void put_results(void)
{
    put_variables_of(GROUP_RESULT, GROUP_RESULT);
}

static void put_derived(void)
{
    put_variables_of(GROUP_DERIVED, GROUP_DERIVED);
}

static void put_flaws(void)
{
    printf(".Bl -tag -width 6n -compact\n");
    for (size_t i = 0; flaw_kind_at(i) != NULL; i++) {
        printf(".It %d\n", flaw_kind_at(i)->iso6520);
        put_line(flaw_kind_at(i)->name);
    }
    printf(".El\n");
}

static void put_calculations(void)
{
    printf(".Bl -tag -width 9n -compact\n");
    for (size_t i = 0; calc_kind_at(i) != NULL; i++) {
        put_item("Ic", calc_kind_at(i)->name, NULL);
        put_line(calc_kind_at(i)->summary);
    }
    printf(".El\n");
}

static void put_cautions(void)
{
    put_line(caution_scope);
    printf(".Bl -tag -width 9n\n");
    for (const struct caution *c = caution_list; c->about != NULL; c++) {
        put_item("", c->about, NULL);
        put_line(c->text);
    }
    printf(".El\n.Pp\n");
    put_line("ANSI Z49.1 and your local rules say the rest.");
}

/* Shell completion: a case for each command with its long options. */
static void put_shell_options(const struct command_option *list)
{
    for (; list != NULL && list->name != NULL; list++)
        printf(" --%s", list->name);
}

static void put_shell_commands(void)
{
    printf("    commands='");
    for (size_t i = 0; command_at(i) != NULL; i++)
        printf("%s%s", i > 0 ? " " : "", command_at(i)->name);
    printf("'\n    options='");
    put_shell_options(command_global_options);
    printf("'\n    kinds='");
    for (size_t i = 0; calc_kind_at(i) != NULL; i++)
        printf("%s%s", i > 0 ? " " : "", calc_kind_at(i)->name);
    printf("'\n");
}

static void put_shell_cases(void)
{
    for (size_t i = 0; command_at(i) != NULL; i++) {
        const struct command_usage *a = command_at(i);

        if (a->options == NULL)
            continue;
        printf("    %s) options=\"$options", a->name);
        put_shell_options(a->options);
        printf("\" ;;\n");
    }
}

/* "key=" for everything a coupon can be told. */
static void put_shell_variables(void)
{
    printf("    variables='");
    for (size_t i = 0, n = 0; i < variable_table_count; i++)
        if (variable_table[i].group != GROUP_DERIVED)
            printf("%s%s", n++ > 0 ? " " : "", variable_table[i].key);
    printf("'\n");
}

static const struct {
    const char *name;
    void (*put)(void);
} sections[] = {
    {"commands", put_commands},
    {"global-options", put_global_options},
    {"exit-codes", put_exit_codes},
    {"keys", put_keys},
    {"causes", put_causes},
    {"results", put_results},
    {"derived", put_derived},
    {"flaws", put_flaws},
    {"calculations", put_calculations},
    {"cautions", put_cautions},
    {"shell-commands", put_shell_commands},
    {"shell-cases", put_shell_cases},
    {"shell-variables", put_shell_variables},
};

static bool put_section(const char *line)
{
    for (size_t i = 0; i < sizeof sections / sizeof *sections; i++) {
        size_t length = strlen(sections[i].name);

        if (line[0] == '@' && strncmp(line + 1, sections[i].name, length) == 0 &&
            strcmp(line + 1 + length, "@\n") == 0) {
            sections[i].put();
            return true;
        }
    }
    return false;
}

int main(int argc, char **argv)
{
    char line[1024];
    FILE *in = argc == 2 ? fopen(argv[1], "r") : NULL;

    if (in == NULL) {
        fprintf(stderr, "fill TEMPLATE\n");
        return EXIT_FAILURE;
    }
    while (fgets(line, sizeof line, in) != NULL)
        if (!put_section(line))
            fputs(line, stdout);
    fclose(in);
    return fflush(stdout) == 0 && !ferror(stdout) ? EXIT_SUCCESS : EXIT_FAILURE;
}
