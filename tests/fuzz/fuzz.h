/* One entry point per parser, called by libFuzzer or by replay.c. */
#ifndef TESTS_FUZZ_H
#define TESTS_FUZZ_H

#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* What has to hold for any input. Unlike assert() it is there in every build. */
#define must(condition)                                                                            \
    ((condition) ? (void)0                                                                         \
                 : (fprintf(stderr, "%s:%d: does not hold: %s\n", __FILE__, __LINE__, #condition), \
                    abort()))

#endif
