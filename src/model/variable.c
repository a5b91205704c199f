#include "model/variable.h"

#include <assert.h>
#include <ctype.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"

static const char *const group_names[VARIABLE_GROUPS] = {
    [GROUP_MACHINE] = "Machine",     [GROUP_WIRE] = "Wire",      [GROUP_GAS] = "Gas",
    [GROUP_PLATE] = "Plate",         [GROUP_JOINT] = "Joint",    [GROUP_HEAT] = "Heat",
    [GROUP_TECHNIQUE] = "Technique", [GROUP_OTHER] = "Your own", [GROUP_RESULT] = "Result",
    [GROUP_DERIVED] = "Computed",
};

enum { KEY_SIZE = 64 };

static struct variable *add_row(struct variable_list *list)
{
    list->items = array_reserve(list->items, &list->capacity, list->count + 1, sizeof *list->items);
    return &list->items[list->count++];
}

void variable_list_init(struct variable_list *list)
{
    memset(list, 0, sizeof *list);
    list->items = array_reserve(NULL, &list->capacity, variable_table_count, sizeof *list->items);
    memcpy(list->items, variable_table, variable_table_count * sizeof *list->items);
    list->count = variable_table_count;
}

/* The strings of the user's own rows were copied by variable_add(). */
static void free_own(struct variable *v)
{
    const char *const strings[] = {v->key, v->label, v->unit, v->choices, v->help};

    for (size_t i = 0; i < sizeof strings / sizeof *strings; i++)
        free((char *)(uintptr_t)strings[i]);
}

void variable_list_free(struct variable_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].own)
            free_own(&list->items[i]);
    free(list->items);
    memset(list, 0, sizeof *list);
}

static char folded(char c)
{
    return c == ' ' || c == '-' ? '_' : (char)tolower((unsigned char)c);
}

static bool same_name(const char *a, const char *b)
{
    while (*a != '\0' && folded(*a) == folded(*b)) {
        a++;
        b++;
    }
    return *a == '\0' && *b == '\0';
}

const struct variable *variable_find(const struct variable_list *list, const char *name)
{
    for (size_t i = 0; i < list->count; i++)
        if (same_name(list->items[i].key, name))
            return &list->items[i];
    for (size_t i = 0; i < list->count; i++)
        if (same_name(list->items[i].label, name))
            return &list->items[i];
    return NULL;
}

const struct variable *variable_find_result(const struct variable_list *list, const char *name)
{
    const struct variable *v = variable_find(list, name), *beside;
    const char *unit = strrchr(name, '(');
    char *other;

    if (v == NULL && unit != NULL && unit != name) {
        other = mem_copy_part(name, (size_t)(unit - name));
        v = variable_find(list, text_trim(other));
        free(other);
    }
    if (v == NULL || v->role == ROLE_RESULT)
        return v;
    other = mem_format("%s_result", v->key);
    beside = variable_find(list, other);
    free(other);
    return beside != NULL && beside->role == ROLE_RESULT ? beside : v;
}

static bool well_formed(const char *key)
{
    size_t length = strspn(key, "abcdefghijklmnopqrstuvwxyz0123456789_");

    return length > 0 && length < KEY_SIZE && key[length] == '\0' && key[0] != '_' &&
           !isdigit((unsigned char)key[0]);
}

/* Names of what belongs to every coupon; as variables they would collide in tables. */
static bool reserved(const char *key)
{
    static const char *const names[] = {"mark", "when", "who", "note", "struck", "trial", "id"};

    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (strcmp(names[i], key) == 0)
            return true;
    return false;
}

int variable_add(struct variable_list *list, const struct variable *own, struct error *e)
{
    const char *label = own->label == NULL ? own->key : own->label;
    struct variable copy = *own;

    if (!well_formed(own->key))
        return error_set(e, ERROR_INPUT,
                         "'%s' cannot be a key; it takes small letters, digits and underscores, "
                         "begins with a letter and has at most %d characters",
                         own->key, KEY_SIZE - 1);
    if (reserved(own->key))
        return error_set(e, ERROR_INPUT, "'%s' is part of every coupon; choose another name",
                         own->key);
    if (variable_find(list, own->key) != NULL || variable_find(list, label) != NULL)
        return error_set(e, ERROR_INPUT, "there is a variable '%s' already; choose another name",
                         variable_find(list, own->key) != NULL ? own->key : label);
    copy.key = mem_copy(own->key);
    copy.label = mem_copy(label);
    copy.unit = mem_copy(own->unit);
    copy.choices = mem_copy(own->choices);
    copy.help = mem_copy(own->help);
    copy.own = true;
    *add_row(list) = copy;
    return 0;
}

void variable_drop_last(struct variable_list *list)
{
    assert(list->count > 0 && list->items[list->count - 1].own);
    free_own(&list->items[--list->count]);
}

bool variable_key_from_name(const char *name, char *out, size_t size)
{
    size_t put = 0, most = size < KEY_SIZE ? size : KEY_SIZE;
    bool gap = false;

    for (; *name != '\0'; name++) {
        const char *lead = gap ? "_" : put == 0 && isdigit((unsigned char)*name) ? "v_" : "";
        size_t bytes = strlen(lead);

        if (!isascii((unsigned char)*name) || !isalnum((unsigned char)*name)) {
            gap = put > 0;
            continue;
        }
        if (put + bytes + 1 >= most)
            break;
        memcpy(out + put, lead, bytes);
        put += bytes;
        gap = false;
        out[put++] = (char)tolower((unsigned char)*name);
    }
    out[put] = '\0';
    return put > 0;
}

const char *variable_group_name(enum variable_group group)
{
    assert(group < VARIABLE_GROUPS);
    return group_names[group];
}

const struct unit *variable_own_unit(const struct variable *v)
{
    if (v->dimension != DIM_NUMBER || v->unit == NULL)
        return NULL;
    return unit_find(v->unit, strlen(v->unit), DIMENSIONS);
}

/* Bytes of the number in front of "135 MAG solid wire"; 0 for a choice in words. */
static size_t choice_code(const char *choice)
{
    size_t digits = strspn(choice, "0123456789");

    return choice[digits] == ' ' ? digits : 0;
}

struct usual_choice variable_choice(const struct variable *v, const char *text)
{
    size_t typed = strlen(text);

    for (const char *s = v->choices; s != NULL && *s != '\0';) {
        size_t length = strcspn(s, "|"), code = choice_code(s);

        if ((typed == length || (typed > 0 && typed == code)) && strncasecmp(s, text, typed) == 0)
            return (struct usual_choice){s, length, code};
        s += length + (s[length] == '|');
    }
    return (struct usual_choice){0};
}

const char *variable_unit(const struct variable *v, enum unit_system system)
{
    const struct unit *unit = unit_shown(v->dimension, system);

    if (v->kind == VARIABLE_CATEGORY)
        return "";
    if (v->unit != NULL)
        return v->unit;
    return unit == NULL ? "" : unit->symbol;
}
