/* Growing arrays: a plain pointer, a count and a capacity that the caller keeps. */
#ifndef BASE_ARRAY_H
#define BASE_ARRAY_H

#include <stddef.h>

/*
 * Grows to a capacity of at least `need` items of `size` bytes; new items are zeroed. Returns the
 * block, moved or not:
 *     l->items = array_reserve(l->items, &l->capacity, l->count + 1, sizeof *l->items);
 */
void *array_reserve(void *items, size_t *capacity, size_t need, size_t size);

/* Removes item `at`, which must be below `count`, and closes the gap. What the item owned is the
 * caller's. The last slot is zeroed: what it pointed to now belongs to its neighbour. */
void array_cut(void *items, size_t count, size_t at, size_t size);

#endif
