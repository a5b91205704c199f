#include "run.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "model/coupon.h"
#include "model/part.h"

/* A coupon with something in every part. */
static void fill(struct coupon *c)
{
    coupon_init(c);
    strcpy(c->id, "018f0000-0000-7000-8000-000000000001");
    strcpy(c->trial, "018f0000-0000-7000-8000-000000000002");
    c->mark = mem_copy("07");
    c->when = (struct instant){1772888700000, 60};
    c->sequence = 7;
    c->who = mem_copy("first bench");
    c->note = mem_copy("ground twice");
    c->struck_why = mem_copy("wrong plate");
    coupon_set_number(c, "thickness", measure_exact(7.9375), "5/16 in");
    coupon_set_category(c, "gas", "CO2");
    coupon_set_number(c, "bend_angle", measure_at_least(135), NULL);
    coupon_add_pass(c)->arc_s = 25;
    coupon_add_pass(c)->side = 2;
    c->bend.end = BEND_HELD;
    c->bend.after_deg = 45;
    c->bead_mm = 60;
    c->face_read = true;
    *coupon_add_flaw(c) = (struct flaw){0, 12, 4013, mem_copy("cold start")};
    coupon_add_photo(c)->path = mem_copy("face.jpg");
}

START_TEST(a_copy_shares_nothing)
{
    struct coupon from, to;

    fill(&from);
    from.passes[0].number = 5; /* as only a damaged book has it */
    coupon_copy(&to, &from);
    ck_assert_int_eq(to.passes[0].number, 5);
    ck_assert_str_eq(to.id, from.id);
    ck_assert_str_eq(to.trial, from.trial);
    ck_assert_str_eq(to.struck_why, "wrong plate");
    ck_assert_uint_eq(to.value_count, 3);
    ck_assert_uint_eq(to.pass_count, 2);
    ck_assert_int_eq(to.passes[1].number, 2);
    ck_assert_int_eq(to.passes[1].side, 2);
    coupon_free(&from);
    ck_assert_str_eq(to.mark, "07");
    ck_assert_str_eq(coupon_value(&to, "thickness")->text, "5/16 in");
    ck_assert_str_eq(to.flaws[0].note, "cold start");
    ck_assert_str_eq(to.photos[0].path, "face.jpg");
    ck_assert_int_eq(to.bend.end, BEND_HELD);
    ck_assert_double_eq(to.bend.after_deg, 45);
    ck_assert_int_eq(to.when.utc_ms == 1772888700000 && to.when.offset_minutes == 60, 1);
    coupon_free(&to);
    ck_assert_ptr_null(to.mark);
    ck_assert_uint_eq(to.value_count, 0);
}
END_TEST

START_TEST(a_new_coupon_starts_from_the_last_set_up)
{
    struct variable_list variables;
    struct coupon from, to;

    variable_list_init(&variables);
    fill(&from);
    coupon_set_up_like(&to, &from, &variables);
    ck_assert_uint_eq(to.value_count, 2);
    ck_assert_ptr_null(coupon_value(&to, "bend_angle"));
    ck_assert_str_eq(coupon_value(&to, "gas")->text, "CO2");
    ck_assert_str_eq(coupon_value(&to, "thickness")->text, "5/16 in");
    ck_assert_str_eq(to.trial, from.trial);
    ck_assert_str_eq(to.who, "first bench");
    ck_assert(to.id[0] == '\0' && to.mark == NULL && to.note == NULL && to.struck_why == NULL);
    ck_assert(to.pass_count == 0 && to.flaw_count == 0 && to.photo_count == 0);
    ck_assert_int_eq(to.bend.end, BEND_NOT_DONE);
    ck_assert_double_nan(to.bend.after_deg);
    ck_assert(!to.face_read && isnan(to.bead_mm));
    coupon_free(&to);
    coupon_set_up_like(&to, NULL, &variables);
    ck_assert_uint_eq(to.value_count, 0);
    coupon_free(&to);
    coupon_free(&from);
    variable_list_free(&variables);
}
END_TEST

START_TEST(values_are_replaced_and_unset)
{
    struct coupon c;

    coupon_init(&c);
    coupon_set_category(&c, "gas", "CO2");
    coupon_set_category(&c, "gas", coupon_value(&c, "gas")->text); /* its own text */
    coupon_set_category(&c, "machine", "A");
    coupon_set_number(&c, "volts", measure_exact(20), NULL);
    ck_assert_uint_eq(c.value_count, 3);
    coupon_set_category(&c, "gas", "");
    coupon_set_number(&c, "volts", measure_missing(), NULL);
    coupon_unset(&c, "never set");
    ck_assert_uint_eq(c.value_count, 1);
    ck_assert_str_eq(coupon_value(&c, "machine")->text, "A");
    coupon_free(&c);
}
END_TEST

/* What was taken away leaves nothing behind that the next value could take for its own. */
START_TEST(a_value_set_after_another_was_unset_is_whole)
{
    struct coupon c;

    coupon_init(&c);
    coupon_set_category(&c, "gas", "CO2");
    coupon_set_number(&c, "volts", measure_exact(18), "18 V");
    coupon_set_category(&c, "joint", "tee");
    coupon_unset(&c, "volts");
    coupon_set_category(&c, "machine", "abc");
    coupon_set_number(&c, "thickness", measure_exact(6), "6 mm");
    ck_assert_uint_eq(c.value_count, 4);
    ck_assert_str_eq(coupon_value(&c, "gas")->text, "CO2");
    ck_assert_str_eq(coupon_value(&c, "joint")->text, "tee");
    ck_assert_str_eq(coupon_value(&c, "machine")->text, "abc");
    ck_assert_str_eq(coupon_value(&c, "thickness")->text, "6 mm");
    coupon_free(&c);
}
END_TEST

START_TEST(lists_own_their_coupons)
{
    struct coupon_list list = {0};

    for (int i = 0; i < 50; i++)
        coupon_list_add(&list)->mark = mem_format("B%02d", i);
    ck_assert_uint_eq(list.count, 50);
    ck_assert_str_eq(list.items[0].mark, "B00");
    ck_assert_str_eq(list.items[49].mark, "B49");
    ck_assert(isnan(list.items[49].bend.after_deg));
    ck_assert(!coupon_list_has(&list, "leg"));
    coupon_set_number(&list.items[49], "leg", measure_exact(5), NULL);
    ck_assert(coupon_list_has(&list, "leg") && !coupon_list_has(&list, "leg_2"));
    coupon_list_free(&list);
    ck_assert(!coupon_list_has(&list, "leg"));
    ck_assert_uint_eq(list.count, 0);
}
END_TEST

START_TEST(codes_go_both_ways)
{
    const struct part_row *ended = part_find(part_bend_rows, "ended");
    const struct part_row *direction = part_find(part_bend_rows, "direction");
    struct bend b, back;

    part_clear(part_bend_rows, &b);
    part_clear(part_bend_rows, &back);
    for (b.end = BEND_NOT_DONE; b.end <= BEND_HELD; b.end++)
        ck_assert(part_set_code(ended, &back, part_code(ended, &b)) && back.end == b.end);
    for (b.direction = BEND_DIRECTION_UNKNOWN; b.direction <= BEND_SIDE; b.direction++)
        ck_assert(part_set_code(direction, &back, part_code(direction, &b)) &&
                  back.direction == b.direction);
    ck_assert_ptr_null(part_code(ended, &b)); /* behind the last */
    ck_assert_ptr_null(part_code(direction, &b));
    ck_assert(!part_set_code(ended, &back, "snapped") && !part_set_code(ended, &back, NULL));
    ck_assert_int_eq(back.end, BEND_HELD);
    ck_assert(part_set_code(ended, &back, "not_done") && back.end == BEND_NOT_DONE);
    ck_assert(part_set_code(ended, &back, "broke") && back.end == BEND_BROKE);
    ck_assert(part_set_code(direction, &back, "root_opening"));
    ck_assert_int_eq(back.direction, BEND_ROOT_OPENING);
}
END_TEST

static void write_row(const struct part_row *row, void *base, int i)
{
    if (row->kind == PART_NUMBER)
        *(double *)(void *)((char *)base + row->offset) = i + 0.5;
    else if (part_is_text(row))
        *(char **)(void *)((char *)base + row->offset) = mem_format("text %d", i);
    else
        part_set_whole(row, base, 1);
}

/* Every row of every part is counted, copied, and gone after it was taken away. */
START_TEST(parts_are_items)
{
    for (enum part_id id = 0; id < PARTS; id++) {
        const struct part_table *part = &part_tables[id];
        struct coupon c, copy;
        int i = 0;

        coupon_init(&c);
        ck_assert_uint_eq(part_count(&c, id), 0);
        for (const struct part_row *row = part->rows; row->key != NULL; row++, i++) {
            void *item =
                row == part->rows || part->size == 0 ? part_add(&c, id) : part_item(&c, id, 0);

            ck_assert(!part_known(row, item));
            write_row(row, item, i);
            ck_assert(part_known(row, item));
            ck_assert_uint_eq(part_count(&c, id), 1);
        }
        coupon_copy(&copy, &c);
        ck_assert_uint_eq(part_count(&copy, id), 1);
        for (const struct part_row *row = part->rows; row->key != NULL; row++) {
            char *a = part_write(row, part_item(&c, id, 0));
            char *b = part_write(row, part_item(&copy, id, 0));

            ck_assert_str_eq(a, b);
            free(a);
            free(b);
        }
        if (part->size > 0) {
            part_add(&c, id);
            part_remove(&c, id, 0);
            ck_assert_uint_eq(part_count(&c, id), 1);
            for (const struct part_row *row = part->rows; row->key != NULL; row++)
                ck_assert(!part_known(row, part_item(&c, id, 0)));
        }
        coupon_free(&c);
        coupon_free(&copy);
    }
}
END_TEST

/* ISO 6520-1 numbers (from memory of the standard): 1xx cracks, 2xx cavities, 3xx solid
 * inclusions, 4xx lack of fusion and penetration, 5xx shape, 6xx others. */
START_TEST(flaws_by_number)
{
    const struct flaw_kind *k;
    int count = 0;

    for (size_t i = 0; (k = flaw_kind_at(i)) != NULL; i++, count++) {
        ck_assert_ptr_eq(flaw_kind_find(k->iso6520), k);
        ck_assert_uint_gt(strlen(k->name), 3);
    }
    ck_assert_int_ge(count, 15);
    ck_assert_str_eq(flaw_kind_find(4013)->name, "lack of root fusion");
    ck_assert(flaw_kind_find(4013)->unfused && flaw_kind_find(4021)->unfused);
    ck_assert(!flaw_kind_find(2011)->unfused && !flaw_kind_find(602)->unfused);
    ck_assert_ptr_null(flaw_kind_find(9999));
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("model/coupon");
    TCase *t = tcase_create("coupon");

    tcase_add_test(t, a_copy_shares_nothing);
    tcase_add_test(t, a_new_coupon_starts_from_the_last_set_up);
    tcase_add_test(t, values_are_replaced_and_unset);
    tcase_add_test(t, a_value_set_after_another_was_unset_is_whole);
    tcase_add_test(t, lists_own_their_coupons);
    tcase_add_test(t, codes_go_both_ways);
    tcase_add_test(t, parts_are_items);
    tcase_add_test(t, flaws_by_number);
    suite_add_tcase(s, t);
    return s;
}
