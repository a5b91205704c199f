#include "base/array.h"

#include <assert.h>
#include <string.h>

#include "base/mem.h"

void *array_reserve(void *items, size_t *capacity, size_t need, size_t size)
{
    size_t old = *capacity, grown = old < 8 ? 8 : old + old / 2;

    assert(size > 0);
    if (need <= old)
        return items;
    *capacity = need > grown ? need : grown;
    items = mem_resize(items, *capacity, size);
    memset((char *)items + old * size, 0, (*capacity - old) * size);
    return items;
}

void array_cut(void *items, size_t count, size_t at, size_t size)
{
    char *gap = (char *)items + at * size;

    assert(at < count);
    memmove(gap, gap + size, (count - at - 1) * size);
    memset((char *)items + (count - 1) * size, 0, size);
}
