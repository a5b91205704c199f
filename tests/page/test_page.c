#include "run.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "page/cautions.h"
#include "page/page.h"

static void small_table(struct page *p)
{
    struct block *table =
        PAGE_TABLE(p, {.title = "mark"}, {.title = "what was changed"},
                   {.title = "result", .right = true}, {.title = "who", .rank = 1});

    PAGE_ROW(table, "07", "07", "wire diameter and travel speed", "at least 135°", "bench two");
}

START_TEST(sentences_wrap_at_spaces)
{
    struct page p = {0};
    struct page_lines lines;

    page_add(&p, BLOCK_ANSWER, "Welding both sides raised the bend angle most.");
    page_layout(&p, 20, &lines);
    ck_assert_uint_eq(lines.count, 3);
    ck_assert_str_eq(lines.items[0].text, "Welding both sides");
    ck_assert_str_eq(lines.items[1].text, "raised the bend");
    ck_assert_str_eq(lines.items[2].text, "angle most.");
    page_lines_free(&lines);
    page_free(&p);
}
END_TEST

START_TEST(a_narrow_table_drops_the_least_wanted_column_then_wraps)
{
    struct page p = {0};
    struct page_lines lines;

    small_table(&p);
    page_layout(&p, 100, &lines);
    ck_assert_uint_eq(lines.count, 2);
    ck_assert(lines.items[0].head);
    ck_assert_str_eq(lines.items[0].text,
                     "mark  what was changed                       result  who");
    ck_assert_str_eq(lines.items[1].target, "07");
    page_lines_free(&lines);
    page_layout(&p, 40, &lines);
    ck_assert_uint_eq(lines.count, 3);
    ck_assert_str_eq(lines.items[1].text, "07    wire diameter and    at least 135°");
    ck_assert_str_eq(lines.items[2].text, "      travel speed");
    page_lines_free(&lines);
    page_free(&p);
}
END_TEST

START_TEST(no_line_is_wider_than_asked)
{
    struct page p = {0};

    page_add(&p, BLOCK_TITLE, "Ranking");
    page_add(&p, BLOCK_CAUTION, "Averyverylongwordthatdoesnotfitanywhere, with more behind it");
    page_add(&p, BLOCK_ITEM, "ångström åäö ° ° ° °\nand a second line");
    for (int width = 12; width < 60; width++) {
        struct page_lines lines;

        page_layout(&p, width, &lines);
        for (size_t i = 0; i < lines.count; i++)
            ck_assert_int_le(text_width(lines.items[i].text), width);
        page_lines_free(&lines);
    }
    page_free(&p);
}
END_TEST

/* Every line of the page at this width, with a line feed behind each. */
static char *lines_of(const struct page *p, int width)
{
    struct page_lines lines;
    struct text all = {0};

    page_layout(p, width, &lines);
    for (size_t i = 0; i < lines.count; i++)
        text_addf(&all, "%s\n", lines.items[i].text);
    page_lines_free(&lines);
    return text_steal(&all);
}

static void assert_lines(const struct page *p, int width, const char *expected)
{
    char *lines = lines_of(p, width);

    ck_assert_str_eq(lines, expected);
    free(lines);
}

START_TEST(blocks_are_set_apart_and_items_stand_together)
{
    struct page p = {0};
    struct block *table;

    page_add(&p, BLOCK_TITLE, "Title");
    page_add(&p, BLOCK_TEXT, "one");
    page_add(&p, BLOCK_TEXT, "two");
    page_add(&p, BLOCK_HEADING, "Heading");
    page_add(&p, BLOCK_ITEM, "an item that is wrapped");
    page_add(&p, BLOCK_ITEM, "next");
    table = PAGE_TABLE(&p, {.title = ""}, {.title = "", .right = true});
    PAGE_ROW(table, NULL, "a", "1");
    PAGE_ROW(table, NULL, NULL, "22");
    page_table_row(table, NULL, NULL, 0);
    page_table_cell(table, 1, 0, "%s%d", "b", 3);
    page_add(&p, BLOCK_CAUTION, "a caution that is wrapped");
    page_add(&p, BLOCK_CAUTION, "last");
    page_add(&p, BLOCK_ANSWER, "first\n  second");
    assert_lines(&p, 16,
                 "Title\n\none\ntwo\n\nHeading\n- an item that\n  is wrapped\n- next\n\n"
                 "a    1\nb3  22\n\n\n! a caution that\n  is wrapped\n! last\n\nfirst\n  second\n");
    page_free(&p);
}
END_TEST

/* Columns of 4, 6, 3 and 5 cells and gaps of 2: 24 in all. */
START_TEST(columns_go_only_when_they_must)
{
    struct page p = {0};
    struct block *t = PAGE_TABLE(&p, {.title = "mark"}, {.title = "result", .right = true},
                                 {.title = "who", .rank = 1}, {.title = "where", .rank = 2});
    struct page_lines lines;

    PAGE_ROW(t, "01", "01", "40°", "me", "here");
    PAGE_ROW(t, "02", "02", "135°");
    assert_lines(&p, 24, "mark  result  who  where\n01       40°  me   here\n02      135°\n");
    assert_lines(&p, 23, "mark  result  who\n01       40°  me\n02      135°\n");
    assert_lines(&p, 17, "mark  result  who\n01       40°  me\n02      135°\n");
    assert_lines(&p, 16, "mark  result\n01       40°\n02      135°\n");
    page_layout(&p, 80, &lines);
    ck_assert_uint_eq(lines.count, 3);
    ck_assert(lines.items[0].head && !lines.items[1].head && !lines.items[2].head);
    ck_assert_ptr_null(lines.items[0].target);
    ck_assert_str_eq(lines.items[1].target, "01");
    ck_assert_str_eq(lines.items[2].target, "02");
    for (size_t i = 0; i < lines.count; i++)
        ck_assert_int_eq(lines.items[i].kind, BLOCK_TABLE);
    page_lines_free(&lines);
    page_free(&p);
}
END_TEST

/* Of equal ranks the last goes first; the widest of the words is wrapped, never below 8 cells. */
START_TEST(the_widest_words_are_wrapped_last)
{
    struct page p = {0};
    struct block *t = PAGE_TABLE(&p, {.title = "narrow"}, {.title = "the widest of them"},
                                 {.title = "number", .right = true}, {.title = "x", .rank = 1},
                                 {.title = "yy", .rank = 1});

    PAGE_ROW(t, NULL, "a", "some words here", "1", "p", "q");
    assert_lines(&p, 37,
                 "narrow  the widest of them  number  x\na       some words here          1  p\n");
    assert_lines(&p, 30,
                 "narrow  the widest of   number\n        them\na       some words           1\n   "
                 "     here\n");
    assert_lines(&p, 5,
                 "narrow  the       number\n        widest\n        of them\na       some          "
                 " 1\n        words\n        here\n");
    page_free(&p);
}
END_TEST

START_TEST(of_two_as_wide_the_first_is_wrapped)
{
    struct page p = {0};
    struct block *t = PAGE_TABLE(&p, {.title = "one two three"}, {.title = "six seven ten"});

    PAGE_ROW(t, NULL, "1", "2");
    assert_lines(&p, 24, "one two    six seven ten\nthree\n1          2\n");
    page_free(&p);
}
END_TEST

START_TEST(a_text_taken_over_leaves_its_owner_empty)
{
    struct page p = {0};
    struct text s = {0};

    text_add(&s, "50 % of it");
    page_take(&p, BLOCK_ITEM, &s);
    ck_assert_uint_eq(s.length, 0);
    ck_assert_str_eq(text_str(&s), "");
    ck_assert_uint_eq(p.count, 1);
    assert_lines(&p, 80, "- 50 % of it\n");
    page_free(&p);
    ck_assert_uint_eq(p.count, 0);
}
END_TEST

START_TEST(cautions_are_all_there)
{
    struct page p = {0}, all = {0};

    cautions_add(&p);
    ck_assert_uint_eq(p.count, 2);
    ck_assert_str_eq(p.blocks[0].text, caution_scope);
    ck_assert_str_eq(p.blocks[1].text, caution_work);
    cautions_add_all(&all);
    ck_assert_uint_eq(all.count, 12); /* heading, nine dangers, standard, scope */
    ck_assert_str_eq(all.blocks[0].text, "Cautions");
    ck_assert_int_eq(all.blocks[0].kind, BLOCK_HEADING);
    ck_assert_int_eq(strncmp(all.blocks[2].text, "Fume: Bare steel", 16), 0);
    ck_assert_str_eq(all.blocks[10].text, "ANSI Z49.1 and your local rules say the rest.");
    ck_assert_str_eq(all.blocks[11].text, caution_scope);
    for (size_t i = 1; i < 10; i++)
        ck_assert_int_eq(all.blocks[i].kind, BLOCK_ITEM);
    page_free(&p);
    page_free(&all);
}
END_TEST

/* The README with every stretch of white space as one blank. */
static char *readme(void)
{
    FILE *f = fopen(FIXTURES "/../README.md", "r");
    struct text t = {0};
    char last = ' ';
    int c;

    ck_assert_ptr_nonnull(f);
    while ((c = fgetc(f)) != EOF) {
        char byte = (char)(isspace(c) ? ' ' : c);

        if (byte != ' ' || last != ' ')
            text_add_part(&t, &byte, 1);
        last = byte;
    }
    fclose(f);
    return text_steal(&t);
}

START_TEST(the_readme_has_every_caution)
{
    char *text = readme();
    size_t count = 0;

    for (const struct caution *c = caution_list; c->about != NULL; c++, count++) {
        char *item = mem_format("- **%s.** %s", c->about, c->text);

        ck_assert_msg(strstr(text, item) != NULL, "%s", item);
        free(item);
    }
    ck_assert_uint_eq(count, 9);
    ck_assert_ptr_nonnull(strstr(text, "live whenever the machine is on"));
    free(text);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("page/page");
    TCase *t = tcase_create("page");

    tcase_add_test(t, sentences_wrap_at_spaces);
    tcase_add_test(t, a_narrow_table_drops_the_least_wanted_column_then_wraps);
    tcase_add_test(t, no_line_is_wider_than_asked);
    tcase_add_test(t, blocks_are_set_apart_and_items_stand_together);
    tcase_add_test(t, columns_go_only_when_they_must);
    tcase_add_test(t, the_widest_words_are_wrapped_last);
    tcase_add_test(t, of_two_as_wide_the_first_is_wrapped);
    tcase_add_test(t, a_text_taken_over_leaves_its_owner_empty);
    tcase_add_test(t, cautions_are_all_there);
    tcase_add_test(t, the_readme_has_every_caution);
    suite_add_tcase(s, t);
    return s;
}
