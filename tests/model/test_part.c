/* Passes, bends, flaws: what their rows take, refuse, ask about, and keep. */
#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "model/coupon.h"
#include "model/part.h"

static struct error error;
static struct intake in = {.units = UNITS_METRIC, .error = &error};

static const struct part_row *row_of(const struct part_row *rows, const char *label)
{
    for (; rows->key != NULL; rows++)
        if (strcmp(rows->as.label, label) == 0)
            return rows;
    ck_abort_msg("no row is called %s", label);
    return NULL;
}

static int take(const struct part_row *row, void *base, const char *text, bool sure)
{
    error = (struct error){0};
    in.sure = sure;
    return part_set_from_text(row, base, text, &in);
}

START_TEST(numbers_come_with_units_and_limits)
{
    struct coupon c;
    struct pass *p;

    coupon_init(&c);
    p = coupon_add_pass(&c);
    ck_assert_int_eq(take(row_of(part_pass_rows, "Arc time"), p, "1m20s", false), 0);
    ck_assert_double_eq(p->arc_s, 80);
    ck_assert_int_eq(take(row_of(part_pass_rows, "Length"), p, "4in", false), 0);
    ck_assert_double_eq_tol(p->length_mm, 101.6, 1e-9);
    ck_assert_int_eq(take(row_of(part_pass_rows, "Volts"), p, "400", true), -1);
    ck_assert_ptr_nonnull(strstr(error.text, "cannot be"));
    ck_assert(isnan(p->volts));
    ck_assert_int_eq(take(row_of(part_pass_rows, "Volts"), p, "40 mm", true), -1);
    ck_assert(isnan(p->volts));
    ck_assert_int_eq(take(row_of(part_pass_rows, "Arc time"), p, "", false), 0);
    ck_assert(isnan(p->arc_s));
    coupon_free(&c);
}
END_TEST

START_TEST(an_unusual_number_waits_for_an_answer)
{
    struct coupon c;
    struct pass *p;

    coupon_init(&c);
    p = coupon_add_pass(&c);
    ck_assert_int_eq(take(row_of(part_pass_rows, "Volts"), p, "40", false), 0);
    ck_assert_ptr_nonnull(strstr(in.question, "unusual"));
    ck_assert(isnan(p->volts));
    ck_assert_int_eq(take(row_of(part_pass_rows, "Volts"), p, "40", true), 0);
    ck_assert_double_eq(p->volts, 40);
    coupon_free(&c);
}
END_TEST

START_TEST(words_may_be_shortened_while_they_are_clear)
{
    const struct part_row *ended = row_of(part_bend_rows, "How it ended");
    struct bend bend = {.end = BEND_NOT_DONE};

    ck_assert_int_eq(take(ended, &bend, "held", false), 0);
    ck_assert_int_eq(bend.end, BEND_HELD);
    ck_assert_int_eq(take(ended, &bend, "BROKE", false), 0);
    ck_assert_int_eq(bend.end, BEND_BROKE);
    ck_assert_int_eq(take(ended, &bend, "melted", false), -1);
    ck_assert_str_eq(error.text, "How it ended: 'melted' is none of not bent yet, broke in two, "
                                 "tore, held to the stop");
    ck_assert_int_eq(bend.end, BEND_BROKE);
    ck_assert_int_eq(take(ended, &bend, "", false), 0);
    ck_assert_int_eq(bend.end, BEND_NOT_DONE);
}
END_TEST

START_TEST(words_may_be_the_codes_of_the_book)
{
    static const struct {
        const char *typed;
        enum bend_direction meant;
    } good[] = {{"root", BEND_ROOT_OPENING},
                {"root opening", BEND_ROOT_OPENING},
                {"root_opening", BEND_ROOT_OPENING},
                {"Face-Opening", BEND_FACE_OPENING},
                {"side", BEND_SIDE},
                {"sideways", BEND_SIDE},
                {"unknown", BEND_DIRECTION_UNKNOWN},
                {"", BEND_DIRECTION_UNKNOWN}};
    const struct part_row *direction = row_of(part_bend_rows, "Folded towards");
    struct bend bend = {.direction = BEND_ROOT_OPENING};

    for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
        ck_assert_msg(take(direction, &bend, good[i].typed, false) == 0, "%s", error.text);
        ck_assert_int_eq(bend.direction, good[i].meant);
    }
    ck_assert_int_eq(take(direction, &bend, "openings", false), -1);
}
END_TEST

START_TEST(a_side_is_one_or_two)
{
    const struct part_row *side = row_of(part_pass_rows, "Side");
    struct pass pass = {.side = 2};

    ck_assert_int_eq(take(side, &pass, "3", false), -1);
    ck_assert_str_eq(error.text, "Side: '3' is none of 1, 2");
    ck_assert_int_eq(take(side, &pass, "0", false), -1);
    ck_assert_int_eq(pass.side, 2);
    ck_assert_int_eq(take(side, &pass, "1", false), 0);
    ck_assert_int_eq(pass.side, 1);
    ck_assert_int_eq(take(side, &pass, "", false), 0);
    ck_assert_int_eq(pass.side, 0);
}
END_TEST

/* A bead is 100 mm or 4 in; 4 in a metric book is asked about, and the inch named. */
START_TEST(a_bare_number_may_be_meant_in_the_other_system)
{
    const struct part_row *length = row_of(part_pass_rows, "Length");
    struct pass pass = {.length_mm = NAN};

    ck_assert_int_eq(take(length, &pass, "4", false), 0);
    ck_assert_str_eq(in.question, "Length: 4 mm is unusual, mostly it is 10 mm to 2000 mm; "
                                  "if you mean in, write 4 in");
    ck_assert(isnan(pass.length_mm));
    ck_assert_int_eq(take(length, &pass, "4 mm", false), 0);
    ck_assert_str_eq(in.question, "Length: 4 mm is unusual, mostly it is 10 mm to 2000 mm");
    ck_assert_int_eq(take(row_of(part_pass_rows, "Wire feed speed"), &pass, "200", true), -1);
    ck_assert_ptr_nonnull(strstr(error.text, "if you mean in/min, write 200 in/min"));
}
END_TEST

START_TEST(a_quantity_read_already_is_held_against_the_same_limits)
{
    const struct part_row *to = row_of(part_flaw_rows, "To");
    struct flaw flaw = {NAN, NAN, 0, NULL};
    struct quantity q = {12, unit_shown(DIM_LENGTH, UNITS_METRIC), true, ""};

    ck_assert_int_eq(
        part_set_quantity(to, &flaw, &q, &(struct intake){.sure = false, .error = &error}), 0);
    ck_assert_str_eq(in.question, "");
    ck_assert_double_eq(flaw.to_mm, 12);
    q.value = -1;
    ck_assert_int_eq(
        part_set_quantity(to, &flaw, &q, &(struct intake){.sure = true, .error = &error}), -1);
    ck_assert_double_eq(flaw.to_mm, 12);
}
END_TEST

/* What cannot be, and what a bench has, in base units. */
static const struct {
    const struct part_row *rows;
    const char *key;
    struct range can, usual;
} limits[] = {
    {part_pass_rows, "arc", {0.1, 36000}, {2, 900}},
    {part_pass_rows, "length", {0.1, 100000}, {10, 2000}},
    {part_pass_rows, "volts", {5, 60}, {13, 36}},
    {part_pass_rows, "amps", {5, 1000}, {30, 400}},
    {part_pass_rows, "feed", {300, 30000}, {1000, 18000}},
    {part_pass_rows, "start", {-60, 1200}, {-10, 350}},
    {part_pass_rows, "pause", {0, 864000}, {0, 7200}},
    {part_bend_rows, "before", {0, 360}, {20, 180}},
    {part_bend_rows, "after", {0, 360}, {0, 180}},
    {part_bend_rows, "gap-before", {0, 10000}, {5, 600}},
    {part_bend_rows, "gap-after", {0, 10000}, {0, 600}},
    {part_bend_rows, "leg", {0.1, 10000}, {20, 400}},
    {part_bend_rows, "former", {0.1, 10000}, {4, 200}},
    {part_bend_rows, "radius", {0, 10000}, {0.5, 200}},
    {part_bend_rows, "crack", {0, 270}, {0, 180}},
    {part_bend_rows, "load", {0, 1e7}, {1, 200000}},
    {part_bend_rows, "lever", {0.1, 10000}, {20, 3000}},
    {part_flaw_rows, "from", {0, 100000}, {0, 2000}},
    {part_flaw_rows, "to", {0, 100000}, {0, 2000}},
    {part_face_rows, "face", {0.1, 100000}, {10, 2000}},
};

static void check_number(const struct part_row *row, double value, bool good, bool asks)
{
    union {
        struct pass pass;
        struct bend bend;
        struct flaw flaw;
        struct coupon coupon;
    } base;
    struct quantity q = {.value = value};
    double *to = (double *)(void *)((char *)&base + row->offset);
    int rc;

    *to = -7;
    in = (struct intake){.sure = true, .error = &error};
    rc = part_set_quantity(row, &base, &q, &in);
    ck_assert_msg((rc == 0) == good, "%s: %g", row->key, value);
    ck_assert_msg((in.question[0] != '\0') == asks, "%s: %g: '%s'", row->key, value, in.question);
    ck_assert_double_eq(*to, good ? value : -7);
}

START_TEST(limits_hold_up_to_their_ends)
{
    const struct part_row *row = part_find(limits[_i].rows, limits[_i].key);
    struct range can = limits[_i].can, usual = limits[_i].usual;

    check_number(row, usual.low, true, false);
    check_number(row, usual.high, true, false);
    check_number(row, can.low, true, can.low != usual.low);
    check_number(row, can.high, true, can.high != usual.high);
    check_number(row, nextafter(can.low, -INFINITY), false, true);
    check_number(row, nextafter(can.high, INFINITY), false, true);
    if (usual.low != can.low)
        check_number(row, nextafter(usual.low, -INFINITY), true, true);
    if (usual.high != can.high)
        check_number(row, nextafter(usual.high, INFINITY), true, true);
}
END_TEST

/* What a draft holds is read only where it could have been typed. */
START_TEST(whole_numbers_are_read_within_their_bounds)
{
    static const struct {
        const char *written;
        int read; /* 7: the row stays as it was */
    } numbers[] = {{"0", 0}, {"9999", 9999}, {"10000", 7}, {"-1", 7}, {"401.5", 7}, {"nan", 7}};
    const struct part_row *row = part_find(part_flaw_rows, "number");

    for (size_t i = 0; i < sizeof numbers / sizeof *numbers; i++) {
        struct flaw flaw = {.iso6520 = 7};

        part_read(row, &flaw, numbers[i].written);
        ck_assert_int_eq(flaw.iso6520, numbers[i].read);
    }
}
END_TEST

START_TEST(only_words_and_flaws_are_chosen)
{
    char *choices = part_choices(part_find(part_bend_rows, "ended"));

    ck_assert_str_eq(choices, "not bent yet|broke in two|tore|held to the stop");
    free(choices);
    choices = part_choices(part_find(part_flaw_rows, "number"));
    ck_assert_int_eq(strncmp(choices, "401 lack of fusion|4011 ", 23), 0);
    free(choices);
    ck_assert_ptr_null(part_choices(part_find(part_pass_rows, "volts")));
    ck_assert_ptr_null(part_choices(part_find(part_flaw_rows, "note")));
    ck_assert_ptr_null(part_choices(part_find(part_coupon_rows, "when")));
}
END_TEST

/* What is the same thing has the same limits on the card and in its passes. */
START_TEST(passes_have_the_limits_of_the_variables)
{
    int same = 0;

    for (const struct part_row *row = part_pass_rows; row->key != NULL; row++)
        for (size_t i = 0; i < variable_table_count; i++) {
            const struct variable *v = &variable_table[i];

            if (strcmp(v->label, row->as.label) != 0)
                continue;
            ck_assert_int_eq(row->as.dimension, v->dimension);
            ck_assert_double_eq(row->as.can.low, v->can.low);
            ck_assert_double_eq(row->as.can.high, v->can.high);
            ck_assert_double_eq(row->as.usual.low, v->usual.low);
            ck_assert_double_eq(row->as.usual.high, v->usual.high);
            same++;
        }
    ck_assert_int_eq(same, 3);
}
END_TEST

/* The first crack shows at a bend angle: on the card as in a table it ends where that may. */
START_TEST(a_crack_shows_at_any_bend_angle)
{
    const struct part_row *row = part_find(part_bend_rows, "crack");
    const struct variable *angle = NULL, *crack = NULL;

    for (size_t i = 0; i < variable_table_count; i++) {
        if (strcmp(variable_table[i].key, "bend_angle") == 0)
            angle = &variable_table[i];
        if (strcmp(variable_table[i].key, "first_crack_angle") == 0)
            crack = &variable_table[i];
    }
    ck_assert_double_eq(crack->can.high, angle->can.high);
    ck_assert_double_eq(row->as.can.high, angle->can.high);
    ck_assert_double_eq(row->as.usual.high, angle->usual.high);
}
END_TEST

/* No row can refuse what it calls usual, and every key of a table is another. */
START_TEST(every_row_is_whole)
{
    const struct part_row *const tables[] = {part_pass_rows, part_bend_rows,  part_flaw_rows,
                                             part_face_rows, part_photo_rows, part_coupon_rows,
                                             part_note_rows};

    for (size_t i = 0; i < sizeof tables / sizeof *tables; i++)
        for (const struct part_row *row = tables[i]; row->key != NULL; row++) {
            ck_assert_msg(part_find(tables[i], row->key) == row, "%s", row->key);
            ck_assert_msg(row->as.help != NULL && *row->as.help != '\0', "%s", row->key);
            ck_assert_msg(row->kind == PART_NUMBER
                              ? row->as.can.low <= row->as.usual.low &&
                                    row->as.usual.low < row->as.usual.high &&
                                    row->as.usual.high <= row->as.can.high
                              : range_open(row->as.can) && range_open(row->as.usual),
                          "%s", row->key);
        }
    ck_assert_ptr_eq(part_find(part_bend_rows, "Gap-After"),
                     row_of(part_bend_rows, "Tip gap after"));
    ck_assert_ptr_null(part_find(part_bend_rows, "gap"));
}
END_TEST

START_TEST(flaws_go_by_their_number)
{
    const struct part_row *number = row_of(part_flaw_rows, "ISO 6520-1 number");
    struct flaw flaw = {NAN, NAN, 0, NULL};
    char *shown;

    ck_assert_int_eq(take(number, &flaw, "4013 lack of root fusion", false), 0);
    ck_assert_int_eq(flaw.iso6520, 4013);
    shown = part_show(number, &flaw, UNITS_METRIC);
    ck_assert_str_eq(shown, "4013 lack of root fusion");
    free(shown);
    ck_assert_int_eq(take(number, &flaw, "cold", false), -1);
    ck_assert_int_eq(take(number, &flaw, "7", false), -1);
    ck_assert_int_eq(take(number, &flaw, "4013x", false), -1);
    ck_assert_int_eq(flaw.iso6520, 4013);
    ck_assert_int_eq(take(number, &flaw, "3333", false), 0);
    ck_assert_ptr_nonnull(strstr(in.question, "is the number right?"));
    ck_assert_int_eq(flaw.iso6520, 4013);
    ck_assert_int_eq(take(number, &flaw, "3333", true), 0);
    ck_assert_int_eq(flaw.iso6520, 3333);
    ck_assert_int_eq(take(number, &flaw, "", false), 0);
    ck_assert_str_eq(in.question, "");
    ck_assert_int_eq(flaw.iso6520, 0);
}
END_TEST

/* Refused at the field, and what was wrong before can be mended step by step. */
START_TEST(a_flaw_lies_on_the_face)
{
    const struct part_row *face = row_of(part_face_rows, "Length of face read"),
                          *from = row_of(part_flaw_rows, "From"),
                          *to = row_of(part_flaw_rows, "To");
    struct coupon c;
    struct flaw *f;

    coupon_init(&c);
    f = coupon_add_flaw(&c);
    in.sure = true;
    ck_assert_int_eq(coupon_set_part(&c, face, &c, "2in", &in), 0);
    ck_assert_int_eq(coupon_set_part(&c, to, f, "50.8", &in), 0);
    ck_assert_int_eq(coupon_set_part(&c, to, f, "50.9", &in), -1);
    ck_assert_str_eq(error.text, "a flaw ends at 50.9 mm, but the face is 50.8 mm long");
    ck_assert_double_eq(f->to_mm, 50.8);
    ck_assert_int_eq(coupon_set_part(&c, from, f, "50.9", &in), -1);
    ck_assert_str_eq(error.text, "a flaw ends at 50.8 mm, but begins at 50.9 mm");
    ck_assert(isnan(f->from_mm));
    ck_assert_int_eq(coupon_set_part(&c, from, f, "50.8", &in), 0);
    ck_assert_int_eq(coupon_set_part(&c, face, &c, "50", &in), -1);
    ck_assert_double_eq_tol(c.bead_mm, 50.8, 1e-9);
    ck_assert_int_eq(coupon_set_part(&c, row_of(part_flaw_rows, "Note"), f, "x", &in), 0);
    c.bead_mm = 20;
    ck_assert_int_eq(coupon_check_face(&c, UNITS_INCH, &error), -1);
    ck_assert_str_eq(error.text, "a flaw ends at 2 in, but the face is 0.787 in long");
    ck_assert_int_eq(coupon_set_part(&c, face, &c, "30", &in), 0);
    ck_assert_int_eq(coupon_set_part(&c, from, f, "10", &in), 0);
    ck_assert_int_eq(coupon_set_part(&c, to, f, "15", &in), 0);
    ck_assert_int_eq(coupon_set_part(&c, face, &c, "", &in), 0);
    ck_assert_int_eq(coupon_set_part(&c, to, f, "1000", &in), 0);
    coupon_free(&c);
}
END_TEST

START_TEST(days_and_times)
{
    const struct part_row *welded = row_of(part_coupon_rows, "Welded");
    struct coupon c;
    char *shown;

    coupon_init(&c);
    ck_assert(clock_parse("2026-03-07T14:05:00+01:00", &c.when));
    ck_assert_int_eq(take(welded, &c, "2026-03-08 09:30", false), 0);
    shown = part_show(welded, &c, UNITS_METRIC);
    ck_assert_str_eq(shown, "2026-03-08 09:30");
    free(shown);
    ck_assert_int_eq(c.when.offset_minutes, 60);
    ck_assert_int_eq(take(welded, &c, "2026-03-09", false), 0);
    shown = part_show(welded, &c, UNITS_METRIC);
    ck_assert_str_eq(shown, "2026-03-09 12:00");
    free(shown);
    c.when = (struct instant){INT64_MAX, 60}; /* from another program: it can be put right */
    ck_assert_int_eq(take(welded, &c, "2026-03-08 09:30", false), 0);
    shown = part_show(welded, &c, UNITS_METRIC);
    ck_assert_str_eq(shown, "2026-03-08 09:30");
    free(shown);
    ck_assert_int_eq(take(welded, &c, "yesterday", false), -1);
    ck_assert_int_eq(take(welded, &c, "2026-02-30", false), -1);
    ck_assert_int_eq(take(welded, &c, "", false), -1);
    coupon_free(&c);
}
END_TEST

/* A tenth cannot be written in decimals without loss; the written form keeps every bit. */
START_TEST(nothing_is_lost_in_writing)
{
    struct coupon c;
    struct pass *p, copy;

    coupon_init(&c);
    p = coupon_add_pass(&c);
    p->arc_s = 0.1 + 0.2;
    p->length_mm = 25.4 / 3;
    p->side = 2;
    copy = (struct pass){p->number, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    for (const struct part_row *row = part_pass_rows; row->key != NULL; row++) {
        char *written = part_write(row, p);

        if (written != NULL)
            part_read(row, &copy, written);
        free(written);
    }
    ck_assert_double_eq(copy.arc_s, p->arc_s);
    ck_assert_double_eq(copy.length_mm, p->length_mm);
    ck_assert_int_eq(copy.side, 2);
    ck_assert(isnan(copy.volts));
    coupon_free(&c);
}
END_TEST

START_TEST(only_a_note_has_lines)
{
    const struct part_row *note = row_of(part_note_rows, "Note");
    struct coupon c, copy;
    char *written;

    coupon_init(&c);
    coupon_init(&copy);
    ck_assert_int_eq(take(row_of(part_coupon_rows, "Logged by"), &c, "day\nshift", true), -1);
    ck_assert_ptr_null(c.who);
    ck_assert_int_eq(take(note, &c, "one\ntwo", true), 0);
    written = part_write(note, &c);
    part_read(note, &copy, written);
    ck_assert_str_eq(copy.note, "one\ntwo");
    free(written);
    coupon_free(&copy);
    coupon_free(&c);
}
END_TEST

START_TEST(a_part_in_one_line)
{
    struct coupon c;
    char *line;

    coupon_init(&c);
    coupon_add_pass(&c);
    line = part_summary(part_pass_rows, &c.passes[0], UNITS_METRIC);
    ck_assert_str_eq(line, "nothing said yet");
    free(line);
    c.passes[0].side = 1;
    c.passes[0].arc_s = 35;
    c.passes[0].volts = 18.5;
    line = part_summary(part_pass_rows, &c.passes[0], UNITS_METRIC);
    ck_assert_str_eq(line, "side 1, arc 35 s, 18.5 V");
    free(line);
    coupon_free(&c);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("model/part");
    TCase *t = tcase_create("part");

    tcase_add_test(t, numbers_come_with_units_and_limits);
    tcase_add_test(t, an_unusual_number_waits_for_an_answer);
    tcase_add_test(t, words_may_be_shortened_while_they_are_clear);
    tcase_add_test(t, words_may_be_the_codes_of_the_book);
    tcase_add_test(t, a_side_is_one_or_two);
    tcase_add_test(t, a_bare_number_may_be_meant_in_the_other_system);
    tcase_add_test(t, a_quantity_read_already_is_held_against_the_same_limits);
    tcase_add_loop_test(t, limits_hold_up_to_their_ends, 0, sizeof limits / sizeof *limits);
    tcase_add_test(t, whole_numbers_are_read_within_their_bounds);
    tcase_add_test(t, only_words_and_flaws_are_chosen);
    tcase_add_test(t, passes_have_the_limits_of_the_variables);
    tcase_add_test(t, a_crack_shows_at_any_bend_angle);
    tcase_add_test(t, every_row_is_whole);
    tcase_add_test(t, flaws_go_by_their_number);
    tcase_add_test(t, a_flaw_lies_on_the_face);
    tcase_add_test(t, days_and_times);
    tcase_add_test(t, nothing_is_lost_in_writing);
    tcase_add_test(t, only_a_note_has_lines);
    tcase_add_test(t, a_part_in_one_line);
    suite_add_tcase(s, t);
    return s;
}
