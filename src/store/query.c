#include "store/query.h"

#include <assert.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"
#include "store/db.h"

/* Of the columns, or of the values to put in. They are mostly named in order, so the search for one
 * begins behind the last. */
struct names {
    char **items;
    size_t count, next;
};

/* Of query_begin_row(). */
struct row {
    const char *table, *key;
    const char *const *columns; /* only while it is looked for */
};

struct query {
    struct book *book;
    sqlite3_stmt *stmt;
    struct row row; /* what it was made from; no table: a text */
    struct names columns, values;
    bool busy;
    char refused[32]; /* name of a value that was no proper text; "" */
};

/* Statements mostly follow each other as before, many times the same one. */
static struct query *find_query(struct book *book, const void *what,
                                bool (*is)(const struct query *q, const void *what))
{
    for (size_t i = 0; i < book->query_count; i++) {
        size_t at = (book->query_last + i) % book->query_count;

        if (is(book->queries[at], what))
            return book->queries[book->query_last = at];
    }
    return NULL;
}

static bool has_text(const struct query *q, const void *sql)
{
    return strcmp(sqlite3_sql(q->stmt), sql) == 0;
}

static void keep_name(struct names *names, const char *name)
{
    names->items = mem_resize(names->items, names->count + 1, sizeof *names->items);
    names->items[names->count++] = mem_copy(name);
}

static size_t place_among(struct names *names, const char *name)
{
    for (size_t i = 0; i < names->count; i++) {
        size_t at = (names->next + i) % names->count;

        if (strcmp(names->items[at], name) == 0) {
            names->next = at + 1;
            return at;
        }
    }
    assert(!"the query has this name");
    return 0;
}

static void free_names(struct names *names)
{
    for (size_t i = 0; i < names->count; i++)
        free(names->items[i]);
    free(names->items);
}

/* The values are the columns, each with a colon; to compare them is less work than to write the
 * statement again for every row. */
static bool has_row(const struct query *q, const void *what)
{
    const struct row *row = what;

    if (q->row.table == NULL || strcmp(q->row.table, row->table) != 0 || q->row.key != row->key)
        return false;
    for (size_t i = 0; i < q->values.count; i++)
        if (row->columns[i] == NULL || strcmp(q->values.items[i] + 1, row->columns[i]) != 0)
            return false;
    return row->columns[q->values.count] == NULL;
}

static struct query *keep_query(struct book *book, sqlite3_stmt *stmt)
{
    struct query *q = mem_zero(1, sizeof *q);

    q->book = book;
    q->stmt = stmt;
    for (int i = 0; i < sqlite3_column_count(stmt); i++)
        keep_name(&q->columns, sqlite3_column_name(stmt, i));
    for (int i = 1; i <= sqlite3_bind_parameter_count(stmt); i++)
        keep_name(&q->values, sqlite3_bind_parameter_name(stmt, i));
    book->queries = array_reserve(book->queries, &book->query_capacity, book->query_count + 1,
                                  sizeof(struct query *));
    book->queries[book->query_count++] = q;
    return q;
}

static struct query *prepare(struct book *book, const char *sql, struct error *e)
{
    sqlite3_stmt *stmt = NULL;
    int code;

    errno = 0;
    code = sqlite3_prepare_v3(book->sqlite, sql, -1, SQLITE_PREPARE_PERSISTENT, &stmt, NULL);
    if (code == SQLITE_OK)
        return keep_query(book, stmt);
    db_failed(book, code, e);
    return NULL;
}

static void begin(struct query *q)
{
    if (q == NULL)
        return;
    assert(!q->busy);
    q->busy = true;
    q->refused[0] = '\0';
    sqlite3_clear_bindings(q->stmt);
}

struct query *query_begin(struct book *book, const char *sql, const char *key, struct error *e)
{
    struct query *q = find_query(book, sql, has_text);

    if (q == NULL)
        q = prepare(book, sql, e);
    begin(q);
    if (key != NULL)
        query_put_text(q, ":key", key);
    return q;
}

struct query *query_begin_number(struct book *book, const char *sql, int64_t key, struct error *e)
{
    struct query *q = query_begin(book, sql, NULL, e);

    query_put_int(q, ":key", key);
    return q;
}

int64_t query_last_id(const struct book *book)
{
    return sqlite3_last_insert_rowid(book->sqlite);
}

/* "(:id, :mark)" */
static void add_names(struct text *sql, const char *before, const char *const *names)
{
    text_add(sql, "(");
    for (size_t i = 0; names[i] != NULL; i++) {
        text_add(sql, i > 0 ? ", " : "");
        text_add(sql, before);
        text_add(sql, names[i]);
    }
    text_add(sql, ")");
}

static struct query *prepare_row(struct book *book, const struct row *row, struct error *e)
{
    struct text sql = {0};
    struct query *q;

    text_addf(&sql, "INSERT INTO %s ", row->table);
    add_names(&sql, "", row->columns);
    text_add(&sql, " VALUES ");
    add_names(&sql, ":", row->columns);
    if (row->key != NULL) {
        text_addf(&sql, " ON CONFLICT (%s) DO UPDATE SET ", row->key);
        add_names(&sql, "", row->columns);
        text_add(&sql, " = ");
        add_names(&sql, ":", row->columns);
    }
    q = prepare(book, text_str(&sql), e);
    text_free(&sql);
    if (q != NULL)
        q->row = (struct row){.table = row->table, .key = row->key};
    return q;
}

struct query *query_begin_row(struct book *book, const char *table, const char *const *columns,
                              const char *key, struct error *e)
{
    struct row row = {table, key, columns};
    struct query *q = find_query(book, &row, has_row);

    if (q == NULL)
        q = prepare_row(book, &row, e);
    begin(q);
    return q;
}

void query_forget_all(struct book *book)
{
    for (size_t i = 0; i < book->query_count; i++) {
        sqlite3_finalize(book->queries[i]->stmt);
        free_names(&book->queries[i]->columns);
        free_names(&book->queries[i]->values);
        free(book->queries[i]);
    }
    free(book->queries);
    book->queries = NULL;
    book->query_count = book->query_capacity = book->query_last = 0;
}

static int place_of(struct query *q, const char *name)
{
    return (int)place_among(&q->values, name) + 1;
}

void query_put_text(struct query *q, const char *name, const char *text)
{
    if (q == NULL)
        return;
    if (text != NULL && !text_valid(text))
        snprintf(q->refused, sizeof q->refused, "%s", name + 1);
    sqlite3_bind_text(q->stmt, place_of(q, name), text, -1, SQLITE_TRANSIENT);
}

/* SQLite takes NAN for NULL itself. */
void query_put_real(struct query *q, const char *name, double value)
{
    if (q != NULL)
        sqlite3_bind_double(q->stmt, place_of(q, name), value);
}

void query_put_int(struct query *q, const char *name, int64_t value)
{
    if (q != NULL)
        sqlite3_bind_int64(q->stmt, place_of(q, name), value);
}

/* In `out`. */
static const char *join(char out[48], const char *prefix, const char *end)
{
    text_put(out, 48, prefix);
    text_put(out + strlen(out), 48 - strlen(out), end);
    return out;
}

void query_put_instant(struct query *q, const char *prefix, struct instant when)
{
    char name[48];

    query_put_int(q, join(name, prefix, "_utc_ms"), when.utc_ms);
    query_put_int(q, join(name, prefix, "_offset_min"), when.offset_minutes);
}

void query_end(struct query *q)
{
    if (q == NULL)
        return;
    sqlite3_reset(q->stmt);
    q->busy = false;
}

int query_next(struct query *q, struct error *e)
{
    int code;

    if (q == NULL)
        return -1;
    if (q->refused[0] != '\0') {
        query_end(q);
        return error_set(e, ERROR_INPUT, "the %s has control characters or is not UTF-8%s",
                         q->refused, db_undone(q->book));
    }
    errno = 0;
    code = sqlite3_step(q->stmt);
    if (code == SQLITE_ROW)
        return 1;
    if (code != SQLITE_DONE)
        db_failed(q->book, code, e);
    query_end(q);
    return code == SQLITE_DONE ? 0 : -1;
}

int query_run(struct query *q, struct error *e)
{
    int got;

    while ((got = query_next(q, e)) > 0)
        continue;
    return got;
}

int query_number(struct book *book, const char *sql, const char *key, int64_t *out, struct error *e)
{
    struct query *q = query_begin(book, sql, key, e);
    int got = query_next(q, e);

    if (got <= 0)
        return got;
    *out = sqlite3_column_int64(q->stmt, 0);
    query_end(q);
    return 0;
}

int query_delete(struct book *book, const char *table, const char *column, int64_t key,
                 struct error *e)
{
    char *sql = mem_format("DELETE FROM %s WHERE %s = :key", table, column);
    struct query *q = query_begin_number(book, sql, key, e);

    free(sql);
    return query_run(q, e);
}

static int column_of(struct query *q, const char *column)
{
    return (int)place_among(&q->columns, column);
}

const char *query_maybe(struct query *q, const char *column)
{
    return (const char *)sqlite3_column_text(q->stmt, column_of(q, column));
}

const char *query_text(struct query *q, const char *column)
{
    const char *text = query_maybe(q, column);

    return text != NULL ? text : "";
}

char *query_copy(struct query *q, const char *column)
{
    return mem_copy(query_maybe(q, column));
}

double query_real(struct query *q, const char *column)
{
    int at = column_of(q, column);

    return sqlite3_column_type(q->stmt, at) == SQLITE_NULL ? NAN
                                                           : sqlite3_column_double(q->stmt, at);
}

int64_t query_int(struct query *q, const char *column)
{
    return sqlite3_column_int64(q->stmt, column_of(q, column));
}

struct instant query_instant(struct query *q, const char *prefix)
{
    struct instant when;
    char name[48];

    when.utc_ms = query_int(q, join(name, prefix, "_utc_ms"));
    when.offset_minutes = (int)query_int(q, join(name, prefix, "_offset_min"));
    return when;
}
