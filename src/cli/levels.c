#include "cli/levels.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/text.h"
#include "cli/pairs.h"
#include "model/coupon.h"

/* A level is read like a value of a coupon, so that it can be welded and ranked later, and kept in
 * the tidy form of an entry. */
static int add_level(const struct session *s, const struct variable *v, struct level_set *set,
                     const char *level, struct error *e)
{
    const struct value *value;
    struct coupon probe;
    struct intake in = {.units = s->units, .sure = true, .error = e};
    int rc;

    coupon_init(&probe);
    rc = coupon_set_from_text(&probe, v, level, &in);
    value = coupon_value(&probe, v->key);
    if (rc == 0)
        level_set_add(set, value != NULL && value->text != NULL ? value->text : level);
    coupon_free(&probe);
    return rc;
}

static void clear_levels(struct level_set *set)
{
    while (set->count > 0)
        free(set->levels[--set->count]);
}

static void drop_set(struct trial *t, struct level_set *set)
{
    clear_levels(set);
    free(set->levels);
    free(set->variable);
    array_cut(t->sets, t->set_count--, (size_t)(set - t->sets), sizeof *t->sets);
}

static int fill_set(const struct session *s, struct trial *t, const struct variable *v, char *list,
                    struct error *e)
{
    const char *separator = strchr(list, ';') != NULL ? ";" : ",";
    struct level_set *set = trial_set_for(t, v->key);
    char *level;
    int rc = 0;

    clear_levels(set);
    while (rc == 0 && (level = strsep(&list, separator)) != NULL) {
        level = text_trim(level);
        if (*level != '\0')
            rc = add_level(s, v, set, level, e);
    }
    if (set->count == 0)
        drop_set(t, set);
    return rc;
}

int levels_set(const struct session *s, struct trial *t, const char *text, struct error *e)
{
    const struct variable *v;
    struct pair pair;
    int rc;

    if (strchr(text, '=') == NULL)
        return error_set(e, ERROR_USAGE, "--levels %s: VARIABLE=A,B,... is right", text);
    if (pair_split(text, &pair, e) < 0)
        return -1;
    v = variable_find(&s->variables, pair.key);
    if (v == NULL || v->role != ROLE_CAUSE || v->group == GROUP_DERIVED)
        rc = error_set(e, ERROR_INPUT, "'%s' is not a variable that can be set", pair.key);
    else
        rc = fill_set(s, t, v, pair.value, e);
    if (rc < 0)
        error_where(e, "--levels %s", pair.key);
    pair_free(&pair);
    return rc;
}
