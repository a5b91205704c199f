#include "store/db.h"

#include <assert.h>
#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"

struct query {
    struct book *book;
    sqlite3_stmt *stmt;
    int columns, at; /* columns are mostly asked for in order: look behind the last one first */
    bool busy;
    char refused[32]; /* name of a value that was no proper text; "" */
};

static struct query *find_query(struct book *book, const char *sql)
{
    for (size_t i = 0; i < book->query_count; i++)
        if (strcmp(sqlite3_sql(book->queries[i]->stmt), sql) == 0)
            return book->queries[i];
    return NULL;
}

static struct query *keep_query(struct book *book, sqlite3_stmt *stmt)
{
    struct query *q = mem_zero(1, sizeof *q);

    q->book = book;
    q->stmt = stmt;
    q->columns = sqlite3_column_count(stmt);
    book->queries = array_reserve(book->queries, &book->query_capacity, book->query_count + 1,
                                  sizeof(struct query *));
    book->queries[book->query_count++] = q;
    return q;
}

struct query *db_query(struct book *book, const char *sql, struct error *e)
{
    struct query *q = find_query(book, sql);

    if (q == NULL) {
        sqlite3_stmt *stmt = NULL;
        int code =
            sqlite3_prepare_v3(book->sqlite, sql, -1, SQLITE_PREPARE_PERSISTENT, &stmt, NULL);

        if (code != SQLITE_OK) {
            db_failed(book, code, e);
            return NULL;
        }
        q = keep_query(book, stmt);
    }
    assert(!q->busy);
    q->busy = true;
    q->refused[0] = '\0';
    sqlite3_clear_bindings(q->stmt);
    return q;
}

void db_forget_queries(struct book *book)
{
    for (size_t i = 0; i < book->query_count; i++) {
        sqlite3_finalize(book->queries[i]->stmt);
        free(book->queries[i]);
    }
    free(book->queries);
    book->queries = NULL;
    book->query_count = book->query_capacity = 0;
}

int db_run(struct book *book, const char *sql, struct error *e)
{
    int code;

    errno = 0;
    code = sqlite3_exec(book->sqlite, sql, NULL, NULL, NULL);
    return code == SQLITE_OK ? 0 : db_failed(book, code, e);
}

int db_number(struct book *book, const char *sql, int64_t *out, struct error *e)
{
    sqlite3_stmt *stmt = NULL;
    int code;

    errno = 0;
    code = sqlite3_prepare_v2(book->sqlite, sql, -1, &stmt, NULL);
    if (code == SQLITE_OK)
        code = sqlite3_step(stmt);
    if (code == SQLITE_ROW)
        *out = sqlite3_column_int64(stmt, 0);
    else
        db_failed(book, code, e);
    sqlite3_finalize(stmt);
    return code == SQLITE_ROW ? 0 : -1;
}

static int place_of(struct query *q, const char *name)
{
    int place = sqlite3_bind_parameter_index(q->stmt, name);

    assert(place > 0);
    return place;
}

void query_put_text(struct query *q, const char *name, const char *text)
{
    if (text != NULL && !text_valid(text))
        snprintf(q->refused, sizeof q->refused, "%s", name + 1);
    sqlite3_bind_text(q->stmt, place_of(q, name), text, -1, SQLITE_TRANSIENT);
}

void query_put_real(struct query *q, const char *name, double value)
{
    if (isnan(value))
        sqlite3_bind_null(q->stmt, place_of(q, name));
    else
        sqlite3_bind_double(q->stmt, place_of(q, name), value);
}

void query_put_int(struct query *q, const char *name, int64_t value)
{
    sqlite3_bind_int64(q->stmt, place_of(q, name), value);
}

void query_put_null(struct query *q, const char *name)
{
    sqlite3_bind_null(q->stmt, place_of(q, name));
}

void query_put_instant(struct query *q, const char *prefix, struct instant when)
{
    char name[48];

    snprintf(name, sizeof name, "%s_utc_ms", prefix);
    query_put_int(q, name, when.utc_ms);
    snprintf(name, sizeof name, "%s_offset_min", prefix);
    query_put_int(q, name, when.offset_minutes);
}

void query_end(struct query *q)
{
    sqlite3_reset(q->stmt);
    q->busy = false;
}

int query_next(struct query *q, struct error *e)
{
    int code;

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

static int column_of(struct query *q, const char *column)
{
    for (int i = 0; i < q->columns; i++) {
        int at = (q->at + i) % q->columns;

        if (strcmp(sqlite3_column_name(q->stmt, at), column) == 0) {
            q->at = at + 1;
            return at;
        }
    }
    assert(!"a column of this name is in the query");
    return 0;
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

bool query_null(struct query *q, const char *column)
{
    return sqlite3_column_type(q->stmt, column_of(q, column)) == SQLITE_NULL;
}

struct instant query_instant(struct query *q, const char *prefix)
{
    struct instant when;
    char name[48];

    snprintf(name, sizeof name, "%s_utc_ms", prefix);
    when.utc_ms = query_int(q, name);
    snprintf(name, sizeof name, "%s_offset_min", prefix);
    when.offset_minutes = (int)query_int(q, name);
    return when;
}

int db_clear(struct book *book, const char *const *tables, size_t count, const char *column,
             const char *id, struct error *e)
{
    for (size_t i = 0; i < count; i++) {
        char *sql = mem_format("DELETE FROM %s WHERE %s = :id", tables[i], column);
        struct query *q = db_query(book, sql, e);

        free(sql);
        if (q == NULL)
            return -1;
        query_put_text(q, ":id", id);
        if (query_run(q, e) < 0)
            return -1;
    }
    return 0;
}
