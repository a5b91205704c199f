/*
 * Answers laid out as text.
 */
#ifndef CLI_PRINT_H
#define CLI_PRINT_H

#include <stdio.h>

#include "page/page.h"

/* As text, as wide as the terminal (COLUMNS, else the terminal itself, else 80 cells). */
void print_page(FILE *out, const struct page *p);

#endif
