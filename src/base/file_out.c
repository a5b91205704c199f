#include "base/file_out.h"

#include <errno.h>
#include <libgen.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/rename.h"

/* The file a name stands for, so that a symbolic link stays one. NULL without a file. */
static char *real_name(const char *path)
{
    return path != NULL ? realpath(path, NULL) : NULL;
}

static bool same_file(const struct stat *a, const char *path)
{
    struct stat b;

    return stat(path, &b) == 0 && a->st_dev == b.st_dev && a->st_ino == b.st_ino;
}

/* Whether `path` would become the file `other`, which need not be there. */
static bool same_name(const char *path, const char *other)
{
    char *a = mem_copy(path), *b = mem_copy(other), *copy = mem_copy(path);
    struct stat folder;
    bool same = strcmp(basename(a), basename(b)) == 0 && stat(dirname(copy), &folder) == 0;

    free(b);
    b = mem_copy(other);
    same = same && same_file(&folder, dirname(b));
    free(copy);
    free(a);
    free(b);
    return same;
}

/* The book itself, or a file that SQLite keeps, or would make, beside it. */
static bool of_the_book(const char *path, const char *book)
{
    static const char *const endings[] = {"", "-wal", "-shm", "-journal"};
    char *real = real_name(book);
    struct stat is;
    bool there = stat(path, &is) == 0, found = false;

    for (size_t i = 0; real != NULL && !found && i < sizeof endings / sizeof *endings; i++) {
        char *name = mem_format("%s%s", real, endings[i]);

        found = there ? same_file(&is, name) : same_name(path, name);
        free(name);
    }
    free(real);
    return found;
}

/* A database, its log or its journal. Not to be asked of the open book: closing a file drops the
 * locks this process has on it. */
static bool of_a_database(const char *path)
{
    static const struct {
        const char *bytes;
        size_t count;
    } begins[] = {{"SQLite format 3", 16},
                  {"\x37\x7f\x06\x82", 4},
                  {"\x37\x7f\x06\x83", 4},
                  {"\xd9\xd5\x05\xf9\x20\xa1\x63\xd7", 8}};
    FILE *in = fopen(path, "r");
    char head[16] = "";
    size_t got = in != NULL ? fread(head, 1, sizeof head, in) : 0;
    bool found = false;

    if (in != NULL)
        fclose(in);
    for (size_t i = 0; i < sizeof begins / sizeof *begins; i++)
        found =
            found || (got >= begins[i].count && !memcmp(head, begins[i].bytes, begins[i].count));
    return found;
}

static int refuse_existing(const char *path, struct error *e)
{
    return error_set(
        e, ERROR_INPUT,
        "%s: there is such a file already; give another name, or --force to replace it", path);
}

static int check(const char *path, const char *book, bool replace, struct error *e)
{
    struct stat is;

    if (of_the_book(path, book))
        return error_set(e, ERROR_INPUT,
                         "%s: this is the open book or belongs to it, and is never overwritten; "
                         "give another name",
                         path);
    if (stat(path, &is) == 0 && S_ISREG(is.st_mode) && of_a_database(path))
        return error_set(e, ERROR_INPUT,
                         "%s: this is a book or another database, and is never overwritten; give "
                         "another name",
                         path);
    return !replace && lstat(path, &is) == 0 ? refuse_existing(path, e) : 0;
}

/* What is there already and is no plain file (a device, a pipe) is written into as it is. */
static bool is_special(const char *path)
{
    struct stat st;

    return stat(path, &st) == 0 && !S_ISREG(st.st_mode);
}

static FILE *open_part(struct file_out *f, const char *path)
{
    FILE *out;
    int fd;

    f->path = real_name(path);
    if (f->path == NULL)
        f->path = mem_copy(path);
    f->part = mem_format("%s.XXXXXX", f->path);
    fd = mkstemp(f->part);
    out = fd < 0 ? NULL : fdopen(fd, "w");
    if (fd >= 0 && out == NULL) {
        close(fd);
        unlink(f->part);
    }
    return out;
}

int file_open(struct file_out *f, const char *path, const char *book, bool replace, struct error *e)
{
    bool special = path != NULL && is_special(path);
    struct stat is;

    memset(f, 0, sizeof *f);
    if (path == NULL || strcmp(path, "-") == 0) {
        f->out = stdout;
        return 0;
    }
    if (!special && check(path, book, replace, e) < 0)
        return -1;
    f->name = path;
    f->replace = replace;
    f->others = book != NULL && stat(book, &is) == 0 ? is.st_mode : 0666;
    f->out = special ? fopen(path, "w") : open_part(f, path);
    if (f->out != NULL)
        return 0;
    error_set(e, ERROR_SYSTEM, "%s cannot be written: %s", path, strerror(errno));
    free(f->path);
    free(f->part);
    memset(f, 0, sizeof *f);
    return -1;
}

/* The permissions of the file that is replaced, or those a newly made one would have had, without
 * what the book keeps from others. */
static void set_mode(const struct file_out *f)
{
    mode_t mask = umask(0);
    struct stat st;

    umask(mask);
    if (stat(f->path, &st) == 0)
        fchmod(fileno(f->out), st.st_mode & 0777);
    else
        fchmod(fileno(f->out), 0666 & ~mask & (f->others | S_IRUSR | S_IWUSR));
}

/* Gives the finished file its name. */
static bool take_name(struct file_out *f)
{
    if (f->part == NULL)
        return true;
    if ((f->replace ? rename : rename_new)(f->part, f->path) != 0)
        return false;
    free(f->part);
    f->part = NULL;
    return true;
}

int file_close(struct file_out *f, struct error *e)
{
    bool good;

    if (f->name == NULL)
        return 0;
    if (f->path != NULL)
        set_mode(f);
    good =
        fflush(f->out) == 0 && !ferror(f->out) && (f->part == NULL || fsync(fileno(f->out)) == 0);
    good = fclose(f->out) == 0 && good;
    f->out = NULL;
    good = good && take_name(f);
    if (!good && errno == EEXIST)
        refuse_existing(f->name, e);
    else if (!good)
        error_set(e, ERROR_SYSTEM, "%s could not be written: %s", f->name, strerror(errno));
    file_drop(f);
    return good ? 0 : -1;
}

void file_drop(struct file_out *f)
{
    if (f->name != NULL && f->out != NULL)
        fclose(f->out);
    if (f->part != NULL)
        unlink(f->part);
    free(f->part);
    free(f->path);
    memset(f, 0, sizeof *f);
}
