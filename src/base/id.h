/*
 * Identities of rows: time-ordered UUIDs (RFC 9562, version 7), as 36 characters of text. Rows made
 * later sort later, also within one millisecond of one process, and two benches never collide.
 */
#ifndef BASE_ID_H
#define BASE_ID_H

#define ID_SIZE 37 /* with the closing NUL */

/* Never fails; without the randomness of the system the tail comes from the clock. */
void id_new(char out[ID_SIZE]);

#endif
