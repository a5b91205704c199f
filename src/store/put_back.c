/*
 * A backup in the place of the book. It is copied beside the book first; the old book gets a second
 * name, and then the copy takes the place in one step. What SQLite keeps beside the old book
 * belongs to it alone: it is taken into it before, or, where the old book cannot be used any more,
 * goes with it, so that it never gets into the one put back.
 */
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "store/backup.h"
#include "store/book.h"
#include "store/db.h"
#include "store/open.h"
#include "store/query.h"

struct putting {
    struct book old; /* as long as it is there, and can be locked */
    char *kept;      /* the second name */
    bool there, spoilt;
};

static int failed(const char *path, struct error *e)
{
    return error_set(e, ERROR_SYSTEM, "%s: the backup cannot be put there: %s", path,
                     strerror(errno));
}

/* No other program may have it open; what it has written is taken in. A book that is too spoilt for
 * that needs no lock: nobody can work with it. */
static int lock_old(struct putting *p, struct error *e)
{
    int code = sqlite3_open_v2(p->old.path, &p->old.sqlite, SQLITE_OPEN_READWRITE, NULL);

    if (code == SQLITE_OK)
        code = sqlite3_exec(p->old.sqlite,
                            "PRAGMA locking_mode = EXCLUSIVE; PRAGMA journal_mode = DELETE;"
                            "BEGIN EXCLUSIVE",
                            NULL, NULL, NULL);
    p->spoilt = code == SQLITE_NOTADB || (code & 0xff) == SQLITE_CORRUPT;
    if (code == SQLITE_OK || p->spoilt)
        return 0;
    if ((code & 0xff) == SQLITE_BUSY || (code & 0xff) == SQLITE_LOCKED)
        return error_set(e, ERROR_SYSTEM,
                         "%s: another program has the book open; end it there, and try again",
                         p->old.path);
    return db_failed(&p->old, code, e);
}

/* Two names for one file; where the disk has no such thing the copy gets the second name first,
 * and then both change places. */
static int keep_old(const struct putting *p, const char *part)
{
    if (!p->there || link(p->old.path, p->kept) == 0)
        return 0;
    if (errno != EPERM && errno != EOPNOTSUPP && errno != EMLINK)
        return -1;
    return rename(part, p->kept);
}

static int move_beside(const struct putting *p)
{
    enum { SHM = 2 }; /* is made anew by whoever opens the book */
    static const char *const endings[] = {"-wal", "-journal", "-shm"};
    int rc = 0;

    for (size_t i = 0; rc == 0 && i < sizeof endings / sizeof *endings; i++) {
        char *from = mem_format("%s%s", p->old.path, endings[i]);
        char *to = mem_format("%s%s", p->kept, endings[i]);
        struct stat is;

        if ((p->spoilt || !p->there) && stat(from, &is) == 0 && is.st_size > 0 && i < SHM)
            rc = rename(from, to);
        else if (unlink(from) != 0 && errno != ENOENT)
            rc = -1;
        free(from);
        free(to);
    }
    return rc;
}

static int take_place(const struct backup *b, const char *part, struct error *e)
{
    struct putting *p = b->context;
    struct stat is;
    int rc;

    if (p->there && lock_old(p, e) < 0)
        return -1;
    if (p->there && stat(p->old.path, &is) == 0 && chmod(part, is.st_mode & 0777) != 0)
        return failed(b->to, e);
    if (keep_old(p, part) < 0 || move_beside(p) < 0)
        return failed(b->to, e);
    rc = access(part, F_OK) == 0 ? rename(part, b->to)
                                 : renameat2(AT_FDCWD, p->kept, AT_FDCWD, b->to, RENAME_EXCHANGE);
    return rc < 0 ? failed(b->to, e) : 0;
}

static void ignore(void *ctx, const char *line)
{
    (void)ctx;
    (void)line;
}

/* Sound, and of which schema. */
static int look_at(const char *from, size_t *version, struct error *e)
{
    struct book *book;
    int rc = book_open(&book, from, BOOK_LOOK, e);

    if (rc == 0 && book_check(book, ignore, NULL, e) < 0)
        rc = error_where(e, "it is not put back, because it is not in order (coldlap --book FILE "
                            "check says where)");
    *version = rc == 0 ? (size_t)book->version_found : 0;
    book_close(book);
    return rc;
}

static int refuse_same(const char *path, const char *from, struct error *e)
{
    struct stat a, b;

    if (stat(path, &a) != 0 || stat(from, &b) != 0 || a.st_dev != b.st_dev || a.st_ino != b.st_ino)
        return 0;
    return error_set(e, ERROR_INPUT, "%s: this is the book itself; name a backup", from);
}

int book_put_back(const char *path, const char *from, char **kept, struct error *e)
{
    char *real = realpath(path, NULL), *before;
    struct putting p = {.there = real != NULL};
    struct backup b = {.mode = 0666, .place = take_place, .context = &p};
    struct schema schema = {.steps = schema_steps};
    struct book *book = NULL;
    int rc;

    *kept = NULL;
    b.to = p.old.path = real != NULL ? real : mem_copy(path);
    before = mem_format("%s.", b.to);
    p.kept = backup_dated(before, ".before-put-back");
    free(before);
    rc = refuse_same(path, from, e);
    if (rc == 0)
        rc = look_at(from, &schema.count, e);
    if (rc == 0) /* as it is, of its own schema */
        rc = book_open_schema(&book, from, BOOK_LOOK, &schema, e);
    if (rc == 0)
        rc = backup_make(book, &b, e);
    if (rc == 0 && p.there)
        *kept = mem_copy(p.kept);
    sqlite3_close(p.old.sqlite);
    book_close(book);
    free(p.kept);
    free(p.old.path);
    return rc;
}
