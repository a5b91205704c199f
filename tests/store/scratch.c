#include "scratch.h"

#include <check.h>
#include <ftw.h>
#include <math.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "store/coupons.h"
#include "store/settings.h"

void scratch_make(struct scratch *s)
{
    memset(s, 0, sizeof *s);
    snprintf(s->dir, sizeof s->dir, "/tmp/coldlap-test-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(s->dir));
    snprintf(s->book, sizeof s->book, "%s/b.coldlap", s->dir);
}

static int remove_one(const char *path, const struct stat *is, int type, struct FTW *at)
{
    (void)is;
    (void)type;
    (void)at;
    return remove(path);
}

static int make_writable(const char *path, const struct stat *is, int type, struct FTW *at)
{
    (void)is;
    (void)at;
    if (type == FTW_D || type == FTW_DNR)
        chmod(path, 0700);
    return 0;
}

void scratch_remove(struct scratch *s)
{
    nftw(s->dir, make_writable, 8, FTW_PHYS);
    nftw(s->dir, remove_one, 8, FTW_DEPTH | FTW_PHYS);
    while (s->name_count > 0)
        free(s->names[--s->name_count]);
}

const char *scratch_file(struct scratch *s, const char *name)
{
    char *path = mem_format("%s/%s", s->dir, name);

    for (size_t i = 0; i < s->name_count; i++)
        if (strcmp(s->names[i], path) == 0) {
            free(path);
            return s->names[i];
        }
    ck_assert_uint_lt(s->name_count, sizeof s->names / sizeof s->names[0]);
    return s->names[s->name_count++] = path;
}

long scratch_size(const char *path)
{
    struct stat is;

    return stat(path, &is) == 0 ? (long)is.st_size : -1;
}

bool one_line(const struct error *e)
{
    return e->kind != ERROR_NONE && e->text[0] != '\0' && strchr(e->text, '\n') == NULL;
}

struct book *scratch_open(const char *path, enum book_mode mode)
{
    struct error e = {0};
    struct book *book;

    if (book_open(&book, path, mode, &e) < 0)
        ck_abort_msg("%s", e.text);
    return book;
}

void scratch_refused(const char *path, enum book_mode mode, const char *words)
{
    struct error e = {0};
    struct book *book = NULL;

    ck_assert_int_lt(book_open(&book, path, mode, &e), 0);
    ck_assert_ptr_null(book);
    ck_assert_msg(one_line(&e), "%s", e.text);
    ck_assert_msg(strstr(e.text, words) != NULL, "'%s' is not in: %s", words, e.text);
}

static void fill_values(struct coupon *c)
{
    coupon_set_number(c, "thickness", measure_exact(7.9375), "5/16 in");
    coupon_set_number(c, "bend_angle", measure_at_least(135), NULL);
    coupon_set_number(c, "fused_share", measure_between(1.0 / 3, 60), "33..60");
    coupon_set_number(c, "unfused_at_start", measure_at_most(0.1), "<=0.1");
    coupon_set_category(c, "joint", "tee");
    coupon_set_category(c, "gas", "82 % Ar, 18 % CO₂");
}

static void fill_passes(struct coupon *c)
{
    for (int i = 1; i <= 3; i++) {
        struct pass *p = coupon_add_pass(c);

        p->side = i % 3;
        p->arc_s = 17.3 * i;
        p->length_mm = 100;
        p->volts = 17.5;
        p->amps = 110 + 1.0 / i;
        p->feed_mm_per_min = i == 2 ? NAN : 3048;
        p->start_c = -5;
        p->pause_s = i == 1 ? NAN : 60;
    }
}

static void fill_face(struct coupon *c)
{
    struct flaw *f;
    struct photo *p;

    c->bead_mm = 100;
    c->face_read = true;
    f = coupon_add_flaw(c);
    *f = (struct flaw){0, 22.5, 4013, mem_copy("cold start")};
    f = coupon_add_flaw(c);
    *f = (struct flaw){80, 81, 2011, NULL};
    p = coupon_add_photo(c);
    p->path = mem_copy("photos/07 face.jpg");
    p->sha256 = mem_copy("e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    p->note = mem_copy("root side up");
}

struct coupon scratch_load(struct book *book, long number)
{
    struct coupon c;
    struct error e = {0};

    ck_assert_msg(coupon_load_number(book, number, &c, &e) == 0, "%s", e.text);
    return c;
}

void scratch_units_are(struct book *book, const char *system)
{
    struct error e = {0};
    char *value;

    ck_assert_int_eq(setting_get(book, "units", &value, &e), 0);
    ck_assert_pstr_eq(value, system);
    free(value);
}

void scratch_coupon(struct coupon *c)
{
    coupon_init(c);
    c->who = mem_copy("bench 1");
    c->note = mem_copy("second try,\nslower");
    c->when = (struct instant){1772888700123, 60};
    fill_values(c);
    fill_passes(c);
    c->bend = (struct bend){.end = BEND_HELD,
                            .direction = BEND_ROOT_OPENING,
                            .before_deg = 90.5,
                            .after_deg = 225.5,
                            .before_gap_mm = 141.4,
                            .after_gap_mm = 12.25,
                            .leg_mm = 60,
                            .former_mm = 12,
                            .inside_radius_mm = 4.5,
                            .first_crack_deg = 61.75,
                            .load_n = 8123.4567890123456,
                            .lever_mm = 250};
    fill_face(c);
}

int scratch_save(struct book *book, struct error *e)
{
    struct coupon c;
    int result;

    scratch_coupon(&c);
    result = coupon_save(book, &c, e);
    coupon_free(&c);
    return result;
}

void scratch_book(struct scratch *s, int coupons)
{
    struct book *book = scratch_open(s->book, BOOK_CREATE);
    struct error e = {0};

    for (int i = 0; i < coupons; i++)
        ck_assert_int_eq(scratch_save(book, &e), 0);
    book_close(book);
}

static void fault(void *ctx, const char *line)
{
    int *told = ctx;

    if (++*told <= 3)
        fprintf(stderr, "fault: %s\n", line);
}

void scratch_sound(const char *path)
{
    struct book *book = scratch_open(path, BOOK_WRITE);
    struct coupon_list list = {0};
    struct error e = {0};
    struct coupon whole;
    int told = 0;

    ck_assert_msg(book_check(book, fault, &told, &e) == 0, "%s", e.text);
    ck_assert_int_eq(coupons_load(book, NULL, true, &list, &e), 0);
    scratch_coupon(&whole);
    for (size_t i = 0; i < list.count; i++)
        scratch_same_coupon(&whole, &list.items[i]);
    coupon_free(&whole);
    coupon_list_free(&list);
    book_close(book);
}

static bool same_text(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

/* Bit for bit, and NAN with NAN: a book must give back what was put in. */
static bool same_real(double a, double b)
{
    return (isnan(a) && isnan(b)) || a == b;
}

static bool same_reals(const double *a, const double *b, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (!same_real(a[i], b[i]))
            return false;
    return true;
}

static void same_passes(const struct coupon *a, const struct coupon *b)
{
    ck_assert_uint_eq(a->pass_count, b->pass_count);
    for (size_t i = 0; i < a->pass_count; i++) {
        ck_assert_int_eq(a->passes[i].number, b->passes[i].number);
        ck_assert_int_eq(a->passes[i].side, b->passes[i].side);
        ck_assert(same_reals(&a->passes[i].arc_s, &b->passes[i].arc_s, 6));
        ck_assert(same_real(a->passes[i].pause_s, b->passes[i].pause_s));
    }
}

static void same_face(const struct coupon *a, const struct coupon *b)
{
    ck_assert(same_real(a->bead_mm, b->bead_mm));
    ck_assert(a->face_read == b->face_read);
    ck_assert_uint_eq(a->flaw_count, b->flaw_count);
    ck_assert_uint_eq(a->photo_count, b->photo_count);
    for (size_t i = 0; i < a->flaw_count; i++) {
        ck_assert(same_real(a->flaws[i].from_mm, b->flaws[i].from_mm));
        ck_assert(same_real(a->flaws[i].to_mm, b->flaws[i].to_mm));
        ck_assert_int_eq(a->flaws[i].iso6520, b->flaws[i].iso6520);
        ck_assert(same_text(a->flaws[i].note, b->flaws[i].note));
    }
    for (size_t i = 0; i < a->photo_count; i++) {
        ck_assert(same_text(a->photos[i].path, b->photos[i].path));
        ck_assert(same_text(a->photos[i].sha256, b->photos[i].sha256));
        ck_assert(same_text(a->photos[i].note, b->photos[i].note));
    }
}

void scratch_same_coupon(const struct coupon *a, const struct coupon *b)
{
    ck_assert(same_text(a->who, b->who));
    ck_assert(same_text(a->note, b->note));
    ck_assert(same_text(a->struck_why, b->struck_why));
    ck_assert_int_eq(a->when.utc_ms, b->when.utc_ms);
    ck_assert_int_eq(a->when.offset_minutes, b->when.offset_minutes);
    ck_assert_str_eq(a->trial, b->trial);
    ck_assert_uint_eq(a->value_count, b->value_count);
    for (size_t i = 0; i < a->value_count; i++) {
        const struct value *other = coupon_value(b, a->values[i].variable);

        ck_assert_msg(value_same(&a->values[i], other), "%s", a->values[i].variable);
        ck_assert(same_text(a->values[i].text, other->text));
    }
    same_passes(a, b);
    ck_assert_int_eq((int)a->bend.end, (int)b->bend.end);
    ck_assert_int_eq((int)a->bend.direction, (int)b->bend.direction);
    ck_assert(same_reals(&a->bend.before_deg, &b->bend.before_deg, 10));
    same_face(a, b);
}

struct bytes scratch_read(const char *path)
{
    struct bytes b = {0};
    FILE *file = fopen(path, "rb");
    long size;

    ck_assert_msg(file != NULL, "%s", path);
    ck_assert_int_eq(fseek(file, 0, SEEK_END), 0);
    size = ftell(file);
    ck_assert_int_ge(size, 0);
    rewind(file);
    b.size = (size_t)size;
    b.data = mem_zero(b.size + 1, 1);
    ck_assert_uint_eq(fread(b.data, 1, b.size, file), b.size);
    fclose(file);
    return b;
}

void scratch_write(const char *path, const void *data, size_t size)
{
    FILE *file = fopen(path, "wb");

    ck_assert_msg(file != NULL, "%s", path);
    ck_assert_uint_eq(fwrite(data, 1, size, file), size);
    ck_assert_int_eq(fclose(file), 0);
}

bool scratch_same_bytes(struct bytes a, struct bytes b)
{
    bool same = a.size == b.size && memcmp(a.data, b.data, a.size) == 0;

    free(a.data);
    free(b.data);
    return same;
}

char *scratch_text(const char *path, const char *sql)
{
    sqlite3 *db;
    sqlite3_stmt *stmt = NULL;
    char *text = NULL;

    ck_assert_int_eq(sqlite3_open_v2(path, &db, SQLITE_OPEN_READWRITE, NULL), SQLITE_OK);
    sqlite3_busy_timeout(db, 10000);
    ck_assert_msg(sqlite3_prepare_v2(db, sql, -1, &stmt, NULL) == SQLITE_OK, "%s",
                  sqlite3_errmsg(db));
    if (sqlite3_step(stmt) == SQLITE_ROW)
        text = mem_copy((const char *)sqlite3_column_text(stmt, 0));
    sqlite3_finalize(stmt);
    sqlite3_close(db);
    return text;
}

long scratch_count(const char *path, const char *sql)
{
    char *text = scratch_text(path, sql);
    long count = text != NULL ? strtol(text, NULL, 10) : -1;

    free(text);
    return count;
}

void scratch_same_text(const char *path, const char *sql, const char *expected)
{
    char *text = scratch_text(path, sql);

    ck_assert_str_eq(text, expected);
    free(text);
}

int scratch_sql(const char *path, const char *sql)
{
    sqlite3 *db;
    int code;

    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    sqlite3_busy_timeout(db, 10000);
    sqlite3_exec(db, "PRAGMA foreign_keys = ON", NULL, NULL, NULL);
    code = sqlite3_exec(db, sql, NULL, NULL, NULL);
    sqlite3_close(db);
    return code;
}
