/* FNV-1a, 64 bits (Fowler, Noll, Vo): tells texts apart by a number, not against an enemy. */
#ifndef BASE_HASH_H
#define BASE_HASH_H

#include <stdint.h>

#define HASH_START UINT64_C(14695981039346656037)

static inline uint64_t hash_add(uint64_t hash, unsigned char byte)
{
    return (hash ^ byte) * UINT64_C(1099511628211);
}

#endif
