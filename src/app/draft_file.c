#include "app/draft_file.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/array.h"
#include "base/folder.h"
#include "base/mem.h"
#include "base/rename.h"
#include "base/text.h"

enum { LONGEST = 16 * 1024 * 1024 }; /* no draft is: a longer file is none of ours [byte] */

static bool write_all(int file, const char *text)
{
    size_t left = strlen(text);

    while (left > 0) {
        ssize_t put = write(file, text, left);

        if (put < 0 && errno == EINTR)
            continue;
        if (put <= 0)
            return false;
        text += put;
        left -= (size_t)put;
    }
    return true;
}

int draft_file_write(const char *path, const char *text, bool fresh, struct error *e)
{
    char *part = mem_format("%s.XXXXXX", path);
    int file = mkostemp(part, O_CLOEXEC); /* for its owner alone */
    bool written = file >= 0 && flock(file, LOCK_EX | LOCK_NB) == 0 && write_all(file, text) &&
                   fsync(file) == 0 && (fresh ? rename_new : rename)(part, path) == 0;

    if (written) {
        folder_sync_above(path); /* where it fails, the file is still the best that could be done */
    } else {
        error_set(e, errno == EEXIST ? ERROR_INPUT : ERROR_SYSTEM, "%s: %s", path, strerror(errno));
        if (file >= 0) {
            unlink(part);
            close(file);
        }
    }
    free(part);
    return written ? file : -1;
}

bool draft_file_add(int file, const char *text)
{
    return write_all(file, text);
}

/* A file is taken by its name; by the time it is locked another may have that name. */
static bool is_still(int file, const char *path, struct stat *is)
{
    struct stat named;

    return fstat(file, is) == 0 && stat(path, &named) == 0 && named.st_dev == is->st_dev &&
           named.st_ino == is->st_ino && S_ISREG(is->st_mode) && is->st_size <= LONGEST;
}

static char *read_all(int file)
{
    struct text all = {0};
    char bytes[4096];
    ssize_t got;

    while ((got = read(file, bytes, sizeof bytes)) > 0)
        text_add_part(&all, bytes, (size_t)got);
    if (got == 0)
        return text_steal(&all);
    text_free(&all);
    return NULL;
}

int draft_file_take(const char *path, char **text, struct instant *when)
{
    int file = open(path, O_RDWR | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
    struct stat is;

    *text = NULL;
    if (file >= 0 && flock(file, LOCK_EX | LOCK_NB) == 0 && is_still(file, path, &is))
        *text = read_all(file);
    if (*text != NULL) {
        *when = clock_local((int64_t)is.st_mtim.tv_sec * 1000);
        return file;
    }
    if (file >= 0)
        close(file);
    return -1;
}

/* Of a process that was killed while it wrote. It locks the file before anything is in it. */
static void remove_part(const char *path)
{
    struct instant when;
    char *text;
    int file = draft_file_take(path, &text, &when);

    if (file < 0)
        return;
    if (*text != '\0')
        unlink(path);
    free(text);
    close(file);
}

static int by_name(const void *a, const void *b)
{
    return strverscmp(*(char *const *)a, *(char *const *)b);
}

void draft_names_list(const char *folder, const char *stem, struct draft_names *out)
{
    DIR *in = opendir(folder);
    struct dirent *entry;

    while (in != NULL && (entry = readdir(in)) != NULL) {
        char *path = mem_format("%s/%s", folder, entry->d_name);

        if (text_starts(entry->d_name, stem) && strchr(entry->d_name, '.') == NULL) {
            out->items = array_reserve(out->items, &out->capacity, out->count + 1, sizeof path);
            out->items[out->count++] = path;
            continue;
        }
        if (text_starts(entry->d_name, stem))
            remove_part(path);
        free(path);
    }
    if (in != NULL)
        closedir(in);
    if (out->count > 0)
        qsort(out->items, out->count, sizeof *out->items, by_name);
}

void draft_names_free(struct draft_names *names)
{
    for (size_t i = 0; i < names->count; i++)
        free(names->items[i]);
    free(names->items);
    memset(names, 0, sizeof *names);
}
