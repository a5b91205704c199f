/*
 * Random numbers that are the same on every machine: splitmix64 (Steele, Lea & Flood, Fast
 * splittable pseudorandom number generators, OOPSLA 2014).
 */
#ifndef STATS_RANDOM_H
#define STATS_RANDOM_H

#include <stddef.h>
#include <stdint.h>

struct random {
    uint64_t state;
};

struct random random_seeded(uint64_t seed);
uint64_t random_bits(struct random *r);
double random_uniform(struct random *r);                /* 0 < u < 1 */
size_t random_below(struct random *r, size_t n);        /* 0 … n − 1, without bias; n ≥ 1 */
double random_normal(struct random *r);                 /* mean 0, standard deviation 1 */
void random_shuffle(struct random *r, size_t *items, size_t n);

#endif
