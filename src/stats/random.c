#include "stats/random.h"

#include <math.h>

struct random random_seeded(uint64_t seed)
{
    return (struct random){seed};
}

uint64_t random_bits(struct random *r)
{
    uint64_t z = (r->state += 0x9e3779b97f4a7c15u);

    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}

double random_uniform(struct random *r)
{
    return ((double)(random_bits(r) >> 11) + 0.5) * 0x1p-53;
}

/* Values past the last whole multiple of n are drawn again, or small results would come too often.
 */
size_t random_below(struct random *r, size_t n)
{
    uint64_t over = (UINT64_MAX % n + 1) % n, bits;

    do
        bits = random_bits(r);
    while (bits > UINT64_MAX - over);
    return (size_t)(bits % n);
}

double random_normal(struct random *r)
{
    double radius = sqrt(-2 * log(random_uniform(r)));

    return radius * cos(2 * M_PI * random_uniform(r));
}

void random_deal(struct random *r, size_t *order, size_t n, size_t take)
{
    for (size_t i = 0; i < take && i + 1 < n; i++) {
        size_t j = i + random_below(r, n - i), keep = order[i];

        order[i] = order[j];
        order[j] = keep;
    }
}

void random_shuffle(struct random *r, size_t *items, size_t n)
{
    random_deal(r, items, n, n);
}

uint64_t random_seed_from(uint64_t seed, const void *bytes, size_t size)
{
    const unsigned char *p = bytes;
    uint64_t h = seed ^ 0xcbf29ce484222325u;

    for (size_t i = 0; i < size; i++)
        h = (h ^ p[i]) * 0x100000001b3u;
    return h;
}
