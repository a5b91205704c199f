#include "store/variable_ids.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "store/db.h"
#include "store/query.h"

enum { MOST_IDS = 1000000 };

void variable_ids_forget(struct book *book)
{
    for (size_t i = 0; i < book->variable_key_count; i++)
        free(book->variable_keys[i]);
    free(book->variable_keys);
    book->variable_keys = NULL;
    book->variable_key_count = book->variable_key_capacity = 0;
}

static void keep_key(struct book *book, size_t id, const char *key)
{
    book->variable_keys = array_reserve(book->variable_keys, &book->variable_key_capacity, id + 1,
                                        sizeof *book->variable_keys);
    while (book->variable_key_count <= id)
        book->variable_keys[book->variable_key_count++] = NULL;
    free(book->variable_keys[id]);
    book->variable_keys[id] = mem_copy(key);
}

static int read_ids(struct book *book, struct error *e)
{
    struct query *q = query_begin(book, "SELECT id, key FROM variable", NULL, e);
    int got;

    variable_ids_forget(book);
    while ((got = query_next(q, e)) > 0)
        if (query_int(q, "id") > 0 && query_int(q, "id") < MOST_IDS)
            keep_key(book, (size_t)query_int(q, "id"), query_text(q, "key"));
    return got;
}

/* 0 when it is not in the list. Values of a coupon mostly come in the order of their numbers, so
 * the search goes on where the last one ended. */
static int64_t look_up(struct book *book, const char *key)
{
    for (size_t i = 0; i < book->variable_key_count; i++) {
        size_t id = (book->variable_last + 1 + i) % book->variable_key_count;

        if (book->variable_keys[id] != NULL && strcmp(book->variable_keys[id], key) == 0)
            return (int64_t)(book->variable_last = id);
    }
    return 0;
}

int variable_id(struct book *book, const char *key, int64_t *out, struct error *e)
{
    struct query *q;

    *out = look_up(book, key);
    if (*out != 0)
        return 0;
    q = query_begin(book, "INSERT INTO variable (key) VALUES (:key) ON CONFLICT (key) DO NOTHING",
                    key, e);
    if (query_run(q, e) < 0 || read_ids(book, e) < 0)
        return -1;
    *out = look_up(book, key);
    return *out != 0 ? 0 : db_damaged(book, "its variables have no numbers", e);
}

const char *variable_key_of(struct book *book, int64_t id, struct error *e)
{
    for (int tries = 0; tries < 2; tries++) {
        if (id > 0 && (size_t)id < book->variable_key_count && book->variable_keys[id] != NULL)
            return book->variable_keys[id];
        if (tries == 0 && read_ids(book, e) < 0)
            return NULL;
    }
    db_damaged(book, "a value belongs to no variable", e);
    return NULL;
}
