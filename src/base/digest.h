/*
 * SHA-256 (FIPS 180-4), by libmd: says later whether a photograph is still the same, and names what
 * belongs to a book by its path.
 */
#ifndef BASE_DIGEST_H
#define BASE_DIGEST_H

#include "base/error.h"

enum { DIGEST_SIZE = 65 }; /* 64 hex digits and the closing NUL */

/* Hex digits in lower case. */
void digest_text(const char *text, char out[DIGEST_SIZE]);
/* The same of a file. -1 with ERROR_SYSTEM when the file is not there or cannot be read, with
 * ERROR_INPUT when it is a folder or a device; `out` is undefined then. */
int digest_file(const char *path, char out[DIGEST_SIZE], struct error *e);

#endif
