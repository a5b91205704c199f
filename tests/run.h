/* Every test file defines suite(); tests/run.c has main(). */
#ifndef TESTS_RUN_H
#define TESTS_RUN_H

#include <check.h>

Suite *suite(void);

/* The seed of a random test: COLDLAP_SEED when that is set, `usual` otherwise. Printed, so that
 * what was found can be played again. */
unsigned test_seed(unsigned usual);

#endif
