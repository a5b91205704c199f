/* Trials, the user's own variables, settings and calibrations. */
#include "run.h"

#include <math.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "scratch.h"
#include "store/calibrations.h"
#include "store/coupons.h"
#include "store/settings.h"
#include "store/trials.h"
#include "store/variables.h"

static struct scratch at;
static struct book *book;
static struct error e;

static void set_up(void)
{
    scratch_make(&at);
    book = scratch_open(at.book, BOOK_CREATE);
    e = (struct error){0};
}

static void tear_down(void)
{
    book_close(book);
    scratch_remove(&at);
}

static struct trial thin(void)
{
    struct level_set *set;
    struct trial t;

    trial_init(&t);
    t.name = mem_copy("thin plate");
    t.question = mem_copy("Does cleaning matter?");
    t.result = mem_copy("bend_angle");
    t.note = mem_copy("3 mm only");
    t.stop_deg = 135;
    set = trial_set_for(&t, "volts");
    level_set_add(set, "19 V");
    level_set_add(set, "17 V");
    trial_set_for(&t, "cleaning"); /* no levels yet */
    return t;
}

static void same_trial(const struct trial *a, const struct trial *b)
{
    ck_assert_str_eq(a->id, b->id);
    ck_assert_str_eq(a->name, b->name);
    ck_assert_str_eq(a->question, b->question);
    ck_assert_str_eq(a->result, b->result);
    ck_assert_str_eq(a->note, b->note);
    ck_assert(a->stop_deg == b->stop_deg);
    ck_assert_int_eq(a->when.utc_ms, b->when.utc_ms);
    ck_assert_int_eq(a->revision, b->revision);
    ck_assert_uint_eq(a->set_count, b->set_count);
    for (size_t i = 0; i < a->set_count; i++) {
        ck_assert_str_eq(a->sets[i].variable, b->sets[i].variable);
        ck_assert_uint_eq(a->sets[i].count, b->sets[i].count);
        for (size_t k = 0; k < a->sets[i].count; k++)
            ck_assert_str_eq(a->sets[i].levels[k], b->sets[i].levels[k]);
    }
}

START_TEST(a_trial_comes_back)
{
    struct trial put = thin(), got;

    ck_assert_int_eq(trial_save(book, &put, &e), 0);
    ck_assert_uint_eq(strlen(put.id), ID_SIZE - 1);
    ck_assert_int_gt(put.when.utc_ms, 0);
    ck_assert_int_eq(trial_load(book, "Thin Plate", &got, &e), 0);
    same_trial(&put, &got);
    trial_free(&put);
    trial_free(&got);
}
END_TEST

START_TEST(a_changed_trial_is_replaced_and_its_past_kept)
{
    struct trial put = thin(), got, old;

    ck_assert_int_eq(trial_save(book, &put, &e), 0);
    ck_assert_int_eq(trial_load(book, "thin plate", &old, &e), 0);
    level_set_add(trial_set_for(&put, "cleaning"), "ground");
    level_set_add(trial_set_for(&put, "gas"), "CO2");
    put.stop_deg = NAN;
    ck_assert_int_eq(trial_save(book, &put, &e), 0);
    ck_assert_int_eq(put.revision, 2);
    ck_assert_int_eq(trial_load(book, "thin plate", &got, &e), 0);
    ck_assert(isnan(got.stop_deg));
    ck_assert_uint_eq(got.set_count, 3);
    ck_assert_str_eq(got.sets[2].variable, "gas");
    ck_assert_int_eq(scratch_count(at.book, "SELECT json_array_length(state, '$.trial_level')"
                                            " FROM touched WHERE kind = 'trial' AND"
                                            " state IS NOT NULL"),
                     2);
    ck_assert_int_lt(trial_save(book, &old, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "trial thin plate was changed by another program"));
    trial_free(&put);
    trial_free(&got);
    trial_free(&old);
}
END_TEST

START_TEST(trials_are_found_by_name_or_the_names_are_told)
{
    struct trial_list list = {0};
    struct trial t = thin(), twin = thin(), none, nameless;

    ck_assert_int_lt(trial_load(book, "thick", &none, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "there is no trial thick; the book has none yet"));
    ck_assert_int_eq(trial_save(book, &t, &e), 0);
    ck_assert_int_lt(trial_save(book, &twin, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "there is a trial thin plate already"));
    ck_assert_str_eq(twin.id, "");
    free(twin.name);
    twin.name = mem_copy("thick plate");
    ck_assert_int_eq(trial_save(book, &twin, &e), 0);
    ck_assert_int_lt(trial_load(book, "thick", &none, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "there is thin plate, thick plate"));
    ck_assert_int_eq(trials_load(book, &list, &e), 0);
    ck_assert_uint_eq(list.count, 2);
    same_trial(&list.items[0], &t);
    same_trial(&list.items[1], &twin);
    trial_list_free(&list);
    trial_init(&nameless);
    ck_assert_int_lt(trial_save(book, &nameless, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "needs a name"));
    trial_free(&t);
    trial_free(&twin);
}
END_TEST

static const struct variable rust = {
    .key = "rust_left",
    .label = "Rust left",
    .group = GROUP_OTHER,
    .role = ROLE_CAUSE,
    .kind = VARIABLE_NUMBER,
    .dimension = DIM_SHARE,
    .can = {0, 100},
    .usual = {-INFINITY, 50.5},
    .help = "share of the joint not ground",
};

static const struct variable spatter = {
    .key = "spatter",
    .label = "Spatter",
    .group = GROUP_RESULT,
    .role = ROLE_RESULT,
    .kind = VARIABLE_CATEGORY,
    .can = {-INFINITY, INFINITY},
    .usual = {-INFINITY, INFINITY},
    .choices = "none|some|much",
    .choices_only = true,
};

static struct variable_list loaded(void)
{
    struct variable_list list;

    variable_list_init(&list);
    ck_assert_msg(own_variables_load(book, &list, &e) == 0, "%s", e.text);
    return list;
}

START_TEST(own_variables_come_back)
{
    struct variable_list list;
    const struct variable *v;

    ck_assert_int_eq(own_variable_save(book, &rust, &e), 0);
    ck_assert_int_eq(own_variable_save(book, &spatter, &e), 0);
    list = loaded();
    ck_assert_uint_eq(list.count, variable_table_count + 2);
    v = variable_find(&list, "rust_left");
    ck_assert(v->own && v->role == ROLE_CAUSE && v->kind == VARIABLE_NUMBER);
    ck_assert_int_eq(v->group, GROUP_OTHER);
    ck_assert_int_eq(v->dimension, DIM_SHARE);
    ck_assert(v->can.low == 0 && v->can.high == 100 && v->usual.high == 50.5);
    ck_assert(isinf(v->usual.low) && v->usual.low < 0);
    ck_assert_str_eq(v->help, rust.help);
    v = variable_find(&list, "Spatter");
    ck_assert(v->role == ROLE_RESULT && v->kind == VARIABLE_CATEGORY && v->choices_only);
    ck_assert_int_eq(v->group, GROUP_RESULT);
    ck_assert_str_eq(v->choices, spatter.choices);
    ck_assert(isinf(v->can.high) && v->can.high > 0);
    variable_list_free(&list);
}
END_TEST

START_TEST(every_dimension_comes_back)
{
    struct variable_list list;

    for (int d = 0; d < DIMENSIONS; d++) {
        struct variable v = rust;
        char key[16];

        snprintf(key, sizeof key, "own_%d", d);
        v.key = v.label = key;
        v.dimension = (enum dimension)d;
        ck_assert_msg(own_variable_save(book, &v, &e) == 0, "%s", e.text);
    }
    list = loaded();
    for (int d = 0; d < DIMENSIONS; d++) {
        char key[16];

        snprintf(key, sizeof key, "own_%d", d);
        ck_assert_int_eq((int)variable_find(&list, key)->dimension, d);
    }
    variable_list_free(&list);
}
END_TEST

/* An import saves every variable it names, however often the same file comes. */
START_TEST(saving_an_own_variable_as_it_is_keeps_no_earlier_state)
{
    struct variable v = rust;

    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    v.help = v.choices = NULL;
    v.can.high = INFINITY;
    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM touched WHERE state IS NOT NULL"),
                     1);
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM change"), 2);
    ck_assert_int_eq(scratch_count(at.book, "SELECT revision FROM own_variable"), 2);
}
END_TEST

/* The order of an import's columns, however fast they are stored. */
START_TEST(own_variables_keep_the_order_they_were_made_in)
{
    static const char *const keys[] = {"zinc", "apron", "vice", "bench", "yoke", "clamp"};
    struct variable v = rust;
    struct variable_list list;
    size_t first;

    ck_assert_int_eq(book_begin(book, &e), 0);
    for (size_t i = 0; i < 6; i++) {
        v.key = v.label = keys[i];
        ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    }
    ck_assert_int_eq(book_commit(book, &e), 0);
    list = loaded();
    first = list.count - 6;
    for (size_t i = 0; i < 6; i++)
        ck_assert_str_eq(list.items[first + i].key, keys[i]);
    variable_list_free(&list);
}
END_TEST

START_TEST(an_own_variable_keeps_its_meaning_once_used)
{
    struct variable v = rust;
    struct coupon c;

    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    v.dimension = DIM_LENGTH; /* not used yet: may change */
    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    coupon_init(&c);
    coupon_set_number(&c, "rust_left", measure_exact(4), NULL);
    ck_assert_int_eq(coupon_save(book, &c, &e), 0);
    v.help = "depth of the rust";
    ck_assert_int_eq(own_variable_save(book, &v, &e), 0);
    v.dimension = DIM_SHARE;
    ck_assert_int_lt(own_variable_save(book, &v, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "coupons have values of Rust left"));
    ck_assert_int_eq(scratch_count(at.book, "SELECT count(*) FROM touched"
                                            " WHERE kind = 'own_variable' AND state IS NOT NULL"),
                     2);
    coupon_free(&c);
}
END_TEST

/* A later program may bring a variable under a key or label that a book has used before. */
START_TEST(a_built_in_variable_that_came_later_does_not_lock_the_book)
{
    struct variable_list list;

    ck_assert_int_eq(
        scratch_sql(at.book,
                    "INSERT INTO variable (id, key) VALUES (1, 'volts'), (2, 'own_joint');"
                    "INSERT INTO own_variable (id, revision, place, label, role, kind, dimension,"
                    " choices_only, scale, when_utc_ms, when_offset_min) VALUES"
                    " (1, 1, 1, 'My volts', 'set', 'number', 'voltage', 0, 0, 0, 0),"
                    " (2, 1, 2, 'Joint', 'set', 'category', NULL, 0, 0, 0, 0)"),
        SQLITE_OK);
    list = loaded();
    ck_assert_str_ne(variable_find(&list, "volts")->label, "My volts");
    ck_assert_str_eq(variable_find(&list, "own_joint")->label, "Joint (own)");
    variable_list_free(&list);
}
END_TEST

START_TEST(settings_are_kept_and_checked)
{
    static const char *const wrong[][2] = {{"units", "cubits"},
                                           {"units", ""},
                                           {"bench_letter", "a"},
                                           {"bench_letter", "AB"},
                                           {"bench_letter", "7"}};
    char *value;

    ck_assert_int_eq(setting_get(book, "units", &value, &e), 0);
    ck_assert_ptr_null(value);
    ck_assert_int_eq(setting_set(book, "units", "inch", &e), 0);
    ck_assert_int_eq(setting_set(book, "units", "metric", &e), 0);
    ck_assert_int_eq(setting_get(book, "units", &value, &e), 0);
    ck_assert_str_eq(value, "metric");
    free(value);
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        ck_assert_int_lt(setting_set(book, wrong[i][0], wrong[i][1], &e), 0);
        ck_assert_ptr_nonnull(strstr(e.text, "it is "));
    }
    ck_assert_int_eq(setting_set(book, "units", NULL, &e), 0);
    ck_assert_int_eq(setting_get(book, "units", &value, &e), 0);
    ck_assert_ptr_null(value);
    ck_assert_int_eq(setting_set(book, "bench_letter", "", &e), 0);
    ck_assert_int_eq(setting_set(book, "welder", "bench 1", &e), 0);
    ck_assert_int_eq(scratch_count(at.book,
                                   "SELECT count(*) FROM touched"
                                   " WHERE kind = 'setting' AND state ->> 'key' = 'units'"),
                     2);
}
END_TEST

static struct calibration feed(const char *machine, double dial, double mm_per_min)
{
    struct calibration c = {.machine = mem_copy(machine), .dial = dial};

    c.feed_mm_per_min = mm_per_min;
    ck_assert_msg(calibration_add(book, &c, &e) == 0, "%s", e.text);
    return c;
}

START_TEST(calibrations_come_by_machine_and_dial)
{
    struct calibration five = feed("MIG 200", 5, 5334), four = feed("MIG 200", 4, 4572);
    struct calibration again = feed("mig 200", 5, 5300), other = feed("flux 90", 5, 3000);
    struct calibration bad = {.machine = five.machine, .dial = 5};
    struct calibration_list list = {0};

    ck_assert_int_eq(calibrations_load(book, "MIG 200", &list, &e), 0);
    ck_assert_uint_eq(list.count, 3);
    ck_assert_double_eq(list.items[0].dial, 4);
    ck_assert_double_eq(list.items[1].feed_mm_per_min, 5334);
    ck_assert_double_eq(list.items[2].feed_mm_per_min, 5300);
    ck_assert_uint_eq(strlen(list.items[2].id), ID_SIZE - 1);
    ck_assert_int_gt(list.items[2].when.utc_ms, 0);
    calibration_list_free(&list);
    ck_assert_int_eq(scratch_sql(at.book, "UPDATE calibration SET struck_why = 'wire slipped',"
                                          " struck_utc_ms = 1, struck_offset_min = 0"
                                          " WHERE feed_mm_per_min = 5300"),
                     SQLITE_OK);
    ck_assert_int_eq(calibrations_load(book, NULL, &list, &e), 0);
    ck_assert_uint_eq(list.count, 3);
    calibration_list_free(&list);
    ck_assert_int_lt(calibration_add(book, &bad, &e), 0);
    ck_assert_ptr_nonnull(strstr(e.text, "more than 0 mm/min"));
    calibration_free(&five);
    calibration_free(&four);
    calibration_free(&again);
    calibration_free(&other);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("store/rows");
    TCase *t = tcase_create("rows");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_set_timeout(t, 60);
    tcase_add_test(t, a_trial_comes_back);
    tcase_add_test(t, a_changed_trial_is_replaced_and_its_past_kept);
    tcase_add_test(t, trials_are_found_by_name_or_the_names_are_told);
    tcase_add_test(t, own_variables_come_back);
    tcase_add_test(t, every_dimension_comes_back);
    tcase_add_test(t, saving_an_own_variable_as_it_is_keeps_no_earlier_state);
    tcase_add_test(t, own_variables_keep_the_order_they_were_made_in);
    tcase_add_test(t, an_own_variable_keeps_its_meaning_once_used);
    tcase_add_test(t, a_built_in_variable_that_came_later_does_not_lock_the_book);
    tcase_add_test(t, settings_are_kept_and_checked);
    tcase_add_test(t, calibrations_come_by_machine_and_dial);
    suite_add_tcase(s, t);
    return s;
}
