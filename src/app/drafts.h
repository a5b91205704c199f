/*
 * What is being written and not in the book yet, kept as text for the next start.
 *
 * Each process has a draft of its own for a book: a file in the state folder (base/state_folder.h),
 * drafts/BOOK-PROCESS-N, where BOOK is the start of the SHA-256 of the book's real path. Where no
 * file can be written the draft is kept in the book, as a setting; versions up to 0.1.0 kept all of
 * them there. A draft that is not locked was left by a process that could not finish.
 *
 * A draft has two halves: what was accepted, which is on the disk when drafts_keep() returns, and
 * what is only being typed, which outlives the process but not a power cut. It is the first half
 * with any number of second ones behind it, each begun by the line DRAFT_TYPING: the last one
 * counts.
 */
#ifndef APP_DRAFTS_H
#define APP_DRAFTS_H

#include <stdbool.h>

#include "app/draft_file.h"
#include "base/text.h"
#include "store/book.h"

#define DRAFT_TYPING "typing"

struct drafts {
    struct book *book; /* NULL: nothing is kept */
    char *folder, *stem;
    char *path; /* of this process's file; NULL while there is none */
    int file;
    char *setting;         /* of the book, where it is kept instead; NULL: it is not */
    char *accepted, *left; /* what is kept now; the second is what was typed */
    char *taken;           /* a draft that was left, while it is decided about; NULL: none */
    int taken_file;        /* -1: it is a setting of the book */
    bool adopted;          /* it goes once this process has written its own */
    bool book_refused;     /* it could not be kept there either, which may take 10 s to find out */
};

/* Where this process's draft of the open book belongs; makes nothing yet. */
void drafts_open(struct drafts *d, struct book *book);
/* Gives the lock up; a draft that is there stays for the next start. */
void drafts_close(struct drafts *d);

/*
 * Keeps this in place of what was kept before; two empty texts remove it. -1 with ERROR_SYSTEM when
 * it can be kept nowhere, the reason being why the file cannot be written; what was kept before is
 * then left.
 */
int drafts_keep(struct drafts *d, const char *accepted, const char *typed, struct error *e);
/* The file the draft is in, or the path of the book; NULL when nothing is kept. */
const char *drafts_where(const struct drafts *d);

/* The drafts other processes have left of this book: files and settings, by names that
 * drafts_take() knows. */
void drafts_list(struct drafts *d, struct draft_names *out);
/* Locks a draft and reads it. NULL when it is gone or its process lives. The caller frees the text,
 * and decides: drafts_adopt() or drafts_drop(), or drafts_put_back(). */
char *drafts_take(struct drafts *d, const char *name, struct instant *when);
void drafts_put_back(struct drafts *d); /* left as it is, also when none was taken */
void drafts_drop(struct drafts *d);     /* removed */
/* From now on it belongs to this process: the next drafts_keep() takes its place. */
void drafts_adopt(struct drafts *d);

/* One line "name value" of a draft: a line feed in the value is written \n, a backslash \\. Nothing
 * for NULL. */
void draft_line(struct text *t, const char *name, const char *value);

#endif
