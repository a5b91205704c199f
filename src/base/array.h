/* Growing arrays: a plain pointer, a count and a capacity that the caller keeps. */
#ifndef BASE_ARRAY_H
#define BASE_ARRAY_H

#include <stddef.h>

/*
 * Makes room for `need` items of `size` bytes; new room is zeroed. Returns the block, moved or not:
 *     list->items = array_room(list->items, &list->room, list->count + 1, sizeof *list->items);
 */
void *array_room(void *items, size_t *room, size_t need, size_t size);

/* Takes item `at` out of an array of `count` items, closing the gap; the slot that falls free at
 * the end is zeroed, so that nothing is found in it that has another owner. */
void array_cut(void *items, size_t count, size_t at, size_t size);

#endif
