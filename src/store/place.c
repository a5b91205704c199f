#include "store/place.h"

#include <string.h>
#include <sys/stat.h>

#include "store/db.h"
#include "store/inspect.h"

static bool sqlite_says_moved(const struct book *book)
{
    int moved = 0;

    sqlite3_file_control(book->sqlite, "main", SQLITE_FCNTL_HAS_MOVED, &moved);
    return moved != 0;
}

static void note_state(struct book *book)
{
    struct stat is;

    if (stat(book->path, &is) != 0)
        return;
    book->place.written = is.st_mtim;
    book->place.size = is.st_size;
}

void place_settle(struct book *book)
{
    struct stat is = {0};

    if (!book->place.known && (stat(book->path, &is) != 0 || sqlite_says_moved(book)))
        memset(&is, 0, sizeof is); /* moved already: no file is like this one */
    if (!book->place.known) {
        book->place.device = is.st_dev;
        book->place.inode = is.st_ino;
    }
    book->place.known = true;
    note_state(book);
}

bool book_moved(const struct book *book)
{
    struct stat is;

    return book->place.known && (stat(book->path, &is) != 0 || is.st_dev != book->place.device ||
                                 is.st_ino != book->place.inode || sqlite_says_moved(book));
}

void book_rest(struct book *book)
{
    if (book->cannot_write != NULL || inspect_wal(book) == NULL || book_moved(book))
        return;
    sqlite3_busy_timeout(book->sqlite, 0);
    sqlite3_wal_checkpoint_v2(book->sqlite, "main", SQLITE_CHECKPOINT_TRUNCATE, NULL, NULL);
    sqlite3_busy_timeout(book->sqlite, DB_WAIT_FOR_OTHERS_MS);
    note_state(book);
}

int place_check(struct book *book, struct error *e)
{
    return book_moved(book) ? error_set(e, ERROR_SYSTEM, BOOK_MOVED_TEXT, book->path) : 0;
}

void place_look(struct book *book)
{
    struct stat is;

    if (!book->place.known || stat(book->path, &is) != 0 ||
        (is.st_size == book->place.size && is.st_mtim.tv_sec == book->place.written.tv_sec &&
         is.st_mtim.tv_nsec == book->place.written.tv_nsec))
        return;
    sqlite3_db_release_memory(book->sqlite);
    db_run(book, "PRAGMA writable_schema = RESET", NULL); /* reads the schema again */
    note_state(book);
    book->place.looks++;
}
