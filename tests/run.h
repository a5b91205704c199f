/* Every test file defines suite(); tests/run.c has main(). */
#ifndef TESTS_RUN_H
#define TESTS_RUN_H

#include <check.h>

Suite *suite(void);

#endif
