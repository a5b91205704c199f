#include "base/id.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/random.h>

#include "base/clock.h"

/* Milliseconds and, in the low 12 bits, a count within them: never the same twice, never going
 * back.
 */
static int64_t next_stamp(void)
{
    static int64_t last;
    int64_t now = clock_now().utc_ms * 4096;

    last = now > last ? now : last + 1;
    return last;
}

void id_new(char out[ID_SIZE])
{
    unsigned char noise[8] = {0};
    uint64_t stamp = (uint64_t)next_stamp(), tail;

    if (getrandom(noise, sizeof noise, 0) != (ssize_t)sizeof noise)
        memcpy(noise, &(int64_t){clock_monotonic_ms()}, sizeof noise);
    memcpy(&tail, noise, sizeof tail);
    snprintf(out, ID_SIZE, "%08x-%04x-7%03x-%04x-%012llx", (unsigned)(stamp >> 28),
             (unsigned)(stamp >> 12 & 0xffff), (unsigned)(stamp & 0xfff),
             (unsigned)(0x8000 | (tail >> 50)), (unsigned long long)(tail & 0xffffffffffffULL));
}
