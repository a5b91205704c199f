#include "stats/num/random.h"

#include <assert.h>
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

/*
 * The upper half of bits × n. Some of its values would come once too often; they are told by the
 * lower half, and drawn again (D. Lemire, ACM Trans. Model. Comput. Simul. 29:3, 2019).
 */
size_t random_below(struct random *r, size_t n)
{
    __extension__ unsigned __int128 product;
    uint64_t left;

    assert(n > 0);
    do {
        product = random_bits(r);
        product *= n;
        left = (uint64_t)product;
    } while (left < n && left < (0 - (uint64_t)n) % n);
    return (size_t)(product >> 64);
}

double random_normal(struct random *r)
{
    double radius = sqrt(-2 * log(random_uniform(r)));

    return radius * cos(2 * M_PI * random_uniform(r));
}

void random_deal(struct random *r, size_t *order, size_t n, size_t take)
{
    assert(take <= n);
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
