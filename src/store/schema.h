/* The steps of schema/, embedded at build time by schema/embed.awk. */
#ifndef STORE_SCHEMA_H
#define STORE_SCHEMA_H

#include <stddef.h>

struct schema_step {
    int number;       /* from 1 without a gap; the book's user_version once it is done */
    const char *name; /* "0001_book" */
    const char *sql;
};

/* What a book has to become; the program's own is schema_steps, tests bring others. */
struct schema {
    const struct schema_step *steps;
    size_t count; /* the newest version, too */
};

extern const struct schema_step schema_steps[];
extern const size_t schema_step_count;

#define SCHEMA_APPLICATION_ID 0x636f6c64 /* "cold"; set by the first step */

#endif
