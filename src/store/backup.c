/*
 * A backup is made under a name of its own beside its place, put on the disk, and only then given
 * its name: what has that name is whole. The unfinished file is locked as long as somebody works on
 * it; one without a lock was left by a program that was killed, and the next backup into the same
 * folder removes it.
 */
#include "store/backup.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <libgen.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/clock.h"
#include "base/folder.h"
#include "base/mem.h"
#include "base/rename.h"
#include "store/book.h"
#include "store/db.h"
#include "store/query.h"

#define UNFINISHED ".coldlap-part"

static int refuse_existing(const char *to, struct error *e)
{
    return error_set(e, ERROR_INPUT,
                     "%s: there is such a file already; a backup never overwrites, give another "
                     "name",
                     to);
}

static int copy_failed(const char *to, struct error *e)
{
    return error_set(e, ERROR_SYSTEM, "%s: the backup cannot be made: %s", to, strerror(errno));
}

static int vacuum_into(struct book *book, const char *part, struct error *e)
{
    char *name = db_file_name(part);
    int rc = query_run(query_begin(book, "VACUUM INTO :key", name, e), e);

    free(name);
    return rc;
}

static int place_new(const struct backup *b, const char *part, struct error *e)
{
    if (rename_new(part, b->to) == 0)
        return 0;
    return errno == EEXIST ? refuse_existing(b->to, e) : copy_failed(b->to, e);
}

static int fill(struct book *book, const char *part, int fd, const struct backup *b,
                struct error *e)
{
    if (vacuum_into(book, part, e) < 0)
        return error_where(e, "%s: the backup cannot be made", b->to);
    if (fsync(fd) < 0)
        return copy_failed(b->to, e);
    if ((b->place != NULL ? b->place : place_new)(b, part, e) < 0)
        return -1;
    return folder_sync_above(b->to) < 0 ? copy_failed(b->to, e) : 0;
}

/* With the journal SQLite has made beside it, first: without the other nobody would look for it. */
static void remove_if_left(int folder, const char *name)
{
    char *journal = mem_format("%s-journal", name);
    int fd = openat(folder, name, O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);

    if (fd >= 0 && flock(fd, LOCK_EX | LOCK_NB) == 0) {
        unlinkat(folder, journal, 0);
        unlinkat(folder, name, 0);
    }
    if (fd >= 0)
        close(fd);
    free(journal);
}

static void remove_left_beside(const char *to)
{
    char *copy = mem_copy(to);
    DIR *folder = opendir(dirname(copy));
    const struct dirent *entry;

    while (folder != NULL && (entry = readdir(folder)) != NULL) {
        const char *ending = strrchr(entry->d_name, '.');

        if (ending != NULL && strcmp(ending, UNFINISHED) == 0)
            remove_if_left(dirfd(folder), entry->d_name);
    }
    if (folder != NULL)
        closedir(folder);
    free(copy);
}

/* The file SQLite is to fill, as private as the book and never more open than the umask wants. Made
 * again when another backup takes it for left before it is locked. */
static int make_part(const struct book *book, const char *part, mode_t most)
{
    struct stat is;
    mode_t mode = stat(book->path, &is) == 0 ? is.st_mode | S_IRUSR | S_IWUSR : 0600;
    int fd;

    while ((fd = open(part, O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC, mode & most)) >= 0) {
        flock(fd, LOCK_EX);
        if (fstat(fd, &is) < 0 || is.st_nlink > 0)
            break;
        close(fd);
    }
    return fd;
}

static int copy_to(struct book *book, const struct backup *b, struct error *e)
{
    char *part = mem_format("%s.%ld" UNFINISHED, b->to, (long)getpid());
    int fd, rc;

    remove_left_beside(b->to);
    fd = make_part(book, part, b->mode);
    rc = fd < 0 ? copy_failed(b->to, e) : fill(book, part, fd, b, e);
    if (fd >= 0 && rc < 0)
        unlink(part);
    if (fd >= 0)
        close(fd);
    free(part);
    return rc;
}

char *backup_dated(const char *before, const char *after)
{
    struct instant when = clock_look();
    char *name = NULL, now[80];

    do {
        free(name);
        clock_format(now, sizeof now, when);
        name =
            mem_format("%s%.10s_%.2s%.2s%.2s%s", before, now, now + 11, now + 14, now + 17, after);
        when.utc_ms += 1000;
    } while (access(name, F_OK) == 0);
    return name;
}

int backup_make(struct book *book, const struct backup *b, struct error *e)
{
    int64_t reading_only = 0;
    int rc;

    if (query_number(book, "PRAGMA query_only", NULL, &reading_only, e) < 0 ||
        db_run(book, "PRAGMA query_only = OFF", e) < 0)
        return -1;
    rc = copy_to(book, b, e);
    if (reading_only != 0)
        db_run(book, "PRAGMA query_only = ON", NULL);
    return rc;
}

int book_backup(struct book *book, const char *to, struct error *e)
{
    struct backup b = {.to = to, .mode = 0666};
    struct stat is;

    if (book->begun)
        return error_set(e, ERROR_SYSTEM, "%s: a backup cannot be made in the middle of a change",
                         book->path);
    if (lstat(to, &is) == 0)
        return refuse_existing(to, e);
    return backup_make(book, &b, e);
}
