#include "store/db.h"

#include <errno.h>
#include <string.h>

#include "base/mem.h"

/* Extended codes stand before the primary code they belong to. A `text` of NULL is worded below. */
static const struct meaning {
    int code;
    enum error_kind kind;
    const char *text;
} meanings[] = {
    {SQLITE_FULL, ERROR_SYSTEM, "the disk is full"},
    {SQLITE_IOERR_SHMSIZE, ERROR_SYSTEM, "the disk is full"},
    {SQLITE_IOERR_NOMEM, ERROR_SYSTEM, "there is not enough memory"},
    {SQLITE_NOMEM, ERROR_SYSTEM, "there is not enough memory"},
    {SQLITE_BUSY, ERROR_SYSTEM,
     "another program has been writing into it for more than 10 s; try again"},
    {SQLITE_LOCKED, ERROR_SYSTEM, "another program holds it; try again"},
    {SQLITE_INTERRUPT, ERROR_SYSTEM, "a signal has stopped what was going on"},
    {SQLITE_READONLY, ERROR_SYSTEM, "it can only be read"},
    {SQLITE_IOERR_READ, ERROR_SYSTEM, "the disk could not be read; try again"},
    {SQLITE_IOERR_CORRUPTFS, ERROR_SYSTEM, "the disk could not be read; try again"},
    {SQLITE_IOERR, ERROR_SYSTEM, NULL},
    {SQLITE_CANTOPEN, ERROR_SYSTEM, NULL},
    {SQLITE_PERM, ERROR_SYSTEM, NULL},
    {SQLITE_CORRUPT, ERROR_INPUT,
     "the book is damaged; 'coldlap put-back FILE' takes a backup in its place and keeps it (do "
     "not "
     "copy over it)"},
    {SQLITE_NOTADB, ERROR_INPUT, "this is not a coldlap book, or a damaged one"},
    {SQLITE_TOOBIG, ERROR_INPUT, "a text is too long"},
    {SQLITE_CONSTRAINT_FOREIGNKEY, ERROR_INPUT,
     "this belongs to something that is not in the book"},
    {SQLITE_CONSTRAINT_DATATYPE, ERROR_INPUT, "the book does not take a value of this type"},
    {SQLITE_CONSTRAINT, ERROR_INPUT, NULL},
};

static const struct meaning *meaning_of(int code)
{
    for (size_t i = 0; i < sizeof meanings / sizeof meanings[0]; i++)
        if (meanings[i].code == code || meanings[i].code == (code & 0xff))
            return &meanings[i];
    return NULL;
}

/* What stands before the columns that SQLite names; a check's name is a whole sentence. */
static const char *constraint_lead(int code)
{
    switch (code) {
    case SQLITE_CONSTRAINT_NOTNULL:
        return "missing is ";
    case SQLITE_CONSTRAINT_UNIQUE:
    case SQLITE_CONSTRAINT_PRIMARYKEY:
        return "there already is one with the same ";
    default:
        return "";
    }
}

/* "CHECK constraint failed: a mark is …" without its start. */
static const char *constraint_text(const char *message)
{
    const char *colon = strstr(message, "constraint failed: ");

    return colon == NULL ? message : colon + strlen("constraint failed: ");
}

const char *db_undone(const struct book *book)
{
    return book->begun || book->depth > 0 ? "; nothing of this was stored" : "";
}

static int disk_failed(struct book *book, int last, struct error *e)
{
    const char *undone = db_undone(book);
    int why = sqlite3_system_errno(book->sqlite);

    if (why == 0) /* it does not pass on every reason; callers zero errno before SQLite works */
        why = last;
    if (why == ENOSPC || why == EDQUOT || why == EFBIG)
        return error_set(e, ERROR_SYSTEM, "%s: the disk is full%s", book->path, undone);
    return error_set(e, ERROR_SYSTEM, "%s: cannot be read or written: %s%s", book->path,
                     why != 0 ? strerror(why) : sqlite3_errmsg(book->sqlite), undone);
}

/* A disk that gives no answer makes SQLite speak of damage, as if it had given a wrong one. */
static bool is_of_reading(int last)
{
    return last == EIO || last == ENXIO || last == ERANGE;
}

int db_failed(struct book *book, int code, struct error *e)
{
    int last = errno;
    bool unread = (code & 0xff) == SQLITE_CORRUPT && is_of_reading(last);
    const struct meaning *m = meaning_of(unread ? SQLITE_IOERR_READ : code);
    const char *undone = db_undone(book);

    if (m == NULL)
        return error_set(e, ERROR_INPUT, "%s: the book cannot be used: %s%s", book->path,
                         sqlite3_errmsg(book->sqlite), undone);
    if (m->text != NULL)
        return error_set(e, m->kind, "%s: %s%s", book->path, m->text, undone);
    if (m->code == SQLITE_CONSTRAINT)
        return error_set(e, m->kind, "the book does not take this: %s%s%s", constraint_lead(code),
                         constraint_text(sqlite3_errmsg(book->sqlite)), undone);
    return disk_failed(book, last, e);
}

int db_damaged(struct book *book, const char *what, struct error *e)
{
    return error_set(e, ERROR_INPUT, "%s: the book is damaged: %s", book->path, what);
}

int db_run(struct book *book, const char *sql, struct error *e)
{
    int code;

    errno = 0;
    code = sqlite3_exec(book->sqlite, sql, NULL, NULL, NULL);
    return code == SQLITE_OK ? 0 : db_failed(book, code, e);
}

char *db_file_name(const char *path)
{
    return mem_format("%s%s", path[0] == '/' ? "" : "./", path);
}
