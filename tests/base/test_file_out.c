#include "run.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/file_out.h"
#include "base/mem.h"

static char folder[] = "/tmp/coldlap-file-out-XXXXXX";
static char *path;

static void begin(void)
{
    ck_assert_ptr_nonnull(mkdtemp(folder));
    path = mem_format("%s/out", folder);
}

/* A file left beside `path` would keep the folder from going away. */
static void end(void)
{
    unlink(path);
    ck_assert_int_eq(rmdir(folder), 0);
    free(path);
    strcpy(folder + strlen(folder) - 6, "XXXXXX");
}

static void write_plainly(const char *text)
{
    FILE *out = fopen(path, "w");

    ck_assert_int_ge(fputs(text, out), 0);
    fclose(out);
}

static void check_holds(const char *text)
{
    char found[20] = "";
    FILE *in = fopen(path, "r");

    ck_assert_ptr_nonnull(in);
    ck_assert_ptr_nonnull(fgets(found, sizeof found, in));
    fclose(in);
    ck_assert_str_eq(found, text);
}

/* What another program puts there between opening and closing stays, unless it may be replaced. */
START_TEST(another_was_faster)
{
    struct file_out f;
    struct error e;
    bool replace = _i != 0;

    ck_assert_int_eq(file_open(&f, path, NULL, replace, &e), 0);
    fputs("ours", f.out);
    write_plainly("theirs");
    if (replace) {
        ck_assert_int_eq(file_close(&f, &e), 0);
    } else {
        ck_assert_int_lt(file_close(&f, &e), 0);
        ck_assert_int_eq(e.kind, ERROR_INPUT);
    }
    check_holds(replace ? "ours" : "theirs");
}
END_TEST

START_TEST(given_up)
{
    struct file_out f;
    struct error e;

    ck_assert_int_eq(file_open(&f, path, NULL, false, &e), 0);
    fputs("ours", f.out);
    file_drop(&f);
    ck_assert_int_ne(access(path, F_OK), 0);
}
END_TEST

static char *make(const char *name, const char *bytes, size_t count, mode_t mode)
{
    char *made = mem_format("%s/%s", folder, name);
    FILE *out = fopen(made, "w");

    ck_assert_uint_eq(fwrite(bytes, 1, count, out), count);
    ck_assert_int_eq(fchmod(fileno(out), mode), 0);
    fclose(out);
    return made;
}

static void drop(char *made)
{
    ck_assert_int_eq(unlink(made), 0);
    free(made);
}

static mode_t mode_of(const char *name)
{
    struct stat is;

    ck_assert_int_eq(stat(name, &is), 0);
    return is.st_mode & 0777;
}

static void check_refused(const char *name, const char *book, bool replace, const char *says)
{
    struct file_out f;
    struct error e = {0};

    ck_assert_msg(file_open(&f, name, book, replace, &e) < 0, "%s", name);
    ck_assert_int_eq(e.kind, ERROR_INPUT);
    ck_assert_msg(strstr(e.text, says) != NULL, "%s", e.text);
}

/* Also those SQLite would make later, under another spelling of the folder. */
START_TEST(the_book_and_what_belongs_to_it_are_never_written)
{
    char *book = make("book", "x", 1, 0600), *wal = make("book-wal", "x", 1, 0600);
    char *other = mem_format("%s/./book-journal", folder), *near = mem_format("%s/books", folder);
    struct file_out f;
    struct error e;

    check_refused(book, book, true, "open book");
    check_refused(wal, book, true, "open book");
    check_refused(other, book, true, "open book");
    ck_assert_int_eq(symlink(book, path), 0);
    check_refused(path, book, true, "open book");
    ck_assert_int_eq(file_open(&f, near, book, false, &e), 0);
    file_drop(&f);
    free(near);
    free(other);
    drop(wal);
    drop(book);
}
END_TEST

/* The magic of the file formats of SQLite: sqlite.org/fileformat.html 1.3, 4.1 and 3. */
static const struct {
    const char *bytes;
    size_t count;
    bool refused;
} begins[] = {
    {"SQLite format 3", 16, true},  {"\x37\x7f\x06\x82more", 8, true},
    {"\x37\x7f\x06\x83", 4, true},  {"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8, true},
    {"SQLite format 4", 16, false}, {"SQLite format 3", 15, false},
    {"\x37\x7f\x06", 3, false},     {"", 0, false},
};

START_TEST(no_database_is_overwritten)
{
    char *file = make("out", begins[_i].bytes, begins[_i].count, 0644);
    struct file_out f;
    struct error e;

    if (begins[_i].refused) {
        check_refused(file, NULL, true, "another database");
    } else {
        ck_assert_int_eq(file_open(&f, file, NULL, true, &e), 0);
        file_drop(&f);
    }
    free(file);
}
END_TEST

START_TEST(what_is_there_is_replaced_only_when_told_to)
{
    char *file = make("file", "old", 3, 0640);
    struct file_out f;
    struct error e;

    ck_assert_int_eq(symlink("file", path), 0);
    check_refused(path, NULL, false, "--force");
    ck_assert_int_eq(file_open(&f, path, NULL, true, &e), 0);
    fputs("new", f.out);
    ck_assert_int_eq(file_close(&f, &e), 0);
    check_holds("new");
    ck_assert_int_eq(unlink(path), 0); /* the link; the file it names was written */
    ck_assert_int_eq(mode_of(file), 0640);
    drop(file);
}
END_TEST

START_TEST(a_new_file_is_as_open_as_the_book)
{
    static const struct {
        mode_t mask, book, file;
    } modes[] = {{022, 0, 0644}, {027, 0, 0640}, {022, 0600, 0600}, {022, 0660, 0640}};

    for (size_t i = 0; i < sizeof modes / sizeof *modes; i++) {
        char *book = modes[i].book == 0 ? NULL : make("book", "x", 1, modes[i].book);
        struct file_out f;
        struct error e;

        umask(modes[i].mask);
        ck_assert_int_eq(file_open(&f, path, book, false, &e), 0);
        ck_assert_int_eq(file_close(&f, &e), 0);
        ck_assert_int_eq(mode_of(path), modes[i].file);
        unlink(path);
        if (book != NULL)
            drop(book);
    }
}
END_TEST

START_TEST(stdout_and_devices_are_written_into)
{
    struct file_out f;
    struct error e = {0};

    ck_assert_int_eq(file_open(&f, NULL, NULL, false, &e), 0);
    ck_assert_ptr_eq(f.out, stdout);
    ck_assert_int_eq(file_close(&f, &e), 0);
    ck_assert_int_eq(file_open(&f, "-", NULL, false, &e), 0);
    ck_assert_ptr_eq(f.out, stdout);
    file_drop(&f);
    ck_assert_int_eq(file_open(&f, "/dev/null", NULL, false, &e), 0);
    fputs("gone", f.out);
    ck_assert_int_eq(file_close(&f, &e), 0);
    ck_assert_int_eq(file_open(&f, "/dev/full", NULL, false, &e), 0);
    fputs("too much", f.out);
    ck_assert_int_lt(file_close(&f, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_str_eq(e.text, "/dev/full could not be written: No space left on device");
}
END_TEST

START_TEST(a_folder_that_is_not_there)
{
    char *nowhere = mem_format("%s/no/file", folder);
    struct file_out f;
    struct error e;

    ck_assert_int_lt(file_open(&f, nowhere, NULL, false, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    ck_assert_int_lt(file_open(&f, folder, NULL, false, &e), 0);
    ck_assert_int_eq(e.kind, ERROR_SYSTEM);
    free(nowhere);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("base/file_out");
    TCase *t = tcase_create("file_out");

    tcase_add_checked_fixture(t, begin, end);
    tcase_add_loop_test(t, another_was_faster, 0, 2);
    tcase_add_test(t, given_up);
    tcase_add_test(t, the_book_and_what_belongs_to_it_are_never_written);
    tcase_add_loop_test(t, no_database_is_overwritten, 0, sizeof begins / sizeof *begins);
    tcase_add_test(t, what_is_there_is_replaced_only_when_told_to);
    tcase_add_test(t, a_new_file_is_as_open_as_the_book);
    tcase_add_test(t, stdout_and_devices_are_written_into);
    tcase_add_test(t, a_folder_that_is_not_there);
    suite_add_tcase(s, t);
    return s;
}
