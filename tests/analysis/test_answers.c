/*
 * Whole answers: what a ranking, the next coupons and a comparison say of small trials (trials/),
 * as JSON and as a page, held against answers/. Of JSON every key in its order and every value,
 * numbers to six figures; of a page every line. Worked out a second time, by the ranking in GNU R
 * (tests/stats/ranking_twin.R), were effect, chance and share to four places of gas, preheat,
 * three, pairs and one-broken; the rest is what the program said, read through before it was kept.
 *
 * COLDLAP_WRITE_ANSWERS=1 writes the answers instead; look at the difference before it is kept.
 */
#include "run.h"

#include <jansson.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "analysis/compare.h"
#include "analysis/next.h"
#include "analysis/rank.h"
#include "app/demo.h"
#include "app/task_import.h"
#include "base/mem.h"

enum ask { RANK, NEXT, COMPARE, MARKS };

static const char *const sides = "sides";

static const struct answer_case {
    const char *name, *trial; /* of files in answers/ and trials/; no trial: the demo book */
    enum ask ask;
    struct trial_question q;
    size_t count;               /* NEXT */
    const char *of, *one, *two; /* COMPARE: variable and levels; MARKS: marks */
    enum unit_system units;
    int width; /* of the page; 0: 80. Only there the JSON is kept as well */
} cases[] = {
    {.name = "demo", .ask = RANK},
    {.name = "demo-narrow", .ask = RANK, .width = 40},
    {.name = "demo-shuffled", .ask = RANK, .q = {.anyway = true, .shuffles = 199}, .width = 132},
    {.name = "demo-without",
     .ask = RANK,
     .q = {.without = &sides, .without_count = 1},
     .units = UNITS_INCH},
    {.name = "demo-next", .ask = NEXT, .count = 5},
    {.name = "demo-sides", .ask = COMPARE, .of = "sides"},
    {.name = "weld", .trial = "weld", .ask = RANK},
    {.name = "weld-next", .trial = "weld", .ask = NEXT, .count = 2, .width = 40},
    {.name = "weld-material", .trial = "weld", .ask = COMPARE, .of = "material_level"},
    {.name = "gas", .trial = "gas", .ask = RANK, .q = {.shuffles = 99}},
    {.name = "gas-levels", .trial = "gas", .ask = COMPARE, .of = "gas"},
    {.name = "gas-two", .trial = "gas", .ask = COMPARE, .of = "gas", .one = "mix", .two = "argon"},
    {.name = "preheat", .trial = "preheat", .ask = RANK},
    {.name = "preheat-inch",
     .trial = "preheat",
     .ask = COMPARE,
     .of = "thickness",
     .one = "3 mm",
     .two = "5 mm",
     .units = UNITS_INCH},
    {.name = "three", .trial = "three", .ask = RANK},
    {.name = "three-weighed", .trial = "three", .ask = RANK, .q = {.anyway = true}, .width = 132},
    {.name = "three-next", .trial = "three", .ask = NEXT, .count = 1},
    {.name = "pairs", .trial = "pairs", .ask = RANK},
    {.name = "one-broken", .trial = "one-broken", .ask = RANK},
    {.name = "one-broken-sides", .trial = "one-broken", .ask = COMPARE, .of = "sides"},
    {.name = "held-next", .trial = "held", .ask = NEXT, .count = 1},
    {.name = "held-sides", .trial = "held", .ask = COMPARE, .of = "sides"},
    {.name = "new-next", .trial = "new", .ask = NEXT, .count = 4},
    {.name = "many", .trial = "many", .ask = RANK},
    {.name = "many-next", .trial = "many", .ask = NEXT, .count = 1},
    {.name = "odd", .trial = "odd", .ask = RANK},
    {.name = "odd-marks", .trial = "odd", .ask = MARKS, .one = "01, 02,03", .two = "07,08"},
    {.name = "near", .trial = "near", .ask = RANK, .q = {.shuffles = 1}},
    {.name = "near-next", .trial = "near", .ask = NEXT, .count = 1},
    {.name = "scatter", .trial = "scatter", .ask = RANK},
    {.name = "scatter-gas", .trial = "scatter", .ask = COMPARE, .of = "gas"},
    {.name = "sum", .trial = "sum", .ask = RANK, .width = 132},
    {.name = "steps-gas", .trial = "steps", .ask = COMPARE, .of = "gas"},
    {.name = "level-same", .trial = "level", .ask = MARKS, .one = "1,2,3", .two = "4,5,6"},
    {.name = "level-held", .trial = "level", .ask = MARKS, .one = "1,2,11", .two = "5,6,12"},
    {.name = "level-near", .trial = "level", .ask = MARKS, .one = "1,2,3", .two = "10,5,9"},
};

static char path[] = "/tmp/coldlap-answers-XXXXXX";
static struct session s;

static void setup(void)
{
    close(mkstemp(path));
    unlink(path);
}

static void teardown(void)
{
    static const char *const ends[] = {"", "-wal", "-shm"};

    session_close(&s);
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        char *file = mem_format("%s%s", path, ends[i]);

        unlink(file);
        free(file);
    }
    memcpy(path + strlen(path) - 6, "XXXXXX", 6);
}

static void bring_in(const char *trial)
{
    const char *result = "tensile strength (kg/mm2)"; /* of the published trial */
    bool published = strcmp(trial, "weld") == 0;
    char *file = published ? mem_copy(FIXTURES "/published/weld_trial.csv")
                           : mem_format(HERE "/trials/%s.csv", trial);
    struct import_request r = {
        .trial = trial, .results = &result, .result_count = published, .name = file};
    struct import_outcome outcome = {0};
    struct error e = {0};

    ck_assert_int_eq(session_open(&s, path, BOOK_CREATE, NULL), 0);
    r.in = fopen(file, "r");
    ck_assert_ptr_nonnull(r.in);
    ck_assert_msg(task_import(&s, &r, &outcome, &e) == 0, "%s: %s", file, e.text);
    fclose(r.in);
    page_free(&outcome.notes);
    page_free(&outcome.rows);
    free(file);
}

static void open_book(const struct answer_case *c)
{
    size_t coupons;

    if (c->trial != NULL) {
        bring_in(c->trial);
    } else {
        ck_assert_int_eq(demo_make(path, &coupons, NULL), 0);
        ck_assert_int_eq(session_open(&s, path, BOOK_READ, NULL), 0);
    }
    s.units = c->units;
}

/* The answer of a case as JSON (the caller frees it) and as a page. */
static char *answer(const struct answer_case *c, struct page *p)
{
    struct rank_answer *rank = NULL;
    struct next_answer *next = NULL;
    struct compare_answer *compare = NULL;
    struct error e = {0};
    char *json = NULL;
    int rc = -1;

    switch (c->ask) {
    case RANK:
        rc = rank_make(&s, &c->q, &rank, &e);
        break;
    case NEXT:
        rc = next_make(&s, &c->q, c->count, &next, &e);
        break;
    case COMPARE:
        rc = compare_make(&s, &c->q, c->of, c->one, c->two, &compare, &e);
        break;
    case MARKS:
        rc = compare_marks(&s, &c->q, c->one, c->two, &compare, &e);
        break;
    }
    ck_assert_msg(rc == 0, "%s: %s", c->name, e.text);
    if (rank != NULL) {
        rank_page(rank, p);
        json = rank_json(rank);
    } else if (next != NULL) {
        next_page(next, p);
        json = next_json(next);
    } else {
        compare_page(compare, p);
        json = compare_json(compare);
    }
    rank_free(rank);
    next_free(next);
    compare_free(compare);
    return json;
}

static char *kept_path(const struct answer_case *c, const char *end)
{
    return mem_format(HERE "/answers/%s.%s", c->name, end);
}

/* The kept text of the case, or that text written where it is asked for. The caller frees it. */
static char *kept(const struct answer_case *c, const char *end, const char *now)
{
    char *file = kept_path(c, end);
    bool write = getenv("COLDLAP_WRITE_ANSWERS") != NULL;
    FILE *f = fopen(file, write ? "w" : "r");
    struct text all = {0};
    char part[4096];
    size_t got;

    ck_assert_msg(f != NULL, "%s", file);
    if (write)
        fputs(now, f);
    while (!write && (got = fread(part, 1, sizeof part, f)) > 0)
        text_add_part(&all, part, got);
    fclose(f);
    free(file);
    return write ? mem_copy(now) : text_steal(&all);
}

/* `at` names the place in the messages. */
static void assert_same(const char *at, const json_t *is, const json_t *should);

static void assert_same_object(const char *at, json_t *is, json_t *should)
{
    void *i = json_object_iter(is);

    for (void *j = json_object_iter(should); j != NULL; j = json_object_iter_next(should, j)) {
        char *inner = mem_format("%s.%s", at, json_object_iter_key(j));

        ck_assert_msg(i != NULL, "%s is missing", inner);
        ck_assert_msg(strcmp(json_object_iter_key(i), json_object_iter_key(j)) == 0, "%s is %s",
                      inner, json_object_iter_key(i));
        assert_same(inner, json_object_iter_value(i), json_object_iter_value(j));
        free(inner);
        i = json_object_iter_next(is, i);
    }
    ck_assert_msg(i == NULL, "%s.%s is new", at, json_object_iter_key(i));
}

static void assert_same(const char *at, const json_t *is, const json_t *should)
{
    ck_assert_msg(json_is_number(is) ? json_is_number(should)
                                     : json_typeof(is) == json_typeof(should),
                  "%s is of another type", at);
    if (json_is_object(is)) {
        assert_same_object(at, (json_t *)(uintptr_t)is, (json_t *)(uintptr_t)should);
    } else if (json_is_array(is)) {
        ck_assert_msg(json_array_size(is) == json_array_size(should), "%s has %zu items", at,
                      json_array_size(is));
        for (size_t i = 0; i < json_array_size(is); i++) {
            char *inner = mem_format("%s[%zu]", at, i);

            assert_same(inner, json_array_get(is, i), json_array_get(should, i));
            free(inner);
        }
    } else if (json_is_number(is)) {
        double x = json_number_value(is), y = json_number_value(should);

        ck_assert_msg(fabs(x - y) <= 1e-6 * fmax(1, fabs(y)), "%s is %.9g, not %.9g", at, x, y);
    } else if (json_is_string(is)) {
        ck_assert_msg(strcmp(json_string_value(is), json_string_value(should)) == 0, "%s is \"%s\"",
                      at, json_string_value(is));
    } else {
        ck_assert_msg(json_is_true(is) == json_is_true(should), "%s is the other", at);
    }
}

static char *page_text(const struct page *p, int width)
{
    struct page_lines lines;
    struct text all = {0};

    page_layout(p, width == 0 ? 80 : width, &lines);
    for (size_t i = 0; i < lines.count; i++)
        text_addf(&all, "%s\n", lines.items[i].text);
    page_lines_free(&lines);
    return text_steal(&all);
}

static void assert_json(const struct answer_case *c, const char *json)
{
    char *json_kept = kept(c, "json", json);
    json_t *is = json_loads(json, 0, NULL), *should = json_loads(json_kept, 0, NULL);

    ck_assert_msg(is != NULL && should != NULL, "%s: no JSON", c->name);
    assert_same(c->name, is, should);
    json_decref(is);
    json_decref(should);
    free(json_kept);
}

START_TEST(answers_are_those_kept)
{
    const struct answer_case *c = &cases[_i];
    struct page p = {0};
    char *json, *words, *words_kept;

    open_book(c);
    json = answer(c, &p);
    words = page_text(&p, c->width);
    words_kept = kept(c, "txt", words);
    ck_assert_str_eq(words, words_kept);
    if (c->width == 0)
        assert_json(c, json);
    page_free(&p);
    free(json);
    free(words);
    free(words_kept);
}
END_TEST

static void assert_refused(const char *variable, const char *one, const char *two,
                           enum error_kind kind, const char *text)
{
    struct trial_question q = {0};
    struct compare_answer *a = NULL;
    struct error e = {0};
    int rc = variable == NULL ? compare_marks(&s, &q, one, two, &a, &e)
                              : compare_make(&s, &q, variable, one, two, &a, &e);

    ck_assert_int_lt(rc, 0);
    ck_assert_ptr_null(a);
    ck_assert_int_eq(e.kind, kind);
    ck_assert_str_eq(e.text, text);
}

START_TEST(what_cannot_be_compared_is_refused)
{
    bring_in("gas");
    assert_refused("colour", NULL, NULL, ERROR_USAGE,
                   "there is no variable 'colour'; this trial has gas, sides, tip_to_work");
    assert_refused("volts", NULL, NULL, ERROR_ANSWER,
                   "no coupon of this trial has a value for 'volts'; this trial has gas, sides, "
                   "tip_to_work");
    assert_refused("gas", "CO2", "helium", ERROR_USAGE,
                   "gas has no level 'helium'; it has CO2, argon, mix");
    assert_refused(NULL, "1,2", "3,44", ERROR_INPUT, "this trial has no coupon 44 that counts");
    assert_refused(NULL, "1,2", "3,2", ERROR_USAGE, "coupon 2 is in both groups");
    assert_refused(NULL, "1,2", " , ", ERROR_USAGE,
                   "name coupons by their marks, with commas between");
}
END_TEST

Suite *suite(void)
{
    Suite *su = suite_create("analysis/answers");
    TCase *t = tcase_create("answers");

    tcase_add_checked_fixture(t, setup, teardown);
    tcase_add_loop_test(t, answers_are_those_kept, 0, sizeof cases / sizeof *cases);
    tcase_add_test(t, what_cannot_be_compared_is_refused);
    suite_add_tcase(su, t);
    return su;
}
