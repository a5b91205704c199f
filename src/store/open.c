/*
 * Opening a book: first for writing; where that is not allowed, for reading; and where SQLite could
 * not even keep its files beside it (a folder that can only be read), as a file that nobody
 * changes.
 */
#include "store/open.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/text.h"
#include "store/auto_backup.h"
#include "store/book.h"
#include "store/db.h"
#include "store/inspect.h"
#include "store/migrate.h"
#include "store/place.h"
#include "store/query.h"
#include "store/thing_state.h"
#include "store/variable_ids.h"

enum {
    STEPS_BETWEEN_LOOKS = 1000000, /* of SQLite's machine: some hundredths of a second */
};

struct opening {
    enum book_mode mode;
    const struct schema *schema;
    bool fresh; /* there is nothing in the file yet */
    int code;   /* of SQLite, when it was SQLite that failed */
};

static char *immutable_name(const char *path)
{
    static const char hex[] = "0123456789abcdef";
    char *plain = db_file_name(path);
    struct text uri = {0};

    text_add(&uri, "file:");
    for (const char *s = plain; *s != '\0'; s++)
        if (strchr("?#%", *s) != NULL)
            text_addf(&uri, "%%%c%c", hex[(unsigned char)*s >> 4], hex[*s & 15]);
        else
            text_add_part(&uri, s, 1);
    text_add(&uri, "?immutable=1");
    free(plain);
    return text_steal(&uri);
}

/* The screens hold these signals back until they wait for a key again; a query that does not end
 * would never let them. */
static int asked_to_end(void *unused)
{
    sigset_t waiting;

    (void)unused;
    return sigpending(&waiting) == 0 &&
           (sigismember(&waiting, SIGINT) == 1 || sigismember(&waiting, SIGTERM) == 1 ||
            sigismember(&waiting, SIGHUP) == 1);
}

/* One thread, and nobody asks how much memory SQLite has. Does nothing once a book was opened. */
static void lighten_sqlite(void)
{
    sqlite3_config(SQLITE_CONFIG_SINGLETHREAD);
    sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0);
}

static void configure(sqlite3 *sqlite)
{
    sqlite3_db_config(sqlite, SQLITE_DBCONFIG_LOOKASIDE, NULL, 1200, 500);
    sqlite3_progress_handler(sqlite, STEPS_BETWEEN_LOOKS, asked_to_end, NULL);
    sqlite3_extended_result_codes(sqlite, 1);
    sqlite3_busy_timeout(sqlite, DB_WAIT_FOR_OTHERS_MS);
    sqlite3_db_config(sqlite, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
    sqlite3_db_config(sqlite, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
    sqlite3_db_config(sqlite, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
    sqlite3_db_config(sqlite, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
    /* until the book is known to be ours, closing it must not change the file */
    sqlite3_db_config(sqlite, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1, NULL);
}

static void disconnect(struct book *book)
{
    query_forget_all(book);
    if (book->sqlite != NULL && inspect_wal(book) == NULL) /* nothing to lose: no file is left */
        sqlite3_db_config(book->sqlite, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0, NULL);
    sqlite3_close(book->sqlite);
    book->sqlite = NULL;
}

/* Another program has put one in its place while this one waited for the book. */
static int refuse_replaced(struct book *book, struct error *e)
{
    int moved = 0;

    sqlite3_file_control(book->sqlite, "main", SQLITE_FCNTL_HAS_MOVED, &moved);
    return moved == 0
               ? 0
               : error_set(e, ERROR_SYSTEM, "%s: the book was replaced at this moment; try again",
                           book->path);
}

static int connect_as(struct book *book, struct opening *o, const char *name, int flags,
                      struct error *e)
{
    int rc;

    lighten_sqlite();
    errno = 0;
    o->code = sqlite3_open_v2(name, &book->sqlite, flags | SQLITE_OPEN_NOMUTEX, NULL);
    if (o->code != SQLITE_OK) {
        o->code = sqlite3_extended_errcode(book->sqlite);
        return db_failed(book, o->code, e);
    }
    configure(book->sqlite);
    rc = inspect_header(book, o->mode, o->schema->count, &o->fresh, e);
    if (rc == 0 && !o->fresh)
        rc = inspect_book(book, o->mode, o->schema, &o->fresh, e);
    if (rc == 0)
        rc = refuse_replaced(book, e);
    o->code = sqlite3_errcode(book->sqlite);
    return rc;
}

/* A failure that a more modest way of opening may not have. */
static bool worth_another_try(const struct book *book, const struct opening *o)
{
    if (access(book->path, F_OK) != 0)
        return false;
    switch (o->code & 0xff) {
    case SQLITE_CANTOPEN:
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_FULL:
        return !o->fresh;
    case SQLITE_IOERR:
        return !o->fresh && o->code != SQLITE_IOERR_READ && o->code != SQLITE_IOERR_CORRUPTFS;
    default:
        return false;
    }
}

static int connect_for_reading(struct book *book, struct opening *o, struct error *e)
{
    char *name = db_file_name(book->path);
    int rc = connect_as(book, o, name, SQLITE_OPEN_READONLY, e);

    free(name);
    if (rc == 0 || !worth_another_try(book, o))
        return rc;
    if (inspect_wal(book) != NULL)
        return error_set(e, ERROR_SYSTEM,
                         "%s: the book was not closed properly, and %s; copy it and %s to where "
                         "you may write, and open it there",
                         book->path, book->cannot_write, inspect_wal(book));
    disconnect(book);
    name = immutable_name(book->path);
    rc = connect_as(book, o, name, SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, e);
    free(name);
    return rc;
}

static int connect_book(struct book *book, struct opening *o, struct error *e)
{
    char *name = db_file_name(book->path);
    int flags = SQLITE_OPEN_READWRITE | (o->mode == BOOK_CREATE ? SQLITE_OPEN_CREATE : 0);
    int rc = connect_as(book, o, name, flags, e);
    bool again = rc < 0 && worth_another_try(book, o);

    free(name);
    if (!o->fresh)
        book->cannot_write = inspect_read_only(book->path);
    if (book->cannot_write == NULL && (again || sqlite3_db_readonly(book->sqlite, "main") == 1))
        book->cannot_write = "it can only be read now; is the disk full?";
    if (!again)
        return rc;
    disconnect(book);
    return connect_for_reading(book, o, e);
}

static int copy_to_memory(struct book *book, sqlite3 **out, struct error *e)
{
    sqlite3 *memory = NULL;
    sqlite3_backup *copy = NULL;
    int code = sqlite3_open(":memory:", &memory);

    if (code == SQLITE_OK)
        copy = sqlite3_backup_init(memory, "main", book->sqlite, "main");
    if (copy != NULL) {
        sqlite3_backup_step(copy, -1);
        code = sqlite3_backup_finish(copy);
    }
    if (code != SQLITE_OK || copy == NULL) {
        db_failed(book, code == SQLITE_OK ? SQLITE_NOMEM : code, e);
        sqlite3_close(memory);
        return -1;
    }
    configure(memory);
    *out = memory;
    return 0;
}

/* An older book that cannot be written is brought up to date in memory, and read from there. */
static int move_to_memory(struct book *book, struct error *e)
{
    sqlite3 *memory;

    if (copy_to_memory(book, &memory, e) < 0)
        return -1;
    disconnect(book);
    book->sqlite = memory;
    return 0;
}

/* The pages of the old tables go back to the disk. Nothing is lost when that cannot be. */
static void take_less_room(struct book *book)
{
    int64_t unused = 0;

    if (query_number(book,
                     "SELECT 4 * freelist_count > page_count"
                     " FROM pragma_freelist_count, pragma_page_count",
                     NULL, &unused, NULL) == 0 &&
        unused != 0) {
        query_forget_all(book);
        db_run(book, "VACUUM", NULL);
    }
}

static int bring_up_to_date(struct book *book, const struct opening *o, struct error *e)
{
    const char *cannot_write = book->cannot_write;
    int64_t version = 0, newest = (int64_t)o->schema->count;
    int rc = 0, lock = -1;

    if (query_number(book, "PRAGMA user_version", NULL, &version, e) < 0)
        return -1;
    book->version_found = version;
    if (version == newest)
        return 0;
    if (cannot_write != NULL || o->mode == BOOK_LOOK)
        rc = move_to_memory(book, e);
    else if (!o->fresh)
        rc = auto_before_migration(book, newest, &lock, e);
    if (rc == 0) {
        book->cannot_write = NULL;
        rc = migrate(book, o->schema, e);
        book->cannot_write = cannot_write;
    }
    if (rc == 0 && lock >= 0)
        take_less_room(book);
    if (lock >= 0)
        close(lock);
    return rc;
}

/* WAL lets others read while one writes. Where it cannot be had the book works without it. */
static int settle(struct book *book, const struct opening *o, struct error *e)
{
    sqlite3_db_config(book->sqlite, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 0, NULL);
    if (book->cannot_write == NULL && o->mode != BOOK_READ && o->mode != BOOK_LOOK)
        db_run(book, "PRAGMA journal_mode = WAL", NULL);
    if (o->mode == BOOK_READ || o->mode == BOOK_LOOK) {
        if (book->cannot_write == NULL)
            book->cannot_write = "it was opened for reading";
        if (db_run(book, "PRAGMA query_only = ON", e) < 0)
            return -1;
    }
    return db_run(book,
                  "PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;"
                  "PRAGMA cell_size_check = ON; PRAGMA cache_size = -16000;"
                  "PRAGMA temp_store = MEMORY; PRAGMA journal_size_limit = 4000000;",
                  e);
}

/* The files beside a book are as private as it is, also after its permissions were changed. */
static void match_modes(const char *path)
{
    static const char *const endings[] = {"-wal", "-shm"};
    char *real = realpath(path, NULL);
    struct stat book, beside;

    for (size_t i = 0; real != NULL && i < sizeof endings / sizeof endings[0]; i++) {
        char *name = mem_format("%s%s", real, endings[i]);

        if (stat(real, &book) == 0 && lstat(name, &beside) == 0 && S_ISREG(beside.st_mode) &&
            beside.st_uid == book.st_uid && (beside.st_mode & 0777) != (book.st_mode & 0777))
            chmod(name, book.st_mode & 0777);
        free(name);
    }
    free(real);
}

int book_open_schema(struct book **out, const char *path, enum book_mode mode,
                     const struct schema *schema, struct error *e)
{
    struct opening o = {.mode = mode, .schema = schema};
    struct book *book = mem_zero(1, sizeof *book);

    *out = NULL;
    book->path = mem_copy(path);
    match_modes(path);
    if (inspect_place(path, mode, e) < 0 || connect_book(book, &o, e) < 0 ||
        bring_up_to_date(book, &o, e) < 0 || settle(book, &o, e) < 0) {
        book_close(book);
        return -1;
    }
    book->open = true;
    place_settle(book);
    *out = book;
    return 0;
}

int book_open(struct book **out, const char *path, enum book_mode mode, struct error *e)
{
    struct schema schema = {schema_steps, schema_step_count};

    return book_open_schema(out, path, mode, &schema, e);
}

void book_close(struct book *book)
{
    if (book == NULL)
        return;
    book_rollback(book);
    disconnect(book);
    thing_forget_sql(book);
    variable_ids_forget(book);
    journal_free(book);
    free(book->remark);
    free(book->path);
    free(book);
}

const char *book_path(const struct book *book)
{
    return book->path;
}

const char *book_read_only(const struct book *book)
{
    return book->cannot_write;
}

char *book_remark(struct book *book)
{
    char *remark = book->remark;

    book->remark = NULL;
    return remark;
}

long book_change_counter(struct book *book)
{
    int64_t counter;

    place_look(book);
    if (query_number(book, "PRAGMA data_version", NULL, &counter, NULL) < 0)
        return -1;
    return (long)counter + book->place.looks;
}
