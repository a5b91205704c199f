#include "cli/pairs.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"

int pair_split(const char *argument, struct pair *out, struct error *e)
{
    const char *equals = strchr(argument, '=');

    out->key = out->value = NULL;
    if (equals == NULL || equals == argument)
        return error_set(e, ERROR_USAGE, "'%s' is not KEY=VALUE, such as volts=18.5V", argument);
    out->key = mem_copy_part(argument, (size_t)(equals - argument));
    out->value = mem_copy(equals + 1);
    return 0;
}

void pair_free(struct pair *p)
{
    free(p->key);
    free(p->value);
    p->key = p->value = NULL;
}

static void join(struct pair *last, const char *word)
{
    char *joined = mem_format("%s %s", last->value, word);

    free(last->value);
    last->value = joined;
}

static int add_word(struct pairs *out, const char *word, struct error *e)
{
    if (strchr(word, '=') == NULL && out->count > 0) {
        join(&out->items[out->count - 1], word);
        return 0;
    }
    out->items = array_reserve(out->items, &out->capacity, out->count + 1, sizeof *out->items);
    if (pair_split(word, &out->items[out->count], e) < 0)
        return -1;
    out->count++;
    return 0;
}

int pairs_read(struct pairs *out, const char *text, struct error *e)
{
    char *copy = mem_copy(text), *rest = copy, *word;
    int rc = 0;

    memset(out, 0, sizeof *out);
    while (rc == 0 && (word = strsep(&rest, " \t")) != NULL)
        if (*word != '\0')
            rc = add_word(out, word, e);
    free(copy);
    if (rc < 0)
        pairs_free(out);
    return rc;
}

void pairs_free(struct pairs *p)
{
    for (size_t i = 0; i < p->count; i++)
        pair_free(&p->items[i]);
    free(p->items);
    memset(p, 0, sizeof *p);
}
