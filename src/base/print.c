#include "base/print.h"

#include <errno.h>
#include <stdarg.h>
#include <stdlib.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/text.h"

static int first_failure; /* on stdout; the stream itself only keeps that there was one */

static void put(FILE *out, const char *text)
{
    errno = 0;
    if (fputs(text, out) == EOF && out == stdout && first_failure == 0)
        first_failure = errno;
}

void print_line(FILE *out, const char *format, ...)
{
    va_list args;
    char *line, *shown;

    va_start(args, format);
    line = mem_vformat(format, args);
    va_end(args);
    shown = text_shown(line, false);
    put(out, shown);
    put(out, "\n");
    free(shown);
    free(line);
}

void print_data(FILE *out, char *text)
{
    char *shown = isatty(fileno(out)) ? text_shown(text, true) : NULL;

    put(out, shown != NULL ? shown : text);
    free(shown);
    free(text);
}

int print_flush(void)
{
    errno = 0;
    if (fflush(stdout) != 0 && first_failure == 0)
        first_failure = errno;
    if (first_failure == 0 && ferror(stdout))
        first_failure = EIO;
    return first_failure;
}
