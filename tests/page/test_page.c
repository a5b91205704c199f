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
    tcase_add_test(t, the_readme_has_every_caution);
    suite_add_tcase(s, t);
    return s;
}
