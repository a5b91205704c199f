/*
 * Giving a finished file its name.
 */
#ifndef BASE_RENAME_H
#define BASE_RENAME_H

/* Renames `from` to `to` where nothing has that name yet. -1 with errno: EEXIST when something
 * has, else what rename(2) says. */
int rename_new(const char *from, const char *to);

#endif
