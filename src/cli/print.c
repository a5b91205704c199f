#include "cli/print.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>

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
