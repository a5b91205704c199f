/*
 * Printing on stdout and stderr. All text for people goes through here: what others stored, or
 * typed, or put into the environment must not steer the terminal, so control characters and bytes
 * that are no UTF-8 are shown as U+FFFD (text_shown()).
 */
#ifndef BASE_PRINT_H
#define BASE_PRINT_H

#include <stdio.h>

/* One line; adds the line feed. White space within it becomes spaces. */
void print_line(FILE *out, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* A CSV table or a JSON object; releases `text`. A file or a pipe gets it byte by byte as it is,
 * for other programs to read; a terminal as text of several lines. */
void print_data(FILE *out, char *text);
/* Makes sure that all of stdout has been taken. 0, or the errno of the first write that failed. */
int print_flush(void);

#endif
