/* The parts of a coupon as items: counting, adding, copying and freeing what the tables describe.
 */
#include <assert.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "model/coupon.h"
#include "model/part.h"

#define MANY(type, member, count_member, capacity_member)                                          \
    .size = sizeof(struct type), .items = offsetof(struct coupon, member),                         \
    .count = offsetof(struct coupon, count_member),                                                \
    .capacity = offsetof(struct coupon, capacity_member)

const struct part_table part_tables[PARTS] = {
    [PART_PASS] = {"pass", "pass", part_pass_rows, MANY(pass, passes, pass_count, pass_capacity)},
    [PART_BEND] = {"bend", "bend", part_bend_rows, .items = offsetof(struct coupon, bend)},
    [PART_FACE] = {"face", "face", part_face_rows, .items = 0},
    [PART_FLAW] = {"flaw", "flaw", part_flaw_rows, MANY(flaw, flaws, flaw_count, flaw_capacity)},
    [PART_PHOTO] = {"photo", "photograph", part_photo_rows,
                    MANY(photo, photos, photo_count, photo_capacity)},
};

/* Bytes of a row's value. */
static const size_t sizes[] = {
    [PART_NUMBER] = sizeof(double),
    [PART_TEXT] = sizeof(char *),
    [PART_LINES] = sizeof(char *),
    [PART_SIDE] = sizeof(int),
    [PART_ENDED] = sizeof(enum bend_end),
    [PART_DIRECTION] = sizeof(enum bend_direction),
    [PART_ISO6520] = sizeof(int),
    [PART_WHEN] = sizeof(struct instant),
    [PART_YES] = sizeof(bool),
};

bool part_is_text(const struct part_row *row)
{
    return row->kind == PART_TEXT || row->kind == PART_LINES;
}

const char *part_column(const struct part_row *row)
{
    return row->column != NULL ? row->column : row->member;
}

const char *part_json(const struct part_row *row)
{
    return row->json != NULL ? row->json : row->member;
}

bool part_known(const struct part_row *row, const void *base)
{
    const void *from = (const char *)base + row->offset;

    if (row->kind == PART_NUMBER)
        return !isnan(*(const double *)from);
    if (part_is_text(row))
        return *(char *const *)from != NULL;
    if (row->kind == PART_WHEN)
        return ((const struct instant *)from)->utc_ms != 0;
    return part_whole(row, base) != 0;
}

void part_clear(const struct part_row *rows, void *base)
{
    for (; rows->key != NULL; rows++) {
        void *to = memset((char *)base + rows->offset, 0, sizes[rows->kind]);

        if (rows->kind == PART_NUMBER)
            *(double *)to = NAN;
    }
}

void part_free(const struct part_row *rows, void *base)
{
    for (const struct part_row *row = rows; row->key != NULL; row++)
        if (part_is_text(row))
            free(*(char **)(void *)((char *)base + row->offset));
    part_clear(rows, base);
}

void part_copy(const struct part_row *rows, void *to, const void *from)
{
    for (; rows->key != NULL; rows++) {
        void *target = (char *)to + rows->offset;

        memcpy(target, (const char *)from + rows->offset, sizes[rows->kind]);
        if (part_is_text(rows))
            *(char **)target = mem_copy(*(char **)target);
    }
}

static size_t *counter(struct coupon *c, size_t offset)
{
    return (size_t *)(void *)((char *)c + offset);
}

static bool any_known(const struct coupon *c, enum part_id id)
{
    const void *base = part_item(c, id, 0);

    for (const struct part_row *row = part_tables[id].rows; row->key != NULL; row++)
        if (part_known(row, base))
            return true;
    return id == PART_FACE && c->flaw_count > 0;
}

size_t part_count(const struct coupon *c, enum part_id id)
{
    assert(id < PARTS);
    if (part_tables[id].size == 0)
        return any_known(c, id);
    return *(const size_t *)(const void *)((const char *)c + part_tables[id].count);
}

static char *items_of(const struct coupon *c, enum part_id id)
{
    char *items;

    memcpy(&items, (const char *)c + part_tables[id].items, sizeof items);
    return items;
}

void *part_item(const struct coupon *c, enum part_id id, size_t i)
{
    assert(id < PARTS);
    if (part_tables[id].size == 0)
        return (char *)(uintptr_t)c + part_tables[id].items;
    assert(i < part_count(c, id));
    return items_of(c, id) + i * part_tables[id].size;
}

void *part_add(struct coupon *c, enum part_id id)
{
    const struct part_table *part = &part_tables[id];
    char *items;
    void *added;

    if (part->size == 0)
        return (char *)c + part->items;
    items = array_reserve(items_of(c, id), counter(c, part->capacity), *counter(c, part->count) + 1,
                          part->size);
    memcpy((char *)c + part->items, &items, sizeof items);
    added = items + (*counter(c, part->count))++ * part->size;
    part_clear(part->rows, added);
    if (id == PART_PASS)
        ((struct pass *)added)->number = (int)c->pass_count;
    return added;
}

void part_remove(struct coupon *c, enum part_id id, size_t i)
{
    const struct part_table *part = &part_tables[id];

    assert(part->size > 0 && i < part_count(c, id));
    part_free(part->rows, items_of(c, id) + i * part->size);
    array_cut(items_of(c, id), (*counter(c, part->count))--, i, part->size);
    for (size_t k = i; id == PART_PASS && k < c->pass_count; k++)
        c->passes[k].number = (int)k + 1;
}

void part_drop(struct coupon *c, enum part_id id)
{
    if (part_tables[id].size == 0)
        part_free(part_tables[id].rows, part_item(c, id, 0));
    else
        while (part_count(c, id) > 0)
            part_remove(c, id, part_count(c, id) - 1);
}
