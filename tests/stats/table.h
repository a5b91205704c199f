/*
 * Frames for tests, written as a small table: one row a coupon, names first, cells parted by
 * commas. The column "mark" names the coupons (else 1, 2, …); the last column is the result, its
 * cells as in the coupon table: 135, 135+, <=40, 20..40, empty. A column is a number when every
 * filled cell is one.
 */
#ifndef TESTS_STATS_TABLE_H
#define TESTS_STATS_TABLE_H

#include "stats/data/frame.h"

void table_to_frame(const char *text, double range, struct frame *out);
char *table_read_file(const char *path); /* NULL when it cannot be read; the caller frees */

#endif
