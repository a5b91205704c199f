#include "cli/print.h"

#include <errno.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"

enum { USUAL_WIDTH = 80, LEAST_WIDTH = 30, MOST_WIDTH = 1000 };

static int width_of(FILE *out)
{
    const char *columns = getenv("COLUMNS");
    struct winsize size;
    int width = columns != NULL ? atoi(columns) : 0;

    if (width == 0 && ioctl(fileno(out), TIOCGWINSZ, &size) == 0)
        width = size.ws_col;
    return width < LEAST_WIDTH || width > MOST_WIDTH ? USUAL_WIDTH : width;
}

void print_page(FILE *out, const struct page *p)
{
    struct page_lines lines;

    page_layout(p, width_of(out), &lines);
    for (size_t i = 0; i < lines.count; i++)
        fprintf(out, "%s\n", lines.items[i].text);
    page_lines_free(&lines);
}

void print_json(char *json)
{
    size_t length = strlen(json);

    fputs(json, stdout);
    if (length == 0 || json[length - 1] != '\n')
        putchar('\n');
    free(json);
}

int print_flush(struct error *e)
{
    errno = 0;
    if (fflush(stdout) == 0 && !ferror(stdout))
        return 0;
    return error_set(e, ERROR_SYSTEM, "the answer could not be written: %s",
                     errno != 0 ? strerror(errno) : "write error");
}

/* What is there already and is no plain file (a device, a pipe) is written into as it is. */
static bool is_special(const char *path)
{
    struct stat st;

    return stat(path, &st) == 0 && !S_ISREG(st.st_mode);
}

/* The file a name stands for, so that a symbolic link stays one. */
static char *real_name(const char *path)
{
    char *resolved = realpath(path, NULL);

    return resolved != NULL ? resolved : mem_copy(path);
}

static FILE *open_part(struct file_out *f, const char *path)
{
    FILE *out;
    int fd;

    if (is_special(path))
        return fopen(path, "w");
    f->path = real_name(path);
    f->part = mem_format("%s.XXXXXX", f->path);
    fd = mkstemp(f->part);
    out = fd < 0 ? NULL : fdopen(fd, "w");
    if (fd >= 0 && out == NULL) {
        close(fd);
        unlink(f->part);
    }
    return out;
}

int file_open(struct file_out *f, const char *path, struct error *e)
{
    memset(f, 0, sizeof *f);
    f->name = path != NULL && strcmp(path, "-") != 0 ? path : NULL;
    f->out = f->name == NULL ? stdout : open_part(f, path);
    if (f->out != NULL)
        return 0;
    error_set(e, ERROR_SYSTEM, "%s cannot be written: %s", path, strerror(errno));
    free(f->path);
    free(f->part);
    memset(f, 0, sizeof *f);
    return -1;
}

/* The permissions of the file that is replaced, or those a newly made one would have had. */
static void set_mode(const struct file_out *f)
{
    mode_t mask = umask(0);
    struct stat st;

    umask(mask);
    if (stat(f->path, &st) == 0)
        fchmod(fileno(f->out), st.st_mode & 0777);
    else
        fchmod(fileno(f->out), 0666 & ~mask);
}

/* Gives the finished file its name. */
static bool take_name(struct file_out *f)
{
    if (f->part == NULL)
        return true;
    if (rename(f->part, f->path) != 0)
        return false;
    free(f->part);
    f->part = NULL;
    return true;
}

int file_close(struct file_out *f, struct error *e)
{
    bool good;

    if (f->name == NULL) {
        f->out = NULL;
        return print_flush(e);
    }
    if (f->path != NULL)
        set_mode(f);
    errno = 0;
    good =
        fflush(f->out) == 0 && !ferror(f->out) && (f->part == NULL || fsync(fileno(f->out)) == 0);
    good = fclose(f->out) == 0 && good;
    f->out = NULL;
    if (!good || !take_name(f)) {
        error_set(e, ERROR_SYSTEM, "%s could not be written: %s", f->name,
                  errno != 0 ? strerror(errno) : "write error");
        good = false;
    }
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
