/* Copies of the photographs a book names, beside its automatic backups: FOLDER/photos/SHA-256. */
#ifndef STORE_AUTO_PHOTOS_H
#define STORE_AUTO_PHOTOS_H

#include "store/auto_list.h"
#include "store/book.h"

/* Copies those that are still where they were, unchanged, and have no copy yet. 0, or -1 with
 * ERROR_SYSTEM for the first that could not be written; one that is gone is left out. */
int auto_photos_copy(struct book *book, const char *folder, struct error *e);
/* Removes those that none of the listed backups names. */
void auto_photos_prune(const struct auto_list *list, const char *folder);

#endif
