#include "store/variable_ids.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "model/variable.h"
#include "store/db.h"
#include "store/query.h"

void variable_ids_forget(struct book *book)
{
    for (size_t i = 0; i < book->variable_count; i++) {
        free(book->variables[i].key);
        free(book->variables[i].unit);
    }
    free(book->variables);
    book->variables = NULL;
    book->variable_count = book->variable_capacity = book->variable_last = 0;
}

static int read_ids(struct book *book, struct error *e)
{
    struct query *q = query_begin(book, "SELECT * FROM variable ORDER BY id", NULL, e);
    int got;

    variable_ids_forget(book);
    while ((got = query_next(q, e)) > 0) {
        book->variables = array_reserve(book->variables, &book->variable_capacity,
                                        book->variable_count + 1, sizeof *book->variables);
        book->variables[book->variable_count++] =
            (struct variable_id){query_int(q, "id"), query_copy(q, "key"), query_copy(q, "unit")};
    }
    return got;
}

/* Values of a coupon mostly come in the order of the numbers, so the search goes on where the last
 * one ended. */
static const struct variable_id *find_key(struct book *book, const char *key)
{
    for (size_t i = 0; i < book->variable_count; i++) {
        size_t at = (book->variable_last + 1 + i) % book->variable_count;

        if (strcmp(book->variables[at].key, key) == 0)
            return &book->variables[book->variable_last = at];
    }
    return NULL;
}

/* Of one of the program's own; a user's own is said by its row. */
static const char *unit_of(const char *key)
{
    for (size_t i = 0; i < variable_table_count; i++)
        if (strcmp(variable_table[i].key, key) == 0 && variable_table[i].kind == VARIABLE_NUMBER)
            return unit_base(variable_table[i].dimension) == NULL
                       ? NULL
                       : unit_base(variable_table[i].dimension)->symbol;
    return NULL;
}

const struct variable_id *variable_id(struct book *book, const char *key, struct error *e)
{
    const struct variable_id *found = find_key(book, key);
    struct query *q;

    if (found != NULL)
        return found;
    q = query_begin(book,
                    "INSERT INTO variable (key, unit) VALUES (:key, :unit)"
                    " ON CONFLICT (key) DO NOTHING",
                    key, e);
    query_put_text(q, ":unit", unit_of(key));
    if (query_run(q, e) < 0 || read_ids(book, e) < 0)
        return NULL;
    found = find_key(book, key);
    if (found == NULL)
        db_damaged(book, "its variables have no numbers", e);
    return found;
}

static int compare_ids(const void *key, const void *item)
{
    int64_t id = *(const int64_t *)key, other = ((const struct variable_id *)item)->id;

    return (id > other) - (id < other);
}

static const struct variable_id *find_id(const struct book *book, int64_t id)
{
    return book->variables == NULL ? NULL
                                   : bsearch(&id, book->variables, book->variable_count,
                                             sizeof *book->variables, compare_ids);
}

const struct variable_id *variable_with_id(struct book *book, int64_t id, struct error *e)
{
    const struct variable_id *found = find_id(book, id);

    if (found == NULL && read_ids(book, e) == 0 && (found = find_id(book, id)) == NULL)
        db_damaged(book, "a value belongs to no variable", e);
    return found;
}
