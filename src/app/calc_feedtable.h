/* The text of a dial's table: "2: 4.1m/min; 4: 7.9m/min ± 0.2". */
#ifndef APP_CALC_FEEDTABLE_H
#define APP_CALC_FEEDTABLE_H

#include "base/error.h"
#include "weld/feedtable.h"

/* A reading with the ± of a 6 s run. */
struct feed_point calc_feed_point(double dial, double feed_mm_per_min);
/* Reads the feed at a dial position off a table. A bare feed is in m/min; a ± that is not said is
 * that of a 6 s run: ±0.2 s and ±0.5 mm. */
int calc_feed_table(const char *table, double dial, struct feed_answer *out, struct error *e);

#endif
