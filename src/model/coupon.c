#include "model/coupon.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"

static void bend_init(struct bend *b)
{
    *b = (struct bend){
        BEND_NOT_DONE, BEND_DIRECTION_UNKNOWN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
}

void coupon_init(struct coupon *c)
{
    memset(c, 0, sizeof *c);
    bend_init(&c->bend);
    c->bead_mm = NAN;
}

void coupon_free(struct coupon *c)
{
    for (size_t i = 0; i < c->value_count; i++) {
        free(c->values[i].variable);
        free(c->values[i].text);
    }
    for (size_t i = 0; i < c->flaw_count; i++)
        free(c->flaws[i].note);
    for (size_t i = 0; i < c->photo_count; i++) {
        free(c->photos[i].path);
        free(c->photos[i].sha256);
        free(c->photos[i].note);
    }
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
    to->values = array_room(NULL, &to->value_room, from->value_count, sizeof *to->values);
    for (size_t i = 0; i < from->value_count; i++) {
        to->values[i] = from->values[i];
        to->values[i].variable = mem_copy(from->values[i].variable);
        to->values[i].text = mem_copy(from->values[i].text);
    }
    to->value_count = from->value_count;
}

static void copy_face(struct coupon *to, const struct coupon *from)
{
    for (size_t i = 0; i < from->flaw_count; i++) {
        struct flaw *f = coupon_add_flaw(to);

        *f = from->flaws[i];
        f->note = mem_copy(from->flaws[i].note);
    }
    for (size_t i = 0; i < from->photo_count; i++) {
        struct photo *p = coupon_add_photo(to);

        p->path = mem_copy(from->photos[i].path);
        p->sha256 = mem_copy(from->photos[i].sha256);
        p->note = mem_copy(from->photos[i].note);
    }
}

void coupon_copy(struct coupon *to, const struct coupon *from)
{
    coupon_init(to);
    memcpy(to->id, from->id, sizeof to->id);
    memcpy(to->trial, from->trial, sizeof to->trial);
    to->mark = mem_copy(from->mark);
    to->when = from->when;
    to->sequence = from->sequence;
    to->revision = from->revision;
    to->who = mem_copy(from->who);
    to->note = mem_copy(from->note);
    to->bend = from->bend;
    to->bead_mm = from->bead_mm;
    to->face_read = from->face_read;
    to->struck_why = mem_copy(from->struck_why);
    copy_values(to, from);
    for (size_t i = 0; i < from->pass_count; i++)
        *coupon_add_pass(to) = from->passes[i];
    copy_face(to, from);
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
    struct pass *p;

    c->passes = array_room(c->passes, &c->pass_room, c->pass_count + 1, sizeof *c->passes);
    p = &c->passes[c->pass_count++];
    *p = (struct pass){(int)c->pass_count, 0, NAN, NAN, NAN, NAN, NAN, NAN, NAN};
    return p;
}

struct flaw *coupon_add_flaw(struct coupon *c)
{
    struct flaw *f;

    c->flaws = array_room(c->flaws, &c->flaw_room, c->flaw_count + 1, sizeof *c->flaws);
    f = &c->flaws[c->flaw_count++];
    *f = (struct flaw){NAN, NAN, 0, NULL};
    return f;
}

struct photo *coupon_add_photo(struct coupon *c)
{
    c->photos = array_room(c->photos, &c->photo_room, c->photo_count + 1, sizeof *c->photos);
    memset(&c->photos[c->photo_count], 0, sizeof *c->photos);
    return &c->photos[c->photo_count++];
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
    list->items = array_room(list->items, &list->room, list->count + 1, sizeof *list->items);
    coupon_init(&list->items[list->count]);
    return &list->items[list->count++];
}

struct coupon *coupon_list_find(const struct coupon_list *list, const char *mark)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].struck_why == NULL && text_same(list->items[i].mark, mark))
            return &list->items[i];
    for (size_t i = 0; i < list->count; i++)
        if (text_same(list->items[i].mark, mark))
            return &list->items[i];
    return NULL;
}
