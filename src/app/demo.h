/*
 * The demo book: an invented trial on greenhouse benches for trying the program, the same every
 * time. Both the program and the book say that it is invented.
 */
#ifndef APP_DEMO_H
#define APP_DEMO_H

#include <stddef.h>

#include "base/error.h"

/*
 * Makes a new book at `path` and returns its number of coupons in *coupons. ERROR_INPUT when the
 * file exists; it is left alone. After any other error no file remains.
 */
int demo_make(const char *path, size_t *coupons, struct error *e);

#endif
