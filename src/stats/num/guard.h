/* What the GNU Scientific Library does when something goes wrong. */
#ifndef STATS_NUM_GUARD_H
#define STATS_NUM_GUARD_H

/*
 * Call once at start: from then on a GSL function that fails returns its error instead of ending
 * the program, which is what it does by default; only a lack of memory still ends it.
 */
void guard_start(void);
/* Every block GSL allocates goes through here: a lack of memory ends the program, as in base/mem.h.
 */
void *guard_block(void *block);

#endif
