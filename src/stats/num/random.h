/*
 * Random numbers that are the same on every machine: splitmix64 (G. L. Steele, D. Lea, C. H. Flood,
 * OOPSLA 2014), 64 bits of state. Good enough for permutations and draws; not for secrets.
 */
#ifndef STATS_NUM_RANDOM_H
#define STATS_NUM_RANDOM_H

#include <stddef.h>
#include <stdint.h>

struct random {
    uint64_t state; /* start with the seed */
};

struct random random_seeded(uint64_t seed);
uint64_t random_bits(struct random *r);
double random_uniform(struct random *r);         /* 0 < u < 1 */
size_t random_below(struct random *r, size_t n); /* 0 … n - 1, without bias; n at least 1 */
double random_normal(struct random *r);          /* mean 0, deviation 1; Box and Muller 1958 */

void random_shuffle(struct random *r, size_t *items, size_t n);
/* The first `take` places of `order` become a random choice from all n, in random order. */
void random_deal(struct random *r, size_t *order, size_t n, size_t take);

#endif
