/* The automatic backups of a book, for people. */
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "base/array.h"
#include "base/mem.h"
#include "store/auto_list.h"
#include "store/book.h"

/* "2026-03-07_140500_before-first-change.coldlap" */
static struct book_copy describe(const char *folder, const char *name)
{
    struct book_copy c = {.name = mem_copy(name)};
    char *path = mem_format("%s/%s", folder, name);
    struct stat is;

    c.when = mem_format("%.10s %.2s:%.2s", name, name + 11, name + 13);
    c.why = mem_copy_part(name + AUTO_DATE + 1, strcspn(name + AUTO_DATE + 1, "."));
    for (char *at = c.why; (at = strchr(at, '-')) != NULL;)
        *at = ' ';
    c.bytes = stat(path, &is) == 0 ? is.st_size : 0;
    free(path);
    return c;
}

int book_copies_list(const char *path, struct book_copies *out, struct error *e)
{
    struct auto_list list = {0};

    out->folder = auto_folder(path, e);
    if (out->folder == NULL)
        return -1;
    auto_list_read(&list, out->folder);
    out->items = array_reserve(out->items, &out->capacity, list.count, sizeof *out->items);
    while (out->count < list.count) {
        out->items[out->count] = describe(out->folder, list.items[out->count].name);
        out->count++;
    }
    auto_list_free(&list);
    return 0;
}

void book_copies_free(struct book_copies *list)
{
    for (size_t i = 0; i < list->count; i++) {
        free(list->items[i].name);
        free(list->items[i].when);
        free(list->items[i].why);
    }
    free(list->items);
    free(list->folder);
    *list = (struct book_copies){0};
}
