#include "model/trial.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"

void trial_init(struct trial *t)
{
    memset(t, 0, sizeof *t);
    t->stop_deg = NAN;
}

static void level_set_free(struct level_set *set)
{
    for (size_t i = 0; i < set->count; i++)
        free(set->levels[i]);
    free(set->levels);
    free(set->variable);
}

void trial_free(struct trial *t)
{
    for (size_t i = 0; i < t->set_count; i++)
        level_set_free(&t->sets[i]);
    free(t->sets);
    free(t->name);
    free(t->question);
    free(t->result);
    free(t->note);
    free(t->struck_why);
    trial_init(t);
}

static struct level_set *add_set(struct trial *t, const char *variable)
{
    struct level_set *set;

    t->sets = array_reserve(t->sets, &t->set_capacity, t->set_count + 1, sizeof *t->sets);
    set = &t->sets[t->set_count++];
    memset(set, 0, sizeof *set);
    set->variable = mem_copy(variable);
    return set;
}

struct level_set *trial_set_for(struct trial *t, const char *variable)
{
    for (size_t i = 0; i < t->set_count; i++)
        if (strcmp(t->sets[i].variable, variable) == 0)
            return &t->sets[i];
    return add_set(t, variable);
}

void level_set_add(struct level_set *set, const char *level)
{
    for (size_t i = 0; i < set->count; i++)
        if (strcmp(set->levels[i], level) == 0)
            return;
    set->levels = array_reserve(set->levels, &set->capacity, set->count + 1, sizeof *set->levels);
    set->levels[set->count++] = mem_copy(level);
}

void trial_copy(struct trial *to, const struct trial *from)
{
    trial_init(to);
    memcpy(to->id, from->id, sizeof to->id);
    to->name = mem_copy(from->name);
    to->question = mem_copy(from->question);
    to->result = mem_copy(from->result);
    to->stop_deg = from->stop_deg;
    to->revision = from->revision;
    to->when = from->when;
    to->note = mem_copy(from->note);
    to->struck_why = mem_copy(from->struck_why);
    for (size_t i = 0; i < from->set_count; i++) {
        struct level_set *set = add_set(to, from->sets[i].variable);

        for (size_t j = 0; j < from->sets[i].count; j++)
            level_set_add(set, from->sets[i].levels[j]);
    }
}

void trial_list_free(struct trial_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        trial_free(&list->items[i]);
    free(list->items);
    memset(list, 0, sizeof *list);
}

struct trial *trial_list_add(struct trial_list *list)
{
    list->items = array_reserve(list->items, &list->capacity, list->count + 1, sizeof *list->items);
    trial_init(&list->items[list->count]);
    return &list->items[list->count++];
}

struct trial *trial_list_find(const struct trial_list *list, const char *name)
{
    for (size_t i = 0; i < list->count; i++)
        if (text_same(list->items[i].name, name))
            return &list->items[i];
    return NULL;
}

struct trial *trial_list_with_id(const struct trial_list *list, const char *id)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->items[i].id, id) == 0)
            return &list->items[i];
    return NULL;
}
