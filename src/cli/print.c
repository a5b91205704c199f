#include "cli/print.h"

#include <stdlib.h>
#include <sys/ioctl.h>

#include "base/print.h"

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
        print_line(out, "%s", lines.items[i].text);
    page_lines_free(&lines);
}
