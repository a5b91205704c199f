#include "app/coupon_changes.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "model/part.h"

enum { SHOWN = 160 };

/* Takes `from` and `to`. */
static void add(struct coupon_changes *all, const char *what, char *from, char *to)
{
    if (strcmp(from, to) == 0) {
        free(from);
        free(to);
        return;
    }
    all->items = array_reserve(all->items, &all->capacity, all->count + 1, sizeof *all->items);
    all->items[all->count++] = (struct coupon_change){mem_copy(what), from, to};
}

static char *show_value(const struct coupon *c, const struct variable *v, enum unit_system units)
{
    char shown[SHOWN];

    value_show(shown, sizeof shown, coupon_value(c, v->key), v, units);
    return mem_copy(shown);
}

static void add_values(struct coupon_changes *all, const struct variable_list *variables,
                       const struct coupon *before, const struct coupon *after,
                       enum unit_system units)
{
    for (size_t i = 0; i < variables->count; i++) {
        const struct variable *v = &variables->items[i];

        if (coupon_value(before, v->key) != NULL || coupon_value(after, v->key) != NULL)
            add(all, v->label, show_value(before, v, units), show_value(after, v, units));
    }
}

/* Values of a variable of the user's own that undoing has taken away since: as they were entered.
 */
static void add_strange_values(struct coupon_changes *all, const struct variable_list *variables,
                               const struct coupon *of, const struct coupon *before,
                               const struct coupon *after)
{
    for (size_t i = 0; i < of->value_count; i++) {
        const char *key = of->values[i].variable;
        const struct value *from = coupon_value(before, key), *to = coupon_value(after, key);

        if (variable_find(variables, key) == NULL && (of == before || from == NULL))
            add(all, key, mem_copy(from != NULL && from->text != NULL ? from->text : ""),
                mem_copy(to != NULL && to->text != NULL ? to->text : ""));
    }
}

/* Rows one by one of what a coupon has once: itself, its bend, its face. */
static void add_rows(struct coupon_changes *all, const struct part_row *rows, const void *before,
                     const void *after, enum unit_system units)
{
    for (; rows->key != NULL; rows++)
        add(all, rows->as.label, part_show(rows, before, units), part_show(rows, after, units));
}

static char *show_item(const struct coupon *c, enum part_id id, size_t i, enum unit_system units)
{
    return i < part_count(c, id) ? part_summary(part_tables[id].rows, part_item(c, id, i), units)
                                 : mem_copy("");
}

static void add_items(struct coupon_changes *all, enum part_id id, const struct coupon *before,
                      const struct coupon *after, enum unit_system units)
{
    for (size_t i = 0; i < part_count(before, id) || i < part_count(after, id); i++) {
        char *what = mem_format("%s %zu", part_tables[id].name, i + 1);

        add(all, what, show_item(before, id, i, units), show_item(after, id, i, units));
        free(what);
    }
}

static char *trial_name(const struct trial_list *trials, const char *id)
{
    const struct trial *trial = trial_list_with_id(trials, id);

    return mem_copy(trial != NULL ? trial->name : id);
}

struct coupon_changes coupon_changes_between(const struct variable_list *variables,
                                             const struct trial_list *trials,
                                             const struct coupon *before,
                                             const struct coupon *after, enum unit_system units)
{
    struct coupon_changes all = {0};

    add(&all, "Trial", trial_name(trials, before->trial), trial_name(trials, after->trial));
    add_rows(&all, part_coupon_rows, before, after, units);
    add_values(&all, variables, before, after, units);
    add_strange_values(&all, variables, before, before, after);
    add_strange_values(&all, variables, after, before, after);
    add_items(&all, PART_PASS, before, after, units);
    add_rows(&all, part_bend_rows, &before->bend, &after->bend, units);
    add_rows(&all, part_face_rows, before, after, units);
    add_items(&all, PART_FLAW, before, after, units);
    add_items(&all, PART_PHOTO, before, after, units);
    add_rows(&all, part_note_rows, before, after, units);
    add(&all, "Struck out", mem_copy(before->struck_why != NULL ? before->struck_why : ""),
        mem_copy(after->struck_why != NULL ? after->struck_why : ""));
    return all;
}

void coupon_changes_free(struct coupon_changes *changes)
{
    for (size_t i = 0; i < changes->count; i++) {
        free(changes->items[i].what);
        free(changes->items[i].from);
        free(changes->items[i].to);
    }
    free(changes->items);
    *changes = (struct coupon_changes){0};
}
