/* A number that tells one schema from another: the texts that made its tables, indexes, triggers
 * and views, but for what SQLite keeps for itself. */
#ifndef STORE_SCHEMA_DIGEST_H
#define STORE_SCHEMA_DIGEST_H

#include <sqlite3.h>
#include <stddef.h>
#include <stdint.h>

/* What belongs to the schema: an index without a text of its own follows from its table, and
 * ANALYZE makes tables, too. */
#define SCHEMA_OBJECTS                                                                             \
    " FROM sqlite_schema WHERE NOT (type = 'index' AND sql IS NULL)"                               \
    " AND NOT (type = 'table' AND name GLOB 'sqlite_stat[1-4]')"

/* Returns SQLite's result code, SQLITE_OK when *out is the digest. */
int schema_digest(sqlite3 *db, uint64_t *out);

/* Those after each of the program's own steps; made while it is built. */
extern const uint64_t schema_digests[];

#endif
