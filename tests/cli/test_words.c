/* The small parts of the command line: nearest words, pairs, options of a call. */
#include "run.h"

#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cli/help.h"
#include "cli/invocation.h"
#include "cli/lookup.h"
#include "cli/nearest.h"
#include "cli/pairs.h"

static const char *nearest_of(const char *typed)
{
    struct nearest n = {0};

    nearest_try(&n, typed, "rank");
    nearest_try(&n, typed, "wire_diameter");
    nearest_try(&n, typed, "list");
    nearest_try(&n, typed, "lisp"); /* as near as the one before: that stays */
    return n.word != NULL ? n.word : "";
}

START_TEST(nearest_word_is_found_within_reason)
{
    ck_assert_str_eq(nearest_of("rnak"), "rank");
    ck_assert_str_eq(nearest_of("lst"), "list");
    ck_assert_str_eq(nearest_of("LIST"), "list");
    ck_assert_str_eq(nearest_of("wire-diamter"), "wire_diameter");
    ck_assert_str_eq(nearest_of("plasma"), "");
    ck_assert_str_eq(nearest_of("lisk"), "list");
    ck_assert_str_eq(nearest_of(""), "");
    ck_assert_str_eq(
        nearest_of("a word that is far too long to be any of those it is held against"), "");
}
END_TEST

START_TEST(pairs_take_words_without_an_equals_sign_into_the_value)
{
    struct pairs p;
    struct error e = {0};

    ck_assert_int_eq(pairs_read(&p, "  arc=1 m 20 s  length=100 mm amps=", &e), 0);
    ck_assert_uint_eq(p.count, 3);
    ck_assert_str_eq(p.items[0].key, "arc");
    ck_assert_str_eq(p.items[0].value, "1 m 20 s");
    ck_assert_str_eq(p.items[1].value, "100 mm");
    ck_assert_str_eq(p.items[2].value, "");
    pairs_free(&p);
    ck_assert_int_eq(pairs_read(&p, "", &e), 0);
    ck_assert_uint_eq(p.count, 0);
    pairs_free(&p);
    ck_assert_int_lt(pairs_read(&p, "arc 12", &e), 0);
    ck_assert_int_eq(e.kind, ERROR_USAGE);
}
END_TEST

/* The words of a command line, its first the command. getopt_long() wants them writable. */
struct words {
    char *argv[12];
    int argc;
};

static void split(struct words *w, const char *line)
{
    char *copy = mem_copy(line), *rest = copy, *word;

    w->argc = 0;
    while ((word = strsep(&rest, "|")) != NULL)
        w->argv[w->argc++] = mem_copy(word);
    w->argv[w->argc] = NULL;
    free(copy);
}

static void drop(struct words *w)
{
    while (w->argc > 0)
        free(w->argv[--w->argc]);
}

static int read_call(struct invocation *in, struct words *w, const char *line, struct error *e)
{
    struct cli_call call = {0};

    split(w, line);
    call.argc = w->argc;
    call.argv = w->argv;
    return invocation_read(in, command_find(w->argv[0]), &call, e);
}

START_TEST(options_come_from_the_table_of_commands)
{
    struct words w;
    struct invocation in;
    struct error e = {0};
    const char **flaws;
    size_t count;

    ck_assert_int_eq(
        read_call(&in, &w, "log|sides=both|--flaw|0-3 4013|--units=inch|--flaw|5-6 301|--|--odd",
                  &e),
        0);
    flaws = option_values(&in, "flaw", &count);
    ck_assert_uint_eq(count, 2);
    ck_assert_str_eq(flaws[1], "5-6 301");
    ck_assert_int_eq(in.call.units, UNITS_INCH);
    ck_assert(!option_given(&in, "fresh"));
    ck_assert_int_eq(in.argc, 2);
    ck_assert_str_eq(in.argv[0], "sides=both");
    ck_assert_str_eq(in.argv[1], "--odd");
    free(flaws);
    invocation_free(&in);
    drop(&w);
}
END_TEST

START_TEST(counts_are_whole_and_within_their_range)
{
    static const struct {
        const char *line;
        bool good;
    } cases[] = {{"next|--count|1", true},
                 {"next|--count|12", true},
                 {"next|--count|0", false},
                 {"next|--count|13", false},
                 {"next|--count|1.5", false},
                 {"next|--count|", false},
                 {"next|--count|x", false},
                 {"next", true},
                 {"next|--count|99999999999999999999", false}};

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct words w;
        struct invocation in;
        struct error e = {0};
        long count;
        int result;

        ck_assert_int_eq(read_call(&in, &w, cases[i].line, &e), 0);
        result = option_count(&in, "count", 1, 12, 1, &count, &e);
        ck_assert_msg((result == 0) == cases[i].good, "%s", cases[i].line);
        invocation_free(&in);
        drop(&w);
    }
}
END_TEST

START_TEST(every_command_of_the_table_is_there_and_no_other)
{
    size_t commands = 0;

    for (size_t i = 0; command_at(i) != NULL; i++) {
        struct error e = {0};

        ck_assert_msg(lookup_command(command_at(i)->name, &e) != NULL, "%s", command_at(i)->name);
        commands++;
    }
    for (size_t i = 0; lookup_at(i) != NULL; i++) {
        ck_assert_ptr_nonnull(command_find(lookup_at(i)->name));
        commands--;
    }
    ck_assert_uint_eq(commands, 0);
}
END_TEST

START_TEST(every_exit_code_has_its_meaning)
{
    for (int code = CLI_DONE; code <= CLI_SYSTEM; code++)
        ck_assert_ptr_nonnull(code_meaning(code));
    ck_assert_ptr_null(code_meaning(CLI_SYSTEM + 1));
    ck_assert_ptr_null(code_meaning(-1));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("cli/words");
    TCase *t = tcase_create("words");

    tcase_add_test(t, nearest_word_is_found_within_reason);
    tcase_add_test(t, pairs_take_words_without_an_equals_sign_into_the_value);
    tcase_add_test(t, options_come_from_the_table_of_commands);
    tcase_add_test(t, counts_are_whole_and_within_their_range);
    tcase_add_test(t, every_command_of_the_table_is_there_and_no_other);
    tcase_add_test(t, every_exit_code_has_its_meaning);
    suite_add_tcase(s, t);
    return s;
}
