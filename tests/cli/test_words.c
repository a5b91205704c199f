/* The small parts of the command line: nearest words, pairs, options of a call. */
#include "run.h"

#include <stdlib.h>

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
    return n.word != NULL ? n.word : "";
}

START_TEST(nearest_word_is_found_within_reason)
{
    ck_assert_str_eq(nearest_of("rnak"), "rank");
    ck_assert_str_eq(nearest_of("lst"), "list");
    ck_assert_str_eq(nearest_of("LIST"), "list");
    ck_assert_str_eq(nearest_of("wire-diamter"), "wire_diameter");
    ck_assert_str_eq(nearest_of("plasma"), "");
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

static int read_call(struct invocation *in, const char *action, int argc, char **argv,
                     struct error *e)
{
    struct cli_call call = {.argc = argc, .argv = argv};

    return invocation_read(in, action_find(action), &call, e);
}

START_TEST(options_come_from_the_action_table)
{
    char *argv[] = {"log",    "sides=both", "--flaw", "0-3 4013", "--units=inch",
                    "--flaw", "5-6 301",    "--",     "--odd",    NULL};
    struct invocation in;
    struct error e = {0};
    const char **flaws;
    size_t count;

    ck_assert_int_eq(read_call(&in, "log", 9, argv, &e), 0);
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
}
END_TEST

START_TEST(counts_are_whole_and_within_their_range)
{
    static const struct {
        char *text;
        bool good;
    } cases[] = {{"1", true},    {"12", true}, {"0", false}, {"13", false},
                 {"1.5", false}, {"", false},  {"x", false}, {"99999999999999999999", false}};

    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char *argv[] = {"next", "--count", cases[i].text, NULL};
        struct invocation in;
        struct error e = {0};
        long count;
        int result;

        ck_assert_int_eq(read_call(&in, "next", 3, argv, &e), 0);
        result = option_count(&in, "count", 1, 12, 1, &count, &e);
        ck_assert_msg((result == 0) == cases[i].good, "%s", cases[i].text);
        invocation_free(&in);
    }
}
END_TEST

START_TEST(every_command_of_the_table_is_there_and_no_other)
{
    size_t commands = 0;

    for (size_t i = 0; action_at(i) != NULL; i++) {
        struct error e = {0};

        if ((action_at(i)->places & PLACE_COMMAND) == 0)
            continue;
        ck_assert_msg(lookup_command(action_at(i)->id, &e) != NULL, "%s", action_at(i)->id);
        commands++;
    }
    for (size_t i = 0; lookup_at(i) != NULL; i++) {
        const struct action *a = action_find(lookup_at(i)->action);

        ck_assert_ptr_nonnull(a);
        ck_assert_int_ne(a->places & PLACE_COMMAND, 0);
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
    tcase_add_test(t, options_come_from_the_action_table);
    tcase_add_test(t, counts_are_whole_and_within_their_range);
    tcase_add_test(t, every_command_of_the_table_is_there_and_no_other);
    tcase_add_test(t, every_exit_code_has_its_meaning);
    suite_add_tcase(s, t);
    return s;
}
