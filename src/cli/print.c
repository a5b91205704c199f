#include "cli/print.h"

#include <errno.h>
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

int file_open(struct file_out *f, const char *path, struct error *e)
{
    int fd;

    memset(f, 0, sizeof *f);
    if (path == NULL || strcmp(path, "-") == 0) {
        f->out = stdout;
        return 0;
    }
    f->path = mem_copy(path);
    f->part = mem_format("%s.XXXXXX", path);
    fd = mkstemp(f->part);
    f->out = fd < 0 ? NULL : fdopen(fd, "w");
    if (f->out != NULL)
        return 0;
    error_set(e, ERROR_SYSTEM, "%s cannot be written: %s", path, strerror(errno));
    if (fd >= 0) {
        close(fd);
        unlink(f->part);
    }
    free(f->path);
    free(f->part);
    memset(f, 0, sizeof *f);
    return -1;
}

/* The permissions a newly made file would have had. */
static void open_up(int fd)
{
    mode_t mask = umask(0);

    umask(mask);
    fchmod(fd, 0666 & ~mask);
}

int file_close(struct file_out *f, struct error *e)
{
    int failed;

    if (f->path == NULL) {
        f->out = NULL;
        return print_flush(e);
    }
    open_up(fileno(f->out));
    errno = 0;
    failed = fflush(f->out) != 0 || ferror(f->out) || fsync(fileno(f->out)) != 0;
    if (fclose(f->out) != 0)
        failed = 1;
    f->out = NULL;
    if (!failed && rename(f->part, f->path) == 0) {
        free(f->part);
        f->part = NULL;
    } else {
        error_set(e, ERROR_SYSTEM, "%s could not be written: %s", f->path,
                  errno != 0 ? strerror(errno) : "write error");
        failed = 1;
    }
    file_drop(f);
    return failed ? -1 : 0;
}

void file_drop(struct file_out *f)
{
    if (f->path != NULL && f->out != NULL)
        fclose(f->out);
    if (f->part != NULL)
        unlink(f->part);
    free(f->part);
    free(f->path);
    memset(f, 0, sizeof *f);
}
