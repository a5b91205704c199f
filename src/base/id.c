#include "base/id.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>
#include <sys/random.h>

#include "base/clock.h"

/* Milliseconds and a 12-bit count within them: never the same pair twice, never going back. */
static void next_stamp(int64_t *ms, unsigned *count)
{
    static int64_t last_ms;
    static unsigned last_count;
    int64_t now = clock_now().utc_ms;

    if (now > last_ms) {
        last_ms = now;
        last_count = 0;
    } else if (++last_count > 0xfff) {
        last_ms++;
        last_count = 0;
    }
    *ms = last_ms;
    *count = last_count;
}

void id_new(char out[ID_SIZE])
{
    unsigned char noise[8] = {0};
    int64_t ms;
    unsigned count;
    uint64_t tail = 0;

    next_stamp(&ms, &count);
    if (getrandom(noise, sizeof noise, 0) != (ssize_t)sizeof noise)
        memcpy(noise, &(int64_t){clock_monotonic_ms()}, sizeof noise);
    memcpy(&tail, noise, sizeof tail);
    snprintf(out, ID_SIZE, "%08x-%04x-7%03x-%04x-%012llx", (unsigned)(ms >> 16),
             (unsigned)(ms & 0xffff), count, (unsigned)(0x8000 | (tail >> 50)),
             (unsigned long long)(tail & 0xffffffffffffULL));
}
