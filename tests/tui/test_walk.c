/*
 * Random walks over everything a coupon can hold: set, unset, set again, refused, saved, through
 * `log`, `change` and the keys of the card. The variables and the rows of the parts are taken from
 * their tables. What a plain list of words says should be there is compared with what the book
 * holds, all of it after each step, the coupons nobody touched included.
 *
 * The seed is printed; COLDLAP_SEED=… walks the same way again.
 */
#include "run.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "app/session.h"
#include "scratch.h"
#include "walk.h"

enum { STEPS = 120 };

static void begin_book(void)
{
    struct session s = {0};
    struct error e = {0};
    FILE *photo = fopen("face.jpg", "w");

    fputs("the broken face", photo);
    fclose(photo);
    walk_make("variable", "Paint left on", "--help-text=ground off?");
    walk_make("variable", "Beer", "--unit=glasses");
    walk_make("variable", "Hits", "--result");
    walk_make("trial", "corner", "--question=Why?");
    ck_assert_msg(session_open(&s, walk_book, BOOK_READ, &e) == 0, "%s", e.text);
    walk.variables = s.variables;
    memset(&s.variables, 0, sizeof s.variables);
    session_close(&s);
    ck_assert_uint_le(walk.variables.count, VARIABLES);
}

static void walk_step(void)
{
    size_t at = walk.count == 0 ? 0 : roll(walk.count);
    bool another = walk.count < COUPONS && roll(walk.count == 0 ? 1 : 8) == 0;

    text_free(&walk.said);
    if (another && roll(2))
        walk_log();
    else if (another)
        walk_card(walk.count);
    else if (walk.count > 0 && roll(2))
        walk_change(at);
    else if (walk.count > 0)
        walk_card(at);
    same_book();
}

START_TEST(a_walk_ends_where_the_list_says)
{
    const char *again = getenv("COLDLAP_SEED");

    if (again != NULL && _i > 0)
        return;
    walk.seed = again != NULL ? strtoull(again, NULL, 10)
                              : (unsigned long long)time(NULL) * 2 + (unsigned)_i;
    fprintf(stderr, "COLDLAP_SEED=%llu\n", walk.seed);
    walk.state = walk.seed;
    scratch_enter();
    setlocale(LC_ALL, "C.UTF-8");
    setenv("COLDLAP_NOW", "2026-03-07T09:00:00+01:00", 1);
    ck_assert_ptr_nonnull(freopen("/dev/null", "w", stdout));
    begin_book();
    for (walk.steps = 1; walk.steps <= STEPS || !all_typed(); walk.steps++)
        walk_step();
    variable_list_free(&walk.variables);
    text_free(&walk.said);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/walk");
    TCase *t = tcase_create("walk");

    tcase_set_timeout(t, 600);
    tcase_add_unchecked_fixture(t, scratch_begin, scratch_end);
    tcase_add_loop_test(t, a_walk_ends_where_the_list_says, 0, 2);
    suite_add_tcase(s, t);
    return s;
}
