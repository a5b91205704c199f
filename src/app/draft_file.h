/*
 * One draft in a file: locked while the process it belongs to lives (flock), written whole beside
 * its name and then renamed, synced before it takes the name. What is only being typed is added at
 * the end, without waiting for the disk.
 *
 * A descriptor is the lock and is closed to give it up; the system does so when the process ends,
 * however that happens.
 */
#ifndef APP_DRAFT_FILE_H
#define APP_DRAFT_FILE_H

#include <stdbool.h>

#include "base/clock.h"
#include "base/error.h"

/* Writes the file, in place of the one of that name unless it is to be `fresh`. The descriptor of
 * the file, locked, which the caller closes; -1 with ERROR_SYSTEM, or ERROR_INPUT when a fresh one
 * finds its name taken. The file is then what it was before. */
int draft_file_write(const char *path, const char *text, bool fresh, struct error *e);
/* Adds text at the end of a file that was written so. */
bool draft_file_add(int file, const char *text);
/* Takes over the file of a process that has ended: locks and reads it. Its descriptor, the text
 * (the caller frees it) and when it was written last; -1 when it is not there, cannot be read, or
 * its process lives. */
int draft_file_take(const char *path, char **text, struct instant *when);

/* The names in a folder that begin with `stem`, in their order; what a killed process left half
 * written is removed. The caller frees the list with draft_names_free(). */
struct draft_names {
    char **items;
    size_t count, capacity;
};
void draft_names_list(const char *folder, const char *stem, struct draft_names *out);
void draft_names_free(struct draft_names *names);

#endif
