/* Pages of coupons, trials and variables, line by line. */
#include "run.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/coupon_page.h"
#include "app/coupon_questions.h"
#include "app/demo.h"
#include "app/task_coupon.h"
#include "app/task_trial.h"
#include "app/task_variable.h"
#include "app/trial_page.h"
#include "base/mem.h"
#include "page/cautions.h"

static char folder[32];
static char *path;
static struct session session;
static struct error e;
static struct page page;

static void begin(void)
{
    size_t coupons;

    strcpy(folder, "/tmp/coldlap-page-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    path = mem_format("%s/b.coldlap", folder);
    ck_assert_int_eq(demo_make(path, &coupons, &e), 0);
    ck_assert_int_eq(session_open(&session, path, BOOK_WRITE, &e), 0);
}

static void end(void)
{
    char *command = mem_format("rm -r '%s'", folder);

    page_free(&page);
    session_close(&session);
    ck_assert_int_eq(system(command), 0);
    free(command);
    free(path);
}

/* The page 100 cells wide. The caller frees it. */
static char *lines_of(const struct page *p)
{
    struct page_lines lines = {0};
    struct text all = {0};

    page_layout(p, 100, &lines);
    for (size_t i = 0; i < lines.count; i++)
        text_addf(&all, "%s\n", lines.items[i].text);
    page_lines_free(&lines);
    return text_steal(&all);
}

static void expect_page(const char *expected)
{
    char *all = lines_of(&page);

    ck_assert_str_eq(all, expected);
    free(all);
    page_free(&page);
}

static void expect_in_page(const char *expected)
{
    char *all = lines_of(&page);

    ck_assert_msg(strstr(all, expected) != NULL, "no\n%s\nin\n%s", expected, all);
    free(all);
}

static void expect_not_in_page(const char *words)
{
    char *all = lines_of(&page);

    ck_assert_msg(strstr(all, words) == NULL, "%s\nin\n%s", words, all);
    free(all);
}

/* 122° from 180° and 58°, 85 % from 9 mm of 60 mm, 57.6 N m from 144 N at 0.4 m. */
static const char demo_03[] = "Coupon 03 (trial bench lap), welded 2026-01-24 09:41\n"
                              "\n"
                              "Results\n"
                              "- Bend angle: tore at 122°\n"
                              "- Fused share: 85 %\n"
                              "- Longest unfused run: 9 mm\n"
                              "- Unfused at the start: 9 mm\n"
                              "- Peak moment: 57.6 N m\n"
                              "- First crack angle: at most 122°\n"
                              "\n"
                              "           set-up\n"
                              "Machine    Process                   135 MAG solid wire\n"
                              "           Polarity                  DCEP\n"
                              "Wire       Wire class                ER70S-6\n"
                              "           Wire diameter             1 mm\n"
                              "           Wire lot                  spool B\n"
                              "Gas        Gas                       Ar 82 CO2 18\n"
                              "           Gas flow                  14 l/min\n"
                              "Plate      Base metal                S235\n"
                              "           Thickness                 4 mm\n"
                              "           Thickness, second member  4 mm\n"
                              "           Cleaning                  ground bright\n"
                              "Joint      Joint                     lap\n"
                              "           Position                  PB\n"
                              "           Sides welded              one\n"
                              "           Root gap                  0 mm\n"
                              "           Fit-up                    clamped\n"
                              "           Leg length                4.5 mm\n"
                              "Technique  Volts                     18 V\n"
                              "           Wire feed speed           5 m/min (5000 mm/min)\n"
                              "           Contact tip to work       18 mm\n"
                              "           Push or drag              push\n"
                              "           Bead start                straight off\n"
                              "\n"
                              "Passes\n"
                              "pass  side   arc  length  volts   amps    wire feed  start  pause\n"
                              "   1     1  13 s   60 mm   18 V  123 A  5000 mm/min  18 °C      –\n"
                              "\n"
                              "Broken face\n"
                              "from    to  ISO 6520-1  flaw                 note\n"
                              "0 mm  9 mm        4013  lack of root fusion\n"
                              "\n"
                              "Figures\n";

START_TEST(a_coupon_is_shown_whole)
{
    struct coupon c;
    char *all;

    ck_assert_int_eq(task_coupon(&session, "bench lap/03", &c, &e), 0);
    coupon_page(&session, &c, &page);
    all = lines_of(&page);
    ck_assert_msg(strncmp(all, demo_03, strlen(demo_03)) == 0, "%s", all);
    free(all);
    expect_in_page(
        "Arc energy, pass 1            0.480 ± 0.018 kJ/mm"); /* 18 V 123 A 13 s / 60 mm */
    expect_in_page("Arc time of all passes                       13 s");
    expect_in_page("\nNote: tore at the start of the bead, the rest held\n\n! ");
    expect_not_in_page("Struck out");
    expect_not_in_page("(outside range)");
    coupon_free(&c);
}
END_TEST

/* What the demo has not: a coupon struck out, with photographs, and with little known of it. */
static void little_known(struct coupon *c)
{
    struct flaw *flaw;
    struct photo *photo;

    coupon_init(c);
    c->mark = mem_copy("x1");
    c->who = mem_copy("bench 1");
    c->struck_why = mem_copy("wrong wire");
    c->note = mem_copy("");
    clock_parse("2026-03-01T10:00:00+01:00", &c->when);
    coupon_add_pass(c)->side = 2;
    coupon_add_pass(c)->pause_s = 45;
    flaw = coupon_add_flaw(c);
    flaw->from_mm = 3;
    flaw->iso6520 = 9999;
    flaw->note = mem_copy("odd one");
    photo = coupon_add_photo(c);
    photo->path = mem_copy("/x/a.jpg");
    photo->sha256 = mem_copy("0123456789abcdef");
    photo = coupon_add_photo(c);
    photo->path = mem_copy("/x/b.jpg");
}

START_TEST(a_coupon_of_which_little_is_known_is_shown)
{
    struct coupon c;

    little_known(&c);
    coupon_page(&session, &c, &page);
    expect_in_page("Coupon x1, welded 2026-03-01 10:00 by bench 1\n\n"
                   "Struck out: wrong wire. It does not count.\n\n"
                   "Results\n- Bend angle: not bent yet\n\n");
    expect_in_page("pass  side  arc  length  volts  amps  wire feed  start  pause\n"
                   "   1     2    –       –      –     –          –      –      –\n"
                   "   2     –    –       –      –     –          –      –   45 s\n");
    expect_in_page("from  to  ISO 6520-1  flaw  note\n3 mm   –        9999        odd one\n");
    expect_in_page("- Photograph /x/a.jpg (SHA-256 0123456789ab…)\n");
    expect_in_page("- Photograph /x/b.jpg\n");
    expect_not_in_page("Note:");
    expect_not_in_page("Machine ");
    page_free(&page);
    c.flaw_count = 0;
    c.pass_count = 0;
    coupon_page(&session, &c, &page);
    expect_not_in_page("Passes");
    expect_not_in_page("Broken face");
    page_free(&page);
    c.face_read = true;
    coupon_page(&session, &c, &page);
    expect_in_page("Broken face\n- Read, no flaw found.\n");
    c.flaw_count = 1;
    c.pass_count = 2;
    coupon_free(&c);
}
END_TEST

START_TEST(a_result_is_told_in_words)
{
    const struct variable *angle = variable_find(&session.variables, "bend_angle");
    const struct variable *share = variable_find(&session.variables, "fused_share");
    struct coupon c;
    char shown[128];

    coupon_init(&c);
    coupon_result(&session, &c, angle, shown, sizeof shown);
    ck_assert_str_eq(shown, "not bent yet");
    coupon_result(&session, &c, share, shown, sizeof shown);
    ck_assert_str_eq(shown, "–");
    c.bend.end = BEND_BROKE;
    c.bend.before_deg = 90;
    c.bend.after_deg = 110;
    coupon_result(&session, &c, angle, shown, sizeof shown);
    ck_assert_str_eq(shown, "broke at 20°");
    c.bend.end = BEND_TORE;
    coupon_result(&session, &c, angle, shown, sizeof shown);
    ck_assert_str_eq(shown, "tore at 20°");
    c.bend.end = BEND_HELD;
    coupon_result(&session, &c, angle, shown, sizeof shown);
    ck_assert_str_eq(shown, "at least 20°");
    c.bend.end = BEND_BROKE;
    coupon_set_number(&c, "fused_share", measure_exact(40), NULL);
    coupon_result(&session, &c, share, shown, sizeof shown);
    ck_assert_str_eq(shown, "40 %");
    coupon_free(&c);
}
END_TEST

static const char lap_list[] =
    "Trial bench lap: 8 coupons\n"
    "\n"
    "Do gas, spool or the way the gun is held matter on 4 mm lap joints?\n"
    "\n"
    "mark  welded            changed since the one before          Bend angle\n"
    "01    2026-01-24 09:12  the first                             broke at 111°\n"
    "02    2026-01-24 09:25  contact tip to work and push or drag  at least 135°\n"
    "03    2026-01-24 09:41  wire lot and push or drag             tore at 122°\n"
    "04    2026-01-24 09:55  wire lot and gas                      broke at 104°\n"
    "05    2026-01-24 10:20  wire lot and push or drag             tore at 127°\n"
    "06    2026-01-24 10:33  contact tip to work and push or drag  at least 135°\n"
    "07    2026-01-24 10:47  wire lot and push or drag             broke at 116°\n"
    "08    2026-01-24 11:02  wire lot and gas                      at least 135°\n";

START_TEST(the_coupons_of_a_trial_are_listed)
{
    struct trial t;
    struct coupon c;

    ck_assert_int_eq(task_trial(&session, "bench lap", &t, &e), 0);
    ck_assert_int_eq(trial_page_coupons(&session, &t, false, &page, &e), 0);
    expect_page(lap_list);
    ck_assert_int_eq(task_coupon(&session, "bench lap/07", &c, &e), 0);
    ck_assert_int_eq(task_coupon_strike(&session, &c, "dropped", &e), 0);
    coupon_free(&c);
    ck_assert_int_eq(trial_page_coupons(&session, &t, false, &page, &e), 0);
    expect_in_page("Trial bench lap: 7 coupons\n");
    expect_not_in_page("2026-01-24 10:47");
    page_free(&page);
    ck_assert_int_eq(trial_page_coupons(&session, &t, true, &page, &e), 0);
    expect_in_page("Trial bench lap: 8 coupons\n");
    expect_in_page("struck out: dropped\n");
    /* from 06, as one struck out is none to compare with */
    expect_in_page("08    2026-01-24 11:02  gas and push or drag ");
    ck_assert_str_eq(page.blocks[2].rows[3].target, "04");
    trial_free(&t);
}
END_TEST

START_TEST(a_list_without_a_result_is_refused)
{
    struct trial t;

    ck_assert_int_eq(task_trial(&session, "bench lap", &t, &e), 0);
    t.result = mem_copy("volts");
    ck_assert_int_lt(trial_page_coupons(&session, &t, false, &page, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_USAGE);
    trial_free(&t);
    trial_init(&t);
    t.name = mem_copy("bare");
    ck_assert_int_eq(task_trial_save(&session, &t, &e), 0);
    ck_assert_int_eq(trial_page_coupons(&session, &t, false, &page, &e), 0);
    expect_in_page("Trial bare: 0 coupons\n");
    trial_free(&t);
}
END_TEST

START_TEST(a_trial_is_shown_with_its_levels)
{
    struct trial t;

    ck_assert_int_eq(task_trial(&session, "bench tee", &t, &e), 0);
    trial_page(&session, &t, &page);
    expect_in_page("Trial bench tee\n\n"
                   "Question: What makes the bench feet fold instead of break?\n\n"
                   "- Judged by bend_angle.\n"
                   "- Folding ends at 90°.\n"
                   "- Sides welded: one, both.\n"
                   "- Wire feed speed: 7 m/min, 8.5 m/min.\n"
                   "- Cleaning: as rolled, ground bright.\n"
                   "- Bead start: straight off, dwell.\n"
                   "- Wire lot: spool A, spool B.\n"
                   "- Gas: Ar 82 CO2 18, CO2.\n\n"
                   "Note: INVENTED for the demo");
    ck_assert_int_eq(page.blocks[page.count - 1].kind, BLOCK_CAUTION);
    ck_assert_str_eq(page.blocks[page.count - 1].text, caution_scope);
    page_free(&page);
    trial_free(&t);
    trial_init(&t);
    t.name = mem_copy("bare");
    t.result = mem_copy("fused_share");
    level_set_add(trial_set_for(&t, "gone"), "a");
    ck_assert_int_eq(task_trial_save(&session, &t, &e), 0);
    trial_page(&session, &t, &page);
    expect_page("Trial bare\n\n- Judged by fused_share.\n- gone: a.\n");
    trial_free(&t);
}
END_TEST

START_TEST(all_trials_are_listed)
{
    struct session empty;
    struct trial t;
    char *other = mem_format("%s/e.coldlap", folder), *expected;

    ck_assert_int_eq(session_open(&empty, other, BOOK_CREATE, &e), 0);
    ck_assert_int_eq(trial_page_all(&empty, false, &page, &e), 0);
    ck_assert_uint_eq(page.count, 1);
    expected = mem_format("0 trials in %s\n", other);
    expect_page(expected);
    free(expected);
    trial_init(&t);
    t.name = mem_copy("one");
    t.result = mem_copy("fused_share");
    ck_assert_int_eq(task_trial_save(&empty, &t, &e), 0);
    ck_assert_int_eq(trial_page_all(&empty, false, &page, &e), 0);
    expected =
        mem_format("1 trial in %s\n\ntrial  judged by    question\none    fused_share\n", other);
    expect_page(expected);
    free(expected);
    trial_free(&t);
    session_close(&empty);
    ck_assert_int_eq(trial_page_all(&session, false, &page, &e), 0);
    expect_in_page("2 trials in ");
    expect_in_page("trial      judged by   question\n"
                   "bench lap  bend_angle  Do gas, spool or the way the gun is held matter");
    ck_assert_str_eq(page.blocks[1].rows[1].target, "bench tee");
    free(other);
}
END_TEST

/* The row of a key: "kind, unit, what it is". */
static char *variable_row(const char *key)
{
    const struct block *table = &page.blocks[1];

    for (size_t i = 0; i < table->row_count; i++)
        if (strcmp(table->rows[i].cells[0], key) == 0) {
            ck_assert_str_eq(table->rows[i].target, key);
            return mem_format("%s, %s, %s", table->rows[i].cells[1], table->rows[i].cells[2],
                              table->rows[i].cells[3]);
        }
    return NULL;
}

static void expect_variable(const char *key, const char *start)
{
    char *row = variable_row(key);

    ck_assert_ptr_nonnull(row);
    ck_assert_msg(strncmp(row, start, strlen(start)) == 0, "%s", row);
    free(row);
}

START_TEST(variables_are_listed)
{
    struct variable own = {.key = "phase", .label = "Phase", .kind = VARIABLE_NUMBER, .unit = "W"};

    ck_assert_int_eq(task_variable_add(&session, &own, &e), 0);
    ck_assert_int_lt(task_variable_add(&session, &own, &e), 0);
    task_variable_page(&session, &page);
    ck_assert_str_eq(page.blocks[0].text, "What can be said about a coupon");
    ck_assert_uint_eq(page.blocks[1].row_count, session.variables.count);
    expect_variable("volts", "number, V, ");
    expect_variable("joint", "category, , ");
    expect_variable("bend_angle", "result, °, ");
    expect_variable("heat_input", "worked out, kJ/mm, ");
    expect_variable("phase", "own number, W, Phase");
    session_close(&session);
    ck_assert_int_eq(session_open(&session, path, BOOK_WRITE, &e), 0);
    ck_assert_ptr_nonnull(variable_find(&session.variables, "phase"));
}
END_TEST

static void expect_questions(const struct coupon *c, const struct coupon *last,
                             const char *expected)
{
    coupon_questions(&session, c, last, &page);
    if (*expected == '\0')
        ck_assert_uint_eq(page.count, 0);
    else
        expect_page(expected);
}

START_TEST(a_single_pass_wire_in_two_passes_is_asked_about)
{
    struct coupon c;

    coupon_init(&c);
    coupon_set_category(&c, "wire_class", "E71T-GS");
    coupon_add_pass(&c)->arc_s = 10;
    expect_questions(&c, NULL, "");
    coupon_add_pass(&c)->arc_s = 10;
    expect_questions(&c, NULL,
                     "- E71T-GS is classed for a single pass; this coupon has 2. Is that meant?\n");
    coupon_set_category(&c, "wire_class", "E71TGS");
    expect_questions(&c, NULL,
                     "- E71TGS is classed for a single pass; this coupon has 2. Is that meant?\n");
    coupon_set_category(&c, "wire_class", "E71T-1");
    expect_questions(&c, NULL, "");
    coupon_free(&c);
}
END_TEST

START_TEST(an_unusual_value_is_asked_about_until_it_was_answered)
{
    struct coupon c, last;

    coupon_init(&c);
    coupon_init(&last);
    last.mark = mem_copy("01");
    coupon_set_number(&c, "volts", measure_exact(70), NULL);
    coupon_questions(&session, &c, NULL, &page);
    ck_assert_uint_eq(page.count, 1);
    ck_assert_ptr_nonnull(strstr(page.blocks[0].text, "70 V"));
    page_free(&page);
    coupon_questions(&session, &c, &last, &page);
    ck_assert_uint_eq(page.count, 1);
    page_free(&page);
    coupon_set_number(&last, "volts", measure_exact(70), NULL);
    expect_questions(&c, &last, "");
    coupon_set_category(&c, "joint", "lap");
    expect_questions(&c, &last, ""); /* one change tells what it did */
    coupon_set_category(&c, "position", "PA");
    expect_questions(
        &c, &last,
        "- two things differ from 01: joint and position; what each did cannot be told "
        "from these two alone.\n");
    coupon_free(&last);
    coupon_free(&c);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("app/pages");
    TCase *t = tcase_create("pages");

    tcase_add_checked_fixture(t, begin, end);
    tcase_add_test(t, a_coupon_is_shown_whole);
    tcase_add_test(t, a_coupon_of_which_little_is_known_is_shown);
    tcase_add_test(t, a_result_is_told_in_words);
    tcase_add_test(t, the_coupons_of_a_trial_are_listed);
    tcase_add_test(t, a_list_without_a_result_is_refused);
    tcase_add_test(t, a_trial_is_shown_with_its_levels);
    tcase_add_test(t, all_trials_are_listed);
    tcase_add_test(t, variables_are_listed);
    tcase_add_test(t, a_single_pass_wire_in_two_passes_is_asked_about);
    tcase_add_test(t, an_unusual_value_is_asked_about_until_it_was_answered);
    suite_add_tcase(s, t);
    return s;
}
