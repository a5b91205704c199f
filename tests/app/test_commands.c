/* The table of commands, and the help its options take from the tables of parts. */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/commands.h"
#include "model/part.h"

START_TEST(a_command_has_one_row_and_says_what_it_does)
{
    const struct command_usage *a, *b;

    for (size_t i = 0; (a = command_at(i)) != NULL; i++) {
        char start[64];

        ck_assert_msg(a->summary[strlen(a->summary) - 1] != '.', "%s", a->name);
        for (size_t j = i + 1; (b = command_at(j)) != NULL; j++)
            ck_assert_str_ne(a->name, b->name);
        snprintf(start, sizeof start, "coldlap %s", a->name);
        if (a->example != NULL)
            ck_assert_int_eq(strncmp(a->example, start, strlen(start)), 0);
        ck_assert_ptr_eq(command_find(a->name), a);
    }
    ck_assert_ptr_null(command_find("weld"));
}
END_TEST

START_TEST(options_of_a_command_differ)
{
    const struct command_usage *a;

    for (size_t i = 0; (a = command_at(i)) != NULL; i++)
        for (const struct command_option *o = a->options; o != NULL && o->name != NULL; o++) {
            ck_assert(o->help != NULL || part_find(o->rows, o->name) != NULL);
            for (const struct command_option *p = o + 1; p->name != NULL; p++)
                ck_assert_str_ne(o->name, p->name);
        }
}
END_TEST

static char *help_of(const char *command, const char *option)
{
    const struct command_option *o = command_find(command)->options;

    while (strcmp(o->name, option) != 0)
        o++;
    return command_option_help(o);
}

static void assert_help(const char *command, const char *option, const char *expected)
{
    char *help = help_of(command, option);

    ck_assert_str_eq(help, expected);
    free(help);
}

START_TEST(help_of_an_option_comes_from_the_part)
{
    assert_help("log", "mark", "the short mark stamped on it; without it the next free one");
    assert_help("change", "mark", "the short mark stamped on it");
    assert_help("log", "trial", "the trial; without it, the one logged into last");
    assert_help("log", "photo", "attach a photograph; may be repeated");
}
END_TEST

/* Every number of a part, also one added tomorrow, is named where the part is entered. */
START_TEST(every_row_of_a_part_is_named)
{
    static const struct {
        const char *option;
        const struct part_row *rows;
    } parts[] = {{"pass", part_pass_rows}, {"bend", part_bend_rows}};

    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++) {
        char *help = help_of("log", parts[i].option), *at = help;

        for (const struct part_row *row = parts[i].rows; row->key != NULL; row++) {
            at = strstr(at, row->key);
            ck_assert_msg(at != NULL, "%s: no %s in order in '%s'", parts[i].option, row->key,
                          help);
        }
        free(help);
    }
    assert_help("log", "pass",
                "a pass: side (1, 2), arc (arc time), length, volts, amps, feed (wire feed "
                "speed), start (start temperature), pause (pause before it); may be repeated");
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("app/commands");
    TCase *t = tcase_create("commands");

    tcase_add_test(t, a_command_has_one_row_and_says_what_it_does);
    tcase_add_test(t, options_of_a_command_differ);
    tcase_add_test(t, help_of_an_option_comes_from_the_part);
    tcase_add_test(t, every_row_of_a_part_is_named);
    suite_add_tcase(s, t);
    return s;
}
