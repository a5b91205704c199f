#include "store/auto_list.h"

#include <dirent.h>
#include <libgen.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/digest.h"
#include "base/mem.h"
#include "base/state_folder.h"

static const char ending[] = ".coldlap", migration[] = "_before-schema-";

enum { DAY_MS = 86400000, NAME_LENGTH = 64, YEAR = 365 };

enum one_a { EACH, WEEK, MONTH };

/* The rule, also in the manual: of the backups made within so many days all are kept, or the first
 * of each week or month. Beside it the last one before a migration is kept for a year. */
static const struct keeping {
    int64_t days;
    enum one_a one_a;
} keepings[] = {
    {.days = 7, .one_a = EACH},
    {.days = 7 + 8 * 7, .one_a = WEEK},
    {.days = INT64_MAX, .one_a = MONTH},
};

/* A name that is one word in any shell. */
static char *plain_name(const char *path)
{
    char *copy = mem_copy(path), *name = mem_copy(basename(copy));
    size_t length = strlen(name), cut = strlen(ending);

    if (length > cut && strcmp(name + length - cut, ending) == 0)
        name[length - cut] = '\0';
    name[strnlen(name, NAME_LENGTH)] = '\0';
    for (char *c = name; *c != '\0'; c++)
        if (strchr("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_.-", *c) == NULL)
            *c = '_';
    free(copy);
    return name;
}

char *auto_folder(const char *path, struct error *e)
{
    char *real = realpath(path, NULL), *all = state_folder_path("backups", e), *folder = NULL;
    char digest[DIGEST_SIZE];

    if (all != NULL) {
        char *name = plain_name(real != NULL ? real : path);

        digest_text(real != NULL ? real : path, digest);
        folder = mem_format("%s/%s-%.8s", all, name, digest);
        free(name);
    }
    free(all);
    free(real);
    return folder;
}

int64_t auto_day(struct instant when)
{
    int64_t local = when.utc_ms + (int64_t)when.offset_minutes * 60000;

    return (local - (local % DAY_MS + DAY_MS) % DAY_MS) / DAY_MS;
}

void auto_list_add(struct auto_list *list, const char *name)
{
    size_t length = strlen(name), last = strlen(ending);
    char *time = mem_format("%.10sT%.2s:%.2s:%.2sZ", name, name + strnlen(name, 11),
                            name + strnlen(name, 13), name + strnlen(name, 15));
    struct instant when;

    if (length > AUTO_DATE + last && name[10] == '_' && name[AUTO_DATE] == '_' &&
        strcmp(name + length - last, ending) == 0 && clock_parse(time, &when)) {
        list->items =
            array_reserve(list->items, &list->capacity, list->count + 1, sizeof *list->items);
        list->items[list->count++] =
            (struct auto_copy){.name = mem_copy(name), .day = auto_day(when)};
    }
    free(time);
}

static int by_name(const void *a, const void *b)
{
    return strcmp(((const struct auto_copy *)a)->name, ((const struct auto_copy *)b)->name);
}

void auto_list_read(struct auto_list *list, const char *folder)
{
    DIR *dir = opendir(folder);
    const struct dirent *entry;

    while (dir != NULL && (entry = readdir(dir)) != NULL)
        auto_list_add(list, entry->d_name);
    if (dir != NULL)
        closedir(dir);
    if (list->count > 0)
        qsort(list->items, list->count, sizeof *list->items, by_name);
}

/* 1970-01-01 was a Thursday; weeks begin on Monday. */
static bool same_period(enum one_a one_a, const struct auto_copy *a, const struct auto_copy *b)
{
    if (one_a == MONTH)
        return strncmp(a->name, b->name, strlen("2026-03")) == 0;
    return one_a == WEEK && (a->day + 3) / 7 == (b->day + 3) / 7;
}

static enum one_a one_a(int64_t age)
{
    const struct keeping *k = keepings;

    while (age >= k->days)
        k++;
    return k->one_a;
}

/* The earliest of a period stays, so that the one of a week can become the one of a month. */
void auto_list_judge(struct auto_list *list, int64_t today)
{
    const struct auto_copy *kept = NULL;
    struct auto_copy *migrated = NULL;

    for (size_t i = 0; i < list->count; i++) {
        struct auto_copy *c = &list->items[i];

        c->drop = kept != NULL && same_period(one_a(today - c->day), kept, c);
        if (!c->drop)
            kept = c;
        if (strstr(c->name, migration) != NULL)
            migrated = c;
    }
    if (migrated != NULL && today - migrated->day < YEAR)
        migrated->drop = false;
}

void auto_list_free(struct auto_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        free(list->items[i].name);
    free(list->items);
    *list = (struct auto_list){0};
}
