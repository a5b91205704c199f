#include "store/inspect.h"

#include <errno.h>
#include <libgen.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/folder.h"
#include "base/mem.h"
#include "store/db.h"
#include "store/query.h"
#include "store/strangers.h"

/* The SQLite file format, https://www.sqlite.org/fileformat2.html section 1.3. */
enum { HEADER_SIZE = 100, HEADER_USER_VERSION = 60, HEADER_APPLICATION_ID = 68 };
static const char magic[16] = "SQLite format 3";

static int no_such_book(const char *path, struct error *e)
{
    return error_set(e, ERROR_INPUT,
                     "%s: there is no such book; the first coupon logged or imported makes it",
                     path);
}

/* SQLite throws away the changes beside a file that is empty; they may be all that is left. */
static int refuse_orphan(const char *path, struct error *e)
{
    char *real = realpath(path, NULL);
    char *wal = mem_format("%s-wal", real != NULL ? real : path);
    struct stat is;
    int rc = 0;

    if (stat(wal, &is) == 0 && is.st_size > 0)
        rc = error_set(e, ERROR_INPUT,
                       "%s: the book is missing or empty, but %s holds changes that belong to "
                       "it; put the book back, or move that file away",
                       path, wal);
    free(wal);
    free(real);
    return rc;
}

/* Asked beforehand, because SQLite reports such a refusal as a missing file. */
static int may_make(const char *path, struct error *e)
{
    char *copy = mem_copy(path);
    int rc = 0;

    if (access(dirname(copy), W_OK | X_OK) != 0)
        rc = error_set(e, ERROR_SYSTEM, "%s: the book cannot be made: %s", path, strerror(errno));
    free(copy);
    return rc;
}

static int make_place(const char *path, struct error *e)
{
    if (refuse_orphan(path, e) < 0 || folder_make_above(path, 0777, e) < 0)
        return -1;
    return may_make(path, e);
}

int inspect_place(const char *path, enum book_mode mode, struct error *e)
{
    struct stat is;

    if (path[0] == '\0')
        return error_set(e, ERROR_INPUT, "the book needs a file name");
    if (stat(path, &is) != 0) {
        if (errno != ENOENT)
            return error_set(e, ERROR_SYSTEM, "%s: cannot be opened: %s", path, strerror(errno));
        if (mode != BOOK_CREATE)
            return no_such_book(path, e);
        return make_place(path, e);
    }
    if (S_ISDIR(is.st_mode))
        return error_set(e, ERROR_INPUT, "%s: this is a folder, not a book", path);
    if (!S_ISREG(is.st_mode))
        return error_set(e, ERROR_INPUT, "%s: this is not a file", path);
    if (is.st_size == 1) /* which SQLite takes for an empty one */
        return error_set(e, ERROR_INPUT, "%s: this is not a coldlap book", path);
    return is.st_size == 0 ? refuse_orphan(path, e) : 0;
}

/* Of a file beside the book that SQLite names; NULL counts as none. */
static bool has_bytes(const char *path)
{
    struct stat is;

    return path != NULL && stat(path, &is) == 0 && is.st_size > 0;
}

const char *inspect_wal(struct book *book)
{
    const char *name = sqlite3_db_filename(book->sqlite, "main");
    const char *wal = name != NULL && name[0] != '\0' ? sqlite3_filename_wal(name) : NULL;

    return has_bytes(wal) ? wal : NULL;
}

static bool has_journal(struct book *book)
{
    const char *name = sqlite3_db_filename(book->sqlite, "main");

    return name != NULL && name[0] != '\0' && has_bytes(sqlite3_filename_journal(name));
}

static unsigned long big_endian(const unsigned char *at)
{
    return (unsigned long)at[0] << 24 | (unsigned long)at[1] << 16 | (unsigned long)at[2] << 8 |
           at[3];
}

static int refuse_other(const struct book *book, struct error *e)
{
    return error_set(e, ERROR_INPUT,
                     "%s: this is the database of another program, not a coldlap book", book->path);
}

static int refuse_newer(const struct book *book, long version, size_t newest, struct error *e)
{
    return error_set(e, ERROR_INPUT,
                     "%s: this book was made by a newer coldlap (its schema is %ld, this coldlap "
                     "knows up to %zu); it is left as it was: use the newer coldlap",
                     book->path, version, newest);
}

static int take_empty(const struct book *book, enum book_mode mode, bool *fresh, struct error *e)
{
    *fresh = true;
    if (mode == BOOK_CREATE)
        return 0;
    return error_set(e, ERROR_INPUT, "%s: the file is empty, it is not a book yet", book->path);
}

/* Read through SQLite's own handle: a second one, closed, would drop this process's locks. */
static int read_header(struct book *book, unsigned char header[HEADER_SIZE], sqlite3_int64 *size,
                       struct error *e)
{
    sqlite3_file *file = NULL;
    int code = sqlite3_file_control(book->sqlite, "main", SQLITE_FCNTL_FILE_POINTER, &file);

    if (code == SQLITE_OK && file->pMethods != NULL)
        code = file->pMethods->xFileSize(file, size);
    if (code == SQLITE_OK && file->pMethods != NULL)
        code = file->pMethods->xRead(file, header, HEADER_SIZE, 0); /* zeros behind the end */
    if (code == SQLITE_OK || code == SQLITE_IOERR_SHORT_READ)
        return 0;
    return db_failed(book, code, e);
}

int inspect_header(struct book *book, enum book_mode mode, size_t newest, bool *fresh,
                   struct error *e)
{
    unsigned char header[HEADER_SIZE] = {0};
    sqlite3_int64 size = 0;
    unsigned long version;

    *fresh = false;
    if (read_header(book, header, &size, e) < 0)
        return -1;
    if (size == 0)
        return take_empty(book, mode, fresh, e);
    if (memcmp(header, magic, sizeof magic) != 0)
        return error_set(e, ERROR_INPUT, "%s: this is not a coldlap book", book->path);
    if (size < HEADER_SIZE)
        return db_damaged(book, "the file is cut short", e);
    if (inspect_wal(book) != NULL || has_journal(book))
        return 0; /* this page may be out of date: SQLite has to say */
    version = big_endian(header + HEADER_USER_VERSION);
    if (big_endian(header + HEADER_APPLICATION_ID) != SCHEMA_APPLICATION_ID)
        return refuse_other(book, e);
    return version > newest ? refuse_newer(book, (long)version, newest, e) : 0;
}

int inspect_book(struct book *book, enum book_mode mode, const struct schema *schema, bool *fresh,
                 struct error *e)
{
    int64_t tables = 0, id = 0, version = 0;

    if (query_number(book, "SELECT count(*) FROM sqlite_schema", NULL, &tables, e) < 0 ||
        query_number(book, "PRAGMA application_id", NULL, &id, e) < 0 ||
        query_number(book, "PRAGMA user_version", NULL, &version, e) < 0)
        return -1;
    if (tables == 0 && id == 0 && version == 0)
        return take_empty(book, mode, fresh, e);
    if (id != SCHEMA_APPLICATION_ID)
        return refuse_other(book, e);
    if (version < 1)
        return db_damaged(book, "its schema has no number", e);
    if (version > (int64_t)schema->count)
        return refuse_newer(book, (long)version, schema->count, e);
    return strangers_refuse(book, schema, e);
}

const char *inspect_read_only(const char *path)
{
    char *real = realpath(path, NULL);
    const char *why = NULL;

    if (access(path, W_OK) != 0)
        why = errno == EROFS ? "the disk it is on can only be read" : "the file can only be read";
    else if (real != NULL && access(dirname(real), W_OK) != 0)
        why = "its folder can only be read";
    free(real);
    return why;
}
