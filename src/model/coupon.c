#include "model/coupon.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/part.h"

void coupon_init(struct coupon *c)
{
    memset(c, 0, sizeof *c);
    part_clear(part_bend_rows, &c->bend);
    part_clear(part_face_rows, c);
}

void coupon_free(struct coupon *c)
{
    for (size_t i = 0; i < c->value_count; i++) {
        free(c->values[i].variable);
        free(c->values[i].text);
    }
    for (enum part_id id = 0; id < PARTS; id++)
        part_drop(c, id);
    free(c->values);
    free(c->passes);
    free(c->flaws);
    free(c->photos);
    free(c->mark);
    free(c->who);
    free(c->note);
    free(c->struck_why);
    memset(c, 0, sizeof *c);
}

static void copy_values(struct coupon *to, const struct coupon *from)
{
    to->values = array_reserve(NULL, &to->value_capacity, from->value_count, sizeof *to->values);
    for (size_t i = 0; i < from->value_count; i++) {
        to->values[i] = from->values[i];
        to->values[i].variable = mem_copy(from->values[i].variable);
        to->values[i].text = mem_copy(from->values[i].text);
    }
    to->value_count = from->value_count;
}

void coupon_copy(struct coupon *to, const struct coupon *from)
{
    coupon_init(to);
    memcpy(to->id, from->id, sizeof to->id);
    memcpy(to->trial, from->trial, sizeof to->trial);
    to->sequence = from->sequence;
    to->revision = from->revision;
    part_copy(part_coupon_rows, to, from);
    part_copy(part_note_rows, to, from);
    to->struck_why = mem_copy(from->struck_why);
    copy_values(to, from);
    for (enum part_id id = 0; id < PARTS; id++)
        for (size_t i = 0; i < part_count(from, id); i++)
            part_copy(part_tables[id].rows, part_add(to, id), part_item(from, id, i));
    for (size_t i = 0; i < from->pass_count; i++)
        to->passes[i].number = from->passes[i].number;
}

static void set_like(struct coupon *to, const struct value *value)
{
    if (value->kind == VARIABLE_CATEGORY)
        coupon_set_category(to, value->variable, value->text);
    else
        coupon_set_number(to, value->variable, value->measure, value->text);
}

void coupon_set_up_like(struct coupon *to, const struct coupon *from,
                        const struct variable_list *variables)
{
    coupon_init(to);
    if (from == NULL)
        return;
    memcpy(to->trial, from->trial, sizeof to->trial);
    to->who = mem_copy(from->who);
    for (size_t i = 0; i < from->value_count; i++) {
        const struct variable *v = variable_find(variables, from->values[i].variable);

        if (v != NULL && v->role == ROLE_CAUSE)
            set_like(to, &from->values[i]);
    }
}

struct pass *coupon_add_pass(struct coupon *c)
{
    return part_add(c, PART_PASS);
}

struct flaw *coupon_add_flaw(struct coupon *c)
{
    return part_add(c, PART_FLAW);
}

struct photo *coupon_add_photo(struct coupon *c)
{
    return part_add(c, PART_PHOTO);
}

void coupon_list_free(struct coupon_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        coupon_free(&list->items[i]);
    free(list->items);
    memset(list, 0, sizeof *list);
}

struct coupon *coupon_list_add(struct coupon_list *list)
{
    list->items = array_reserve(list->items, &list->capacity, list->count + 1, sizeof *list->items);
    coupon_init(&list->items[list->count]);
    return &list->items[list->count++];
}

/* The keys in the order they first come up: mostly those of one coupon are those of the next, so
 * the search goes on behind the last one. */
struct keys {
    const char **items;
    size_t count, capacity, next;
};

static void add_key(struct keys *keys, const char *key)
{
    for (size_t i = 0; i < keys->count; i++) {
        size_t at = (keys->next + i) % keys->count;

        if (strcmp(keys->items[at], key) == 0) {
            keys->next = at + 1;
            return;
        }
    }
    keys->items = array_reserve(keys->items, &keys->capacity, keys->count + 1, sizeof *keys->items);
    keys->items[keys->count++] = key;
}

bool *coupon_list_said(const struct coupon_list *list, bool with_struck,
                       const struct variable_list *variables)
{
    bool *said = mem_zero(variables->count, sizeof *said);
    struct keys keys = {0};

    for (size_t i = 0; i < list->count; i++)
        for (size_t j = 0; j < list->items[i].value_count; j++)
            if (with_struck || list->items[i].struck_why == NULL)
                add_key(&keys, list->items[i].values[j].variable);
    for (size_t i = 0; i < variables->count; i++)
        for (size_t j = 0; j < keys.count; j++)
            said[i] |= strcmp(keys.items[j], variables->items[i].key) == 0;
    free(keys.items);
    return said;
}

bool coupon_list_has(const struct coupon_list *list, const char *key)
{
    for (size_t i = 0; i < list->count; i++)
        if (coupon_value(&list->items[i], key) != NULL)
            return true;
    return false;
}
