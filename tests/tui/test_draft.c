/* Drafts that nobody's card led to: the book or the file may come from anybody. */
#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "tui/screen/draft.h"

static struct variable_list variables;
static struct draft draft;

static void set_up(void)
{
    variable_list_init(&variables);
}

static void tear_down(void)
{
    draft_free(&draft);
    variable_list_free(&variables);
}

static void read_draft(const char *text)
{
    char *copy = mem_copy(text);

    draft_read(&variables, copy, &draft);
    free(copy);
}

static char *written(void)
{
    struct text accepted = {0}, typed = {0};
    char *all;

    draft_write(&draft, &accepted, &typed);
    all = mem_format("%s|%s", text_str(&accepted), text_str(&typed));
    text_free(&accepted);
    text_free(&typed);
    return all;
}

START_TEST(a_backslash_at_the_end_ends_there)
{
    read_draft("coupon.who Kai\\\ncoupon.note two\\nlines \\\\ and\\\nwriting 4\\");
    ck_assert_str_eq(draft.coupon.who, "Kai");
    ck_assert_str_eq(draft.coupon.note, "two\nlines \\ and");
    ck_assert_str_eq(draft.writing, "4");
}
END_TEST

START_TEST(numbers_that_stand_for_nothing_are_passed_over)
{
    const struct coupon *c = &draft.coupon;

    read_draft("pass new\npass.side 2\npass.side 3\npass.side -1\npass.side 4294967297\n"
               "pass.volts 0x1.2p+4\npass.volts nan\npass.volts inf\npass.volts 400\n"
               "bend.end 3\nbend.end 4\nbend.end -7\nbend.direction 1\nbend.direction 1.5\n"
               "flaw new\nflaw.iso6520 4013\nflaw.iso6520 99999\nflaw.iso6520 -1\n"
               "field -3 99999999999999999999\nrevision -1\nsequence 99999999999999999999\n");
    ck_assert_int_eq(c->passes[0].side, 2);
    ck_assert_double_eq(c->passes[0].volts, 18);
    ck_assert_int_eq(c->bend.end, BEND_HELD);
    ck_assert_int_eq(c->bend.direction, BEND_ROOT_OPENING);
    ck_assert_int_eq(c->flaws[0].iso6520, 4013);
    ck_assert(draft.part == 0 && draft.index == 0 && c->revision == 0 && c->sequence == 0);
}
END_TEST

START_TEST(values_no_card_has_are_passed_over)
{
    read_draft("value volts exact nan nan 18 V\nvalue volts exact inf inf\n"
               "value volts exact 0x1p+9 0x1p+9 512 V\nvalue volts at_least 0x1p+4 inf\n"
               "value volts exact 0x1p+4 0x1p+5\nvalue volts category nan nan words\n"
               "value gas exact 1 1 1\nvalue nobody exact 1 1\nvalue polarity category 0 0 plus\n"
               "value bend_angle between 0x1p+4 0x1p+2 x\nvalue volts\nvalue\n"
               "value bend_angle at_most 0x1p+4 0x1p+4\nvalue bend_angle at_most -inf 0x1p+9\n");
    ck_assert_uint_eq(draft.coupon.value_count, 0);
}
END_TEST

START_TEST(parts_are_made_before_they_are_filled)
{
    read_draft("pass.arc_s 5\nflaw.note x\nphoto.sha256 y\nphoto.note z\n.\nphoto.\nbend.");
    ck_assert_uint_eq(draft.coupon.pass_count, 0);
    ck_assert_uint_eq(draft.coupon.flaw_count, 0);
    ck_assert_uint_eq(draft.coupon.photo_count, 0);
}
END_TEST

/* What a card can hold comes back as it was. */
START_TEST(a_card_is_read_back_whole)
{
    static const char whole[] =
        "id 018f0000-0000-7000-8000-000000000001\ntrial 018f0000-0000-7000-8000-000000000002\n"
        "revision 3\nsequence 7\nstruck wrong\\nwire\noffered 07\ncoupon.mark 07\n"
        "coupon.when 2026-03-07T14:05:00+01:00\ncoupon.face_read 1\ncoupon.note a\\nb\n"
        "bend.end 2\nbend.direction 3\nbend.after_deg 0x1.68p+6\n"
        "value bend_angle at_least 0x1.0ep+7 inf at least 135°\n"
        "value first_crack_angle at_most -inf 0x1.8p+5 at most 48°\n"
        "value fused_share between 0x1.4p+4 0x1.4p+5 20..40 %\n"
        "value gas category nan nan Ar 82 CO2 18\nvalue volts exact 0x1.2p+4 0x1.2p+4 18 V\n"
        "pass new\npass.side 2\npass.arc_s 0x1.4p+6\nflaw new\nflaw.from_mm 0x0p+0\n"
        "flaw.iso6520 4013\nflaw.note cold start\nphoto new\nphoto.path face.jpg\nphoto.sha256 "
        "73cb\n"
        "photo.note root side up\n";
    char *text, *should = mem_format("%s|%s", whole, "");

    read_draft(whole);
    text = written();
    ck_assert_str_eq(text, should);
    free(text);
    free(should);
}
END_TEST

/* What is typed is added behind, again and again. */
START_TEST(the_last_that_was_typed_counts)
{
    const struct answer *a = draft.answers;
    char *text;

    read_draft("typing\nfield 2 8 1\nwriting 4\nquestion Why?\nanswer so\n"
               "typing\nfield 9 1 3\nwriting 5\\\\\n");
    text = written();
    ck_assert_ptr_nonnull(strstr(text, "|field 9 1 3\nwriting 5\\\\\n"));
    ck_assert_ptr_null(a[0].question);
    free(text);
    draft_free(&draft);
    read_draft("writing 4\ntyping\nanswer none\nquestion Why?\nanswer so\nquestion Who?\n"
               "answer me\nquestion When?\nanswer now\n");
    ck_assert_ptr_null(draft.writing);
    ck_assert_str_eq(a[0].question, "Why?");
    ck_assert_str_eq(a[0].text, "so");
    ck_assert_str_eq(a[1].question, "Who?");
    ck_assert_str_eq(a[1].text, "me");
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("tui/draft");
    TCase *t = tcase_create("draft");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_test(t, a_backslash_at_the_end_ends_there);
    tcase_add_test(t, numbers_that_stand_for_nothing_are_passed_over);
    tcase_add_test(t, values_no_card_has_are_passed_over);
    tcase_add_test(t, parts_are_made_before_they_are_filled);
    tcase_add_test(t, a_card_is_read_back_whole);
    tcase_add_test(t, the_last_that_was_typed_counts);
    suite_add_tcase(s, t);
    return s;
}
