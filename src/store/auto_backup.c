#include "store/auto_backup.h"

#include <errno.h>
#include <fcntl.h>
#include <libgen.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

#include "base/folder.h"
#include "base/mem.h"
#include "base/state_folder.h"
#include "store/auto_list.h"
#include "store/auto_photos.h"
#include "store/backup.h"
#include "store/db.h"
#include "store/query.h"

enum { SPARE_BYTES = 4000000 }; /* for what the change itself writes */

static bool forbidden(void)
{
    const char *set = getenv("COLDLAP_NO_BACKUP");

    return set != NULL && *set != '\0';
}

static int need_room(const char *folder, int64_t bytes, struct error *e)
{
    struct statvfs disk;
    double there;

    if (statvfs(folder, &disk) != 0)
        return error_set(e, ERROR_SYSTEM, "%s: %s", folder, strerror(errno));
    there = (double)disk.f_bavail * (double)disk.f_frsize;
    if (there >= (double)bytes)
        return 0;
    return error_set(e, ERROR_SYSTEM, "%s: %.1f MB of room are needed, %.1f MB are there", folder,
                     (double)bytes / 1e6, there / 1e6);
}

static int size_of(struct book *book, int64_t *out, struct error *e)
{
    return query_number(book,
                        "SELECT page_count * page_size FROM pragma_page_count, pragma_page_size",
                        NULL, out, e);
}

/* One program at a time works in the folder of a book. */
static int take_folder(struct book *book, char **folder, int *lock, struct error *e)
{
    char *name;

    *folder = auto_folder(book->path, e);
    if (*folder == NULL || folder_make(*folder, STATE_FOLDER_MODE, e) < 0)
        return -1;
    name = mem_format("%s/lock", *folder);
    *lock = open(name, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (*lock < 0 || flock(*lock, LOCK_EX) < 0)
        error_set(e, ERROR_SYSTEM, "%s: %s", name, strerror(errno));
    free(name);
    return *lock < 0 ? -1 : 0;
}

static void drop_old(const char *folder)
{
    struct auto_list list = {0};
    bool dropped = false;

    auto_list_read(&list, folder);
    auto_list_judge(&list, auto_day(clock_look()));
    for (size_t i = 0; i < list.count; i++) {
        char *path = mem_format("%s/%s", folder, list.items[i].name);

        if (list.items[i].drop)
            dropped = unlink(path) == 0 || dropped;
        free(path);
    }
    if (dropped)
        auto_photos_prune(&list, folder);
    auto_list_free(&list);
}

static int copy(struct book *book, const char *folder, const char *reason, struct error *e)
{
    char *before = mem_format("%s/", folder), *after = mem_format("_before-%s.coldlap", reason);
    char *to = backup_dated(before, after);
    struct backup backup = {.to = to, .mode = 0600};
    int64_t bytes = 0;
    int rc = size_of(book, &bytes, e);

    if (rc == 0)
        rc = need_room(folder, bytes + SPARE_BYTES, e);
    if (rc == 0)
        rc = backup_make(book, &backup, e);
    if (rc == 0)
        drop_old(folder);
    if (rc == 0)
        rc = auto_photos_copy(book, folder, e);
    free(before);
    free(after);
    free(to);
    return rc;
}

static bool has_one_of(const char *folder, int64_t day)
{
    struct auto_list list = {0};
    bool found = false;

    auto_list_read(&list, folder);
    for (size_t i = 0; i < list.count; i++)
        found = found || list.items[i].day == day;
    auto_list_free(&list);
    return found;
}

/* A new book has nothing to lose. */
static bool has_something(struct book *book)
{
    int64_t some = 0;

    return query_number(book,
                        "SELECT EXISTS (SELECT 1 FROM coupon) OR EXISTS (SELECT 1 FROM trial)",
                        NULL, &some, NULL) == 0 &&
           some != 0;
}

static int copy_of_day(struct book *book, int64_t today, struct error *e)
{
    char *folder = NULL;
    int lock = -1, rc = take_folder(book, &folder, &lock, e);

    if (rc == 0 && !has_one_of(folder, today))
        rc = copy(book, folder, "first-change", e);
    if (lock >= 0)
        close(lock);
    free(folder);
    return rc;
}

void auto_before_change(struct book *book)
{
    int64_t today = auto_day(clock_look());
    struct error e = {0};

    if (!book->open || forbidden() || book->day_looked == today)
        return;
    book->day_looked = today;
    if (!has_something(book) || copy_of_day(book, today, &e) == 0)
        return;
    free(book->remark);
    book->remark = mem_format(
        "there is no whole backup of today; your work is stored all the same: %s", e.text);
}

/* Its old and its new tables, and the log of the change, lie on the disk together. */
static int need_room_beside(struct book *book, struct error *e)
{
    char *real = realpath(book->path, NULL);
    int64_t bytes = 0;
    int rc = size_of(book, &bytes, e);

    if (rc == 0 && real != NULL)
        rc = need_room(dirname(real), 2 * bytes + SPARE_BYTES, e);
    free(real);
    return rc;
}

static int prepare(struct book *book, int64_t to, int *lock, struct error *e)
{
    char *folder = NULL, *reason = mem_format("schema-%lld", (long long)to);
    int64_t version = to;
    int rc = forbidden() ? 0 : take_folder(book, &folder, lock, e);

    if (rc == 0) /* another program may have done it meanwhile */
        rc = query_number(book, "PRAGMA user_version", NULL, &version, e);
    if (rc == 0 && version < to)
        rc = need_room_beside(book, e);
    if (rc == 0 && version < to && folder != NULL)
        rc = copy(book, folder, reason, e);
    free(reason);
    free(folder);
    return rc;
}

int auto_before_migration(struct book *book, int64_t to, int *lock, struct error *e)
{
    struct error why = {0};

    if (prepare(book, to, lock, &why) == 0)
        return 0;
    return error_set(e, why.kind,
                     "%s: the book is of an older schema and is left as it was, because a backup "
                     "comes first: %s; make room, or name another folder in XDG_STATE_HOME",
                     book->path, why.text);
}
