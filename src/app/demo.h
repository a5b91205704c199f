/*
 * The demo book: an invented trial on greenhouse benches, the same every time, to try the program
 * with. It says that it is invented, here and within the book.
 */
#ifndef APP_DEMO_H
#define APP_DEMO_H

#include <stddef.h>

#include "base/error.h"

/*
 * Makes a new book at `path` and says how many coupons it holds. An existing file is never written
 * into: ERROR_INPUT. When anything fails no file is left behind.
 */
int demo_make(const char *path, size_t *coupons, struct error *e);

#endif
