#include "walk.h"

#include <check.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "app/task_coupon.h"
#include "base/mem.h"

struct walk walk;
const char *const walk_book = "b.coldlap";

size_t roll(size_t sides)
{
    walk.state = walk.state * 6364136223846793005u + 1442695040888963407u;
    return (size_t)(walk.state >> 33) % sides;
}

size_t row_count(const struct part_row *table)
{
    size_t count = 0;

    while (table[count].as.label != NULL)
        count++;
    ck_assert_uint_le(count, ROWS);
    return count;
}

bool slip(void)
{
    return roll(30) == 0;
}

bool holds_whole(const struct part_row *row)
{
    return row->kind != PART_NUMBER && !part_is_text(row) && row->kind != PART_WHEN;
}

void clear_rows(const struct part_row *table, struct rows *rows)
{
    for (size_t i = 0; i < row_count(table); i++)
        snprintf(rows->is[i], WORDS, "%s", holds_whole(&table[i]) ? "0" : "");
}

const char *held(const struct part_row *table, const struct rows *rows, const char *key)
{
    return rows->is[part_find(table, key) - table];
}

bool face_contradicts(const struct expected *x, size_t flaws)
{
    const char *face = held(part_face_rows, &x->face, "face");

    for (size_t i = 0; i < flaws; i++) {
        const char *from = held(part_flaw_rows, &x->flaw[i], "from");
        const char *to = held(part_flaw_rows, &x->flaw[i], "to");

        if (*to != '\0' && ((*from != '\0' && strtod(from, NULL) > strtod(to, NULL)) ||
                            (*face != '\0' && strtod(to, NULL) > strtod(face, NULL) + 1e-6)))
            return true;
    }
    return false;
}

void hold(bool holds, const char *format, ...)
{
    char why[4 * WORDS];
    va_list args;

    if (holds)
        return;
    va_start(args, format);
    vsnprintf(why, sizeof why, format, args);
    va_end(args);
    fprintf(stderr, "%s\n", text_str(&walk.said));
    ck_abort_msg("COLDLAP_SEED=%llu, step %d: %s", walk.seed, walk.steps, why);
}

static void same_words(const char *is, const char *should, const char *mark, const char *key)
{
    hold(strcmp(is, should) == 0, "%s of %s is '%s', not '%s'", key, mark, is, should);
}

static void same_count(size_t is, size_t should, const char *mark, const char *what)
{
    hold(is == should, "%s has %zu %s, not %zu", mark, is, what, should);
}

static void same_rows(const struct part_row *table, const void *base, const struct rows *should,
                      const char *mark)
{
    for (size_t i = 0; i < row_count(table); i++) {
        char *written = part_write(&table[i], base);

        same_words(written == NULL ? "" : written, should->is[i], mark, table[i].as.label);
        free(written);
    }
}

static char *value_words(const struct value *v)
{
    if (v == NULL)
        return mem_copy("");
    if (v->kind == VARIABLE_CATEGORY)
        return mem_copy(v->text);
    return mem_format("%s %a %a %s", measure_kind_code(v->measure.kind), v->measure.low,
                      v->measure.high, v->text);
}

static void same_coupon(const struct coupon *c, const struct expected *should)
{
    size_t given = 0;

    for (size_t i = 0; i < walk.variables.count; i++) {
        char *words = value_words(coupon_value(c, walk.variables.items[i].key));

        same_words(words, should->value[i], c->mark, walk.variables.items[i].key);
        given += *words != '\0';
        free(words);
    }
    same_count(c->value_count, given, c->mark, "values");
    same_rows(part_coupon_rows, c, &should->coupon, c->mark);
    same_rows(part_face_rows, c, &should->face, c->mark);
    same_rows(part_note_rows, c, &should->note, c->mark);
    same_rows(part_bend_rows, &c->bend, &should->bend, c->mark);
    same_count(c->pass_count, should->passes, c->mark, "passes");
    same_count(c->flaw_count, should->flaws, c->mark, "flaws");
    same_count(c->photo_count, should->photos, c->mark, "photographs");
    for (size_t i = 0; i < c->pass_count; i++)
        same_rows(part_pass_rows, &c->passes[i], &should->pass[i], c->mark);
    for (size_t i = 0; i < c->flaw_count; i++)
        same_rows(part_flaw_rows, &c->flaws[i], &should->flaw[i], c->mark);
    for (size_t i = 0; i < c->photo_count; i++)
        ck_assert_ptr_nonnull(strstr(c->photos[i].path, "face.jpg"));
}

void same_book(void)
{
    struct coupon_list list = {0};
    struct session s = {0};
    struct error e = {0};

    ck_assert_msg(session_open(&s, walk_book, BOOK_READ, &e) == 0, "%s", e.text);
    ck_assert_msg(task_coupons(&s, NULL, true, &list, &e) == 0, "%s", e.text);
    same_count(list.count, walk.count, "the book", "coupons");
    for (size_t i = 0; i < list.count; i++)
        same_coupon(&list.items[i], &walk.coupons[i]);
    coupon_list_free(&list);
    session_close(&s);
}

struct expected like_last(void)
{
    struct expected new = {0};

    for (size_t i = 0; walk.count > 0 && i < walk.variables.count; i++)
        if (walk.variables.items[i].role == ROLE_CAUSE)
            memcpy(new.value[i], walk.coupons[walk.count - 1].value[i], WORDS);
    clear_rows(part_bend_rows, &new.bend);
    clear_rows(part_face_rows, &new.face);
    clear_rows(part_note_rows, &new.note);
    return new;
}
