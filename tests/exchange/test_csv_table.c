#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "exchange/csv_table.h"

/* The table as one text: cells in brackets, rows by line number. */
static char *shape(const struct csv_table *t)
{
    struct text out = {0};

    text_addf(&out, "%c%s", t->separator == '\t' ? 'T' : t->separator,
              t->decimal_comma ? " comma" : "");
    for (size_t i = 0; i < t->header.count; i++)
        text_addf(&out, " [%s]", t->header.cells[i]);
    for (size_t i = 0; i < t->count; i++) {
        text_addf(&out, " %zu:", t->rows[i].line);
        for (size_t j = 0; j < t->rows[i].count; j++)
            text_addf(&out, "[%s]", t->rows[i].cells[j]);
    }
    return text_steal(&out);
}

static const struct {
    const char *bytes, *shape;
} tables[] = {
    {"mark,gas\n1,CO2\n", ", [mark] [gas] 2:[1][CO2]"},
    {"mark,gas\n1,CO2", ", [mark] [gas] 2:[1][CO2]"},
    {"\xef\xbb\xbfmark,gas\r\n1,CO2\r\n2,Ar\r\n", ", [mark] [gas] 2:[1][CO2] 3:[2][Ar]"},
    {"mark;thickness\n1;0,9\n", "; comma [mark] [thickness] 2:[1][0,9]"},
    {"mark;thickness\n1;0.9\n", "; [mark] [thickness] 2:[1][0.9]"},
    {"mark\tthickness\n1\t-0,9\n", "T comma [mark] [thickness] 2:[1][-0,9]"},
    {"mark,note\n1,\"a, b\"\n2,\"said \"\"no\"\"\"\n",
     ", [mark] [note] 2:[1][a, b] 3:[2][said \"no\"]"},
    {"mark,note\n1,\"two\nlines\"\n2,x\n", ", [mark] [note] 2:[1][two\nlines] 4:[2][x]"},
    {"mark,note\n1,\"two\r\nlines\"\r\n2,x\r\n", ", [mark] [note] 2:[1][two\r\nlines] 4:[2][x]"},
    {"\n\n mark , gas \n\n 1 ,\t\n", ", [mark] [gas] 5:[1][]"},
    {"a,b,c\n1,2\n1,2,3,4\n,,\n\n5,,\n", ", [a] [b] [c] 2:[1][2] 3:[1][2][3][4] 6:[5][][]"},
    {"a;b\n\"1,5\";\"x;y\"\n", "; comma [a] [b] 2:[1,5][x;y]"},
    {"\"a;b\",c\n1,2\n", ", [a;b] [c] 2:[1][2]"},
    {"only\n1\n2\n", ", [only] 2:[1] 3:[2]"},
    {"a,b\n", ", [a] [b]"},
    {"höhe (mm),b\n1,é\n", ", [höhe (mm)] [b] 2:[1][é]"},
    /* The examples of RFC 4180, section 2, items 1, 3, 5, 6 and 7. */
    {"aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", ", [aaa] [bbb] [ccc] 2:[zzz][yyy][xxx]"},
    {"field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx",
     ", [field_name] [field_name] [field_name] 2:[aaa][bbb][ccc] 3:[zzz][yyy][xxx]"},
    {"\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", ", [aaa] [bbb] [ccc] 2:[zzz][yyy][xxx]"},
    {"\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", ", [aaa] [b\r\nbb] [ccc] 3:[zzz][yyy][xxx]"},
    {"\"aaa\",\"b\"\"bb\",\"ccc\"\n", ", [aaa] [b\"bb] [ccc]"},
};

START_TEST(what_people_call_csv)
{
    struct csv_table t;
    struct error e = {0};
    char *seen;

    ck_assert_msg(csv_table_parse(tables[_i].bytes, strlen(tables[_i].bytes), &t, &e) == 0, "%s",
                  e.text);
    seen = shape(&t);
    ck_assert_str_eq(seen, tables[_i].shape);
    free(seen);
    csv_table_free(&t);
}
END_TEST

#define BYTES(s) s, sizeof s - 1

static const struct {
    const char *bytes;
    size_t length;
    const char *says;
} bad[] = {
    {BYTES(""), "the file is empty; its first row should name the columns"},
    {BYTES("\n\r\n  \n"), "the file is empty; its first row should name the columns"},
    {BYTES("\xef\xbb\xbf"), "the file is empty; its first row should name the columns"},
    {BYTES(",,\n"), "the file is empty; its first row should name the columns"},
    {BYTES("a,b\n1,\0\n"), "line 2, column 3: a zero byte; this is not a text file"},
    {BYTES("a,b\r\n\xc3\xa9,\xe9\n"),
     "line 2, column 3: byte 0xe9 is not UTF-8 text; save the file as UTF-8"},
    {BYTES("\xff\xfe"
           "a\0,\0"),
     "the file is UTF-16; save it as UTF-8"},
    {BYTES("\xe9,b\n"), "line 1, column 1: byte 0xe9 is not UTF-8 text; save the file as UTF-8"},
    {BYTES("a\033[2J,b\n"),
     "line 1, column 2: a control character (0x1b), which no text holds; take it out"},
    {BYTES("a,b\n1,x\"y\n"),
     "line 2, column 4: a quote in the wrong place; put the whole cell in quotes and write every "
     "quote in it twice"},
    {BYTES("a,b\n1,\"x\"y\n"),
     "line 2, column 6: a quote in the wrong place; put the whole cell in quotes and write every "
     "quote in it twice"},
    {BYTES("a,b\n1,2\n3,\"open\n4,5\n"), "line 3: a quote opened in this row is never closed"},
};

START_TEST(what_is_no_table_is_refused_with_its_place)
{
    struct csv_table t;
    struct error e = {0};

    ck_assert_int_lt(csv_table_parse(bad[_i].bytes, bad[_i].length, &t, &e), 0);
    ck_assert_str_eq(e.text, bad[_i].says);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_ptr_null(t.rows);
    ck_assert_uint_eq(t.header.count, 0);
}
END_TEST

START_TEST(files_are_read_to_their_end)
{
    FILE *file = tmpfile(), *folder = fopen("/", "r");
    struct csv_table t;
    struct error e = {0};

    fputs("mark\n1\n", file);
    rewind(file);
    ck_assert_int_eq(csv_table_read(file, &t, &e), 0);
    ck_assert_uint_eq(t.count, 1);
    csv_table_free(&t);
    ck_assert_int_lt(csv_table_read(file, &t, &e), 0); /* nothing is left */
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_int_lt(csv_table_read(folder, &t, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_ptr_nonnull(strstr(e.text, "cannot be read: Is a directory"));
    fclose(folder);
    fclose(file);
}
END_TEST

START_TEST(what_is_written_reads_back)
{
    static const char *const cells[] = {
        "plain", "a,b", "a;b",       "say \"no\"", "two\nlines", "two\r\nlines",
        "",      NULL,  "tab\there", "0,9",        "é",          "\"",
    };
    enum { COUNT = sizeof cells / sizeof *cells };
    struct text out = {0};
    struct csv_table t;
    struct error e = {0};

    csv_add_row(&out, cells, COUNT);
    csv_add_row(&out, cells, COUNT);
    ck_assert_msg(csv_table_parse(text_str(&out), out.length, &t, &e) == 0, "%s", e.text);
    ck_assert_uint_eq(t.count, 1);
    for (size_t i = 0; i < COUNT; i++) {
        const char *want = cells[i] == NULL ? "" : cells[i];

        ck_assert_str_eq(t.header.cells[i], want);
        ck_assert_str_eq(csv_cell(&t.rows[0], i), want);
    }
    ck_assert_str_eq(csv_cell(&t.rows[0], 99), "");
    csv_table_free(&t);
    text_free(&out);
}
END_TEST

START_TEST(many_rows)
{
    struct text out = {0};
    struct csv_table t;

    text_add(&out, "mark,volts\n");
    for (int i = 0; i < 50000; i++)
        text_addf(&out, "%d,%d\n", i, i % 30);
    ck_assert_int_eq(csv_table_parse(text_str(&out), out.length, &t, NULL), 0);
    ck_assert_uint_eq(t.count, 50000);
    ck_assert_uint_eq(t.rows[49999].line, 50001);
    csv_table_free(&t);
    text_free(&out);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("exchange/csv_table");
    TCase *t = tcase_create("csv_table");

    tcase_add_loop_test(t, what_people_call_csv, 0, sizeof tables / sizeof *tables);
    tcase_add_loop_test(t, what_is_no_table_is_refused_with_its_place, 0, sizeof bad / sizeof *bad);
    tcase_add_test(t, files_are_read_to_their_end);
    tcase_add_test(t, what_is_written_reads_back);
    tcase_add_test(t, many_rows);
    tcase_set_timeout(t, 60);
    suite_add_tcase(s, t);
    return s;
}
