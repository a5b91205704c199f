/*
 * A tour of all screens and prompts, played by a script at sizes where the layout changes, and kept
 * in golden/tour-*. No terminal takes part, so it is quick; test_golden.c shows that what is saved
 * is what a terminal shows.
 *
 * COLDLAP_WRITE_GOLDEN=1 writes them anew; look at the difference before it is kept.
 */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

#include "base/mem.h"
#include "base/text.h"
#include "scratch.h"

/* Steps of a script, and what the screen after them is called. */
static const struct stop {
    const char *name, *steps;
} stops[] = {
    {"rack", "key End"},
    {"rack-struck", "key a"},
    {"rack-prompt", "key /\ntext note"},
    {"rack-found-none", "text  of nobody\nkey Enter"},
    {"rack-found", "key /\nkey Ctrl-U\ntext same\nkey Enter"},
    {"rack-all", "key Esc"},
    {"rack-keys", "key ?"},
    {"rack-strike", "key q Home x"},
    {"rack-restore", "key Esc End x"},
    {"rack-trials", "key Esc t"},
    {"rack-new-trial", "key +"},
    {"card", "key Esc Home Down Enter"},
    {"card-below", "key PageDown PageDown"},
    {"card-end", "key End"},
    {"card-nothing-to-take", "key d"},
    {"card-take", "key Home d"},
    {"card-no-such-key", "key n z"},
    {"card-write", "key Tab Down Enter"},
    {"card-long-line", "text , a text that is much longer than the line it is written into, and "
                       "then some more of it"},
    {"card-choices", "key Esc Up Enter"},
    {"card-own-words", "key /"},
    {"card-unusual", "key Esc Tab Down\ntext 8mm\nkey Enter"},
    {"card-unusual-again", "key w"},
    {"card-refused", "key Esc Tab Down\ntext 4x\nkey Enter"},
    {"card-pass", "key Esc p z"},
    {"card-pass-unusual", "key Right Down\ntext 20\nkey Enter\ntext 100\nkey Enter\ntext 40\n"
                          "key Enter"},
    {"card-pass-written", "key k Esc"},
    {"card-flaw", "key f"},
    {"card-photo", "key Esc h"},
    {"card-inch", "key Esc u"},
    {"card-keys", "key ?"},
    {"card-keys-end", "key End"},
    {"card-unsaved", "key Esc Esc"},
    {"ranking", "key d u r"},
    {"ranking-below", "key PageDown PageDown"},
    {"ranking-end", "key End"},
    {"ranking-result", "key o"},
    {"ranking-compare", "key Esc Home Down Down Down Down Down Enter"},
    {"new", "key Esc Esc n"},
    {"new-saved", "key Tab Tab Down\ntext 0.9\nkey Enter s"},
    {"card-outside", "key Enter Tab Tab Tab Tab Tab Down Down Down Down Down\ntext 20\n"
                     "key Enter k End Up"},
};

/* Either side of each width and height where something is left out. */
static const struct {
    int columns, rows;
    bool looks;       /* of every cell as well */
    const char *term; /* the type of the terminal that is not there */
} sizes[] = {{40, 10, false, "vt100"},  {59, 15, false, "vt100"},         {60, 17, true, "vt100"},
             {70, 16, false, "vt100"},  {69, 18, true, "xterm-256color"}, {99, 23, false, "vt100"},
             {100, 24, false, "vt100"}, {45, 18, false, "vt100"}};

static void write_script(int size)
{
    FILE *out = fopen("script", "w");

    fprintf(out, "resize %dx%d\n", sizes[size].columns, sizes[size].rows);
    for (size_t i = 0; i < sizeof stops / sizeof *stops; i++)
        fprintf(out, "%s\nsave%s %s\n", stops[i].steps, sizes[size].looks ? "-looks" : "",
                stops[i].name);
    fputs("key q\n", out);
    ck_assert_int_eq(fclose(out), 0);
}

static void add_file(struct text *t, const char *path)
{
    char bytes[4096];
    FILE *in = fopen(path, "r");
    size_t got;

    ck_assert_msg(in != NULL, "%s was not saved", path);
    while ((got = fread(bytes, 1, sizeof bytes, in)) > 0)
        text_add_part(t, bytes, got);
    fclose(in);
}

static char *play(int size)
{
    char *line =
        mem_format("NO_COLOR= TERM=%s LC_ALL=C.UTF-8 COLDLAP_NOW=2026-03-07T09:00:00+01:00 "
                   "'%s' --book b.coldlap --keys script </dev/null >/dev/null 2>said",
                   sizes[size].term, program_path());
    struct text all = {0};

    write_script(size);
    ck_assert_int_eq(system(line), 0);
    free(line);
    for (size_t i = 0; i < sizeof stops / sizeof *stops; i++) {
        text_addf(&all, "== %s\n", stops[i].name);
        add_file(&all, stops[i].name);
    }
    return text_steal(&all);
}

/* The first line that differs. */
static void assert_same(const char *is, const char *wanted)
{
    size_t at = 0;

    for (size_t i = 0; is[i] == wanted[i] && is[i] != '\0'; i++)
        at = is[i] == '\n' ? i + 1 : at;
    ck_assert_msg(strcmp(is, wanted) == 0, "'%.*s' should be '%.*s'", (int)strcspn(is + at, "\n"),
                  is + at, (int)strcspn(wanted + at, "\n"), wanted + at);
}

START_TEST(screens_are_as_they_were)
{
    char *path = mem_format("%s/tour-%dx%d.txt", getenv("COLDLAP_GOLDEN"), sizes[_i].columns,
                            sizes[_i].rows);
    struct text wanted = {0};
    char *seen;

    scratch_bench();
    seen = play(_i);
    if (getenv("COLDLAP_WRITE_GOLDEN") != NULL) {
        FILE *out = fopen(path, "w");

        fputs(seen, out);
        ck_assert_int_eq(fclose(out), 0);
    }
    add_file(&wanted, path);
    assert_same(seen, text_str(&wanted));
    text_free(&wanted);
    free(seen);
    free(path);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/golden_tour");
    TCase *t = tcase_create("tour");

    tcase_set_timeout(t, 120);
    tcase_add_unchecked_fixture(t, scratch_begin_with_bench, scratch_end);
    tcase_add_loop_test(t, screens_are_as_they_were, 0, sizeof sizes / sizeof *sizes);
    suite_add_tcase(s, t);
    return s;
}
