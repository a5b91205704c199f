#include "store/auto_photos.h"

#include <dirent.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/array.h"
#include "base/digest.h"
#include "base/file_copy.h"
#include "base/mem.h"
#include "store/db.h"
#include "store/query.h"

/* What was copied is looked at, not what was there before. */
static bool is_the_one(const char *part, const char *sha256)
{
    char digest[DIGEST_SIZE];

    return digest_file(part, digest, NULL) == 0 && strcmp(digest, sha256) == 0;
}

static int copy_photo(const char *path, const char *to, const char *sha256, struct error *e)
{
    char *part = mem_format("%s.part", to);
    int rc = access(path, R_OK) != 0 ? 0 : file_copy(path, part);

    if (rc < 0 && errno == EINVAL) /* a folder has taken its name */
        rc = 0;
    else if (rc == 0 && is_the_one(part, sha256))
        rc = rename(part, to);
    if (rc < 0)
        error_set(e, ERROR_SYSTEM, "%s: the photograph cannot be copied: %s", path,
                  strerror(errno));
    unlink(part);
    free(part);
    return rc;
}

int auto_photos_copy(struct book *book, const char *folder, struct error *e)
{
    struct query *q = query_begin(
        book, "SELECT path, sha256 FROM photo WHERE sha256 IS NOT NULL ORDER BY sha256", NULL, e);
    char *photos = mem_format("%s/photos", folder);
    int got, rc = 0;

    while ((got = query_next(q, e)) > 0) {
        const char *sha256 = query_text(q, "sha256");
        char *to = mem_format("%s/%s", photos, sha256);

        if (access(to, F_OK) != 0) {
            mkdir(photos, 0700);
            rc = copy_photo(query_text(q, "path"), to, sha256, rc < 0 ? NULL : e) < 0 ? -1 : rc;
        }
        free(to);
    }
    free(photos);
    return got < 0 ? -1 : rc;
}

struct digests {
    char (*items)[DIGEST_SIZE];
    size_t count, capacity;
};

static int by_text(const void *a, const void *b)
{
    return strcmp(a, b);
}

static void add_digest(struct digests *d, const char *sha256)
{
    d->items = array_reserve(d->items, &d->capacity, d->count + 1, sizeof *d->items);
    snprintf(d->items[d->count++], DIGEST_SIZE, "%s", sha256);
}

/* Those that one backup names; whatever schema it is of, the table is the same. */
static int add_named(struct digests *d, const char *path)
{
    struct book book = {.path = (char *)path};
    int code = sqlite3_open_v2(path, &book.sqlite, SQLITE_OPEN_READONLY, NULL), got = -1;
    struct query *q;

    if (code == SQLITE_OK) {
        q = query_begin(&book, "SELECT sha256 FROM photo WHERE sha256 IS NOT NULL", NULL, NULL);
        while ((got = query_next(q, NULL)) > 0)
            add_digest(d, query_text(q, "sha256"));
    }
    query_forget_all(&book);
    sqlite3_close(book.sqlite);
    return got;
}

static void remove_unnamed(const struct digests *named, const char *photos)
{
    DIR *dir = opendir(photos);
    const struct dirent *entry;

    while (dir != NULL && (entry = readdir(dir)) != NULL)
        if (entry->d_name[0] != '.' &&
            (named->count == 0 || bsearch(entry->d_name, named->items, named->count,
                                          sizeof *named->items, by_text) == NULL))
            unlinkat(dirfd(dir), entry->d_name, 0);
    if (dir != NULL)
        closedir(dir);
}

/* As long as one of the backups cannot be read, nobody knows what it names. */
void auto_photos_prune(const struct auto_list *list, const char *folder)
{
    char *photos = mem_format("%s/photos", folder);
    struct digests named = {0};
    int rc = access(photos, F_OK);

    for (size_t i = 0; rc == 0 && i < list->count; i++) {
        char *path = mem_format("%s/%s", folder, list->items[i].name);

        rc = list->items[i].drop ? 0 : add_named(&named, path);
        free(path);
    }
    if (named.count > 0)
        qsort(named.items, named.count, sizeof *named.items, by_text);
    if (rc == 0)
        remove_unnamed(&named, photos);
    free(named.items);
    free(photos);
}
