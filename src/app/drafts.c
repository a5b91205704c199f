#include "app/drafts.h"

#include <errno.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/array.h"
#include "base/digest.h"
#include "base/folder.h"
#include "base/mem.h"
#include "base/state_folder.h"
#include "store/settings.h"

enum { BOOK_DIGITS = 16, MOST_IN_BOOK = 16, MOST_OF_PROCESS = 1000 };

void drafts_open(struct drafts *d, struct book *book)
{
    char *real = realpath(book_path(book), NULL), digest[DIGEST_SIZE];

    *d = (struct drafts){.book = book, .file = -1, .taken_file = -1};
    digest_text(real != NULL ? real : book_path(book), digest);
    d->folder = state_folder_path("drafts", NULL);
    d->stem = mem_format("%.*s-", BOOK_DIGITS, digest);
    d->accepted = mem_copy("");
    d->left = mem_copy("");
    free(real);
}

static void close_file(int *file)
{
    if (*file >= 0)
        close(*file);
    *file = -1;
}

void drafts_close(struct drafts *d)
{
    if (d->book == NULL)
        return;
    drafts_put_back(d);
    close_file(&d->file);
    free(d->folder);
    free(d->stem);
    free(d->path);
    free(d->setting);
    free(d->accepted);
    free(d->left);
    memset(d, 0, sizeof *d);
}

const char *drafts_where(const struct drafts *d)
{
    return d->path != NULL ? d->path : d->setting != NULL ? book_path(d->book) : NULL;
}

/* Of the i-th place for a draft of this machine in the book. */
static char *setting_name(int i)
{
    char host[256] = "";

    gethostname(host, sizeof host - 1);
    return i == 0 ? mem_format("draft.%s", host) : mem_format("draft.%s.%d", host, i);
}

/* NULL when there is none, or it is of a process that lives. */
static char *left_setting(const struct drafts *d, const char *name)
{
    char *text = NULL;
    long process;

    if (setting_get(d->book, name, &text, NULL) < 0 || text == NULL)
        return NULL;
    if (sscanf(text, "process %ld\n", &process) != 1 || process <= 0 ||
        (kill((pid_t)process, 0) != 0 && errno == ESRCH))
        return text;
    free(text);
    return NULL;
}

static void forget_file(struct drafts *d)
{
    if (d->path != NULL)
        unlink(d->path);
    close_file(&d->file);
    free(d->path);
    d->path = NULL;
}

static void forget_setting(struct drafts *d)
{
    if (d->setting != NULL)
        setting_set(d->book, d->setting, NULL, NULL);
    free(d->setting);
    d->setting = NULL;
}

/* A file of this process that is not there yet; *path is its name. */
static int write_new(const struct drafts *d, const char *text, char **path, struct error *e)
{
    struct error taken = {.kind = ERROR_INPUT};
    int file = -1;

    *path = NULL;
    if (d->folder == NULL)
        free(state_folder_path("drafts", e)); /* says why there is none */
    if (d->folder == NULL || folder_make(d->folder, STATE_FOLDER_MODE, e) < 0)
        return -1;
    for (int i = 0; file < 0 && taken.kind == ERROR_INPUT && i < MOST_OF_PROCESS; i++) {
        free(*path);
        *path = mem_format("%s/%s%ld-%d", d->folder, d->stem, (long)getpid(), i);
        file = draft_file_write(*path, text, true, &taken);
    }
    if (file >= 0)
        return file;
    error_set(e, ERROR_SYSTEM, "%s", taken.text);
    free(*path);
    *path = NULL;
    return -1;
}

static int write_file(struct drafts *d, const char *text, struct error *e)
{
    int file = d->path == NULL ? write_new(d, text, &d->path, e)
                               : draft_file_write(d->path, text, false, e);

    if (file < 0)
        return -1;
    close_file(&d->file);
    d->file = file;
    forget_setting(d);
    return 0;
}

static bool setting_is_free(const struct drafts *d, const char *name)
{
    char *text = NULL;
    bool is_free = setting_get(d->book, name, &text, NULL) == 0 && text == NULL;

    free(text);
    return is_free;
}

static int write_setting(struct drafts *d, const char *text)
{
    char *whole = mem_format("process %ld\n%s", (long)getpid(), text);
    int rc = -1;

    for (int i = 0; d->setting == NULL && i < MOST_IN_BOOK; i++) {
        d->setting = setting_name(i);
        if (setting_is_free(d, d->setting))
            break;
        free(d->setting);
        d->setting = NULL;
    }
    if (d->setting != NULL)
        rc = setting_set(d->book, d->setting, whole, NULL);
    if (rc == 0)
        forget_file(d);
    d->book_refused = rc < 0;
    free(whole);
    return rc;
}

static int write_whole(struct drafts *d, const char *text, struct error *e)
{
    if (write_file(d, text, e) == 0)
        return 0;
    if (d->book_refused || book_read_only(d->book) != NULL)
        return -1;
    return write_setting(d, text);
}

int drafts_keep(struct drafts *d, const char *accepted, const char *typed, struct error *e)
{
    bool same = d->book == NULL || (strcmp(accepted, d->accepted) == 0 && !d->adopted);
    char *tail, *whole;
    int rc = 0;

    if (d->book == NULL || (same && strcmp(typed, d->left) == 0))
        return 0;
    tail = mem_format(DRAFT_TYPING "\n%s", typed);
    whole = mem_format("%s%s", accepted, tail);
    if (*accepted == '\0' && *typed == '\0') {
        forget_file(d);
        forget_setting(d);
    } else if (!same || d->file < 0 || !draft_file_add(d->file, tail)) {
        rc = write_whole(d, whole, e);
    }
    if (rc == 0) {
        mem_replace(&d->accepted, accepted);
        mem_replace(&d->left, typed);
        if (d->adopted)
            drafts_drop(d);
    }
    free(tail);
    free(whole);
    return rc;
}

void drafts_list(struct drafts *d, struct draft_names *out)
{
    if (d->folder != NULL)
        draft_names_list(d->folder, d->stem, out);
    for (int i = 0; book_read_only(d->book) == NULL && i < MOST_IN_BOOK; i++) {
        char *name = setting_name(i), *text = left_setting(d, name);

        if (text == NULL) {
            free(name);
            continue;
        }
        out->items = array_reserve(out->items, &out->capacity, out->count + 1, sizeof name);
        out->items[out->count++] = name;
        free(text);
    }
}

static void end_taking(struct drafts *d)
{
    close_file(&d->taken_file);
    free(d->taken);
    d->taken = NULL;
    d->adopted = false;
}

char *drafts_take(struct drafts *d, const char *name, struct instant *when)
{
    char *text = NULL;

    end_taking(d);
    *when = (struct instant){0};
    if (*name == '/')
        d->taken_file = draft_file_take(name, &text, when);
    else
        text = left_setting(d, name);
    if (text != NULL)
        mem_replace(&d->taken, name);
    return text;
}

/* One that is in the book goes to a file, so that the book is rid of it. */
static void move_out(struct drafts *d)
{
    char *text = left_setting(d, d->taken), *path = NULL;
    int file = text == NULL ? -1 : write_new(d, text, &path, NULL);

    if (file >= 0)
        setting_set(d->book, d->taken, NULL, NULL);
    close_file(&file);
    free(path);
    free(text);
}

void drafts_put_back(struct drafts *d)
{
    if (d->taken != NULL && *d->taken != '/')
        move_out(d);
    end_taking(d);
}

void drafts_drop(struct drafts *d)
{
    if (d->taken != NULL && *d->taken == '/')
        unlink(d->taken);
    else if (d->taken != NULL)
        setting_set(d->book, d->taken, NULL, NULL);
    end_taking(d);
}

void drafts_adopt(struct drafts *d)
{
    d->adopted = true;
}

void draft_line(struct text *t, const char *name, const char *value)
{
    if (value == NULL)
        return;
    text_addf(t, "%s ", name);
    for (; *value != '\0'; value++)
        if (*value == '\n')
            text_add(t, "\\n");
        else
            text_addf(t, "%s%c", *value == '\\' ? "\\" : "", *value);
    text_add(t, "\n");
}
