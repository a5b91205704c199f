#include "base/clock.h"

#include <assert.h>
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static int64_t read_clock(clockid_t id)
{
    struct timespec now;

    clock_gettime(id, &now);
    return (int64_t)now.tv_sec * 1000 + now.tv_nsec / 1000000;
}

static int local_offset(int64_t utc_ms)
{
    time_t seconds = (time_t)(utc_ms / 1000);
    struct tm local;

    if (localtime_r(&seconds, &local) == NULL)
        return 0;
    return (int)(local.tm_gmtoff / 60);
}

struct instant clock_local(int64_t utc_ms)
{
    return (struct instant){utc_ms, local_offset(utc_ms)};
}

/* The clock set by COLDLAP_NOW, if any: one second later at each reading that counts. */
static bool set_clock(bool counts, struct instant *out)
{
    static int64_t readings;
    const char *text = getenv("COLDLAP_NOW");

    if (text == NULL || !clock_parse(text, out))
        return false;
    out->utc_ms += 1000 * readings;
    readings += counts;
    return true;
}

static struct instant read_wall(bool counts)
{
    struct instant now;

    if (set_clock(counts, &now))
        return now;
    now.utc_ms = read_clock(CLOCK_REALTIME);
    now.offset_minutes = local_offset(now.utc_ms);
    return now;
}

struct instant clock_now(void)
{
    return read_wall(true);
}

struct instant clock_look(void)
{
    return read_wall(false);
}

struct instant clock_or_now(struct instant when)
{
    return when.utc_ms != 0 || when.offset_minutes != 0 ? when : clock_now();
}

int64_t clock_monotonic_ms(void)
{
    return read_clock(CLOCK_MONOTONIC);
}

/* Digits where `shape` has a 0: sscanf alone would take signs and spaces too. */
static bool has_shape(const char *text, const char *shape)
{
    for (size_t i = 0; shape[i] != '\0'; i++)
        if (shape[i] == '0' ? !isdigit((unsigned char)text[i]) : text[i] != shape[i])
            return false;
    return true;
}

/* Reads "Z" or "+01:00"; false when it is neither. */
static bool parse_offset(const char *s, int *minutes)
{
    int size;

    *minutes = 0;
    if (strcmp(s, "Z") == 0)
        return true;
    if ((*s != '+' && *s != '-') || !has_shape(s + 1, "00:00") || s[strlen("+01:00")] != '\0')
        return false;
    size = atoi(s + 1) * 60 + atoi(s + strlen("+01:"));
    *minutes = *s == '-' ? -size : size;
    return size < 19 * 60 && s[strlen("+01:")] < '6';
}

/* timegm() turns 30 February into 2 March; a day that was changed by it is no day. */
static bool to_seconds(struct tm t, time_t *out)
{
    struct tm given = t;

    *out = timegm(&t);
    return t.tm_mon == given.tm_mon && t.tm_mday == given.tm_mday && t.tm_hour == given.tm_hour &&
           t.tm_min == given.tm_min && t.tm_sec == given.tm_sec;
}

bool clock_parse(const char *text, struct instant *out)
{
    struct tm t = {0};
    int used = 0, offset;
    time_t seconds;

    if (!has_shape(text, "0000-00-00T00:00:00") ||
        sscanf(text, "%4d-%2d-%2dT%2d:%2d:%2d%n", &t.tm_year, &t.tm_mon, &t.tm_mday, &t.tm_hour,
               &t.tm_min, &t.tm_sec, &used) != 6 ||
        !parse_offset(text + used, &offset))
        return false;
    t.tm_year -= 1900;
    t.tm_mon -= 1;
    if (!to_seconds(t, &seconds))
        return false;
    out->utc_ms = ((int64_t)seconds - (int64_t)offset * 60) * 1000;
    out->offset_minutes = offset;
    return true;
}

bool clock_parse_part(const char *text, const char *rest, struct instant *out)
{
    char whole[64];
    size_t length = strlen(text);
    bool part = length == 10 || length == 16 || length == 19;

    assert(strlen(rest) >= strlen("T00:00:00Z"));
    snprintf(whole, sizeof whole, "%.30s%s", text, part ? rest + (length - 10) : "");
    if (length > 10 && whole[10] == ' ')
        whole[10] = 'T';
    return clock_parse(whole, out);
}

static struct tm local_time(struct instant when)
{
    int64_t whole = when.utc_ms / 1000 - (when.utc_ms % 1000 < 0); /* a book may hold any number */
    time_t seconds = (time_t)(whole + (int64_t)when.offset_minutes * 60);
    struct tm t = {0};

    gmtime_r(&seconds, &t);
    return t;
}

void clock_format(char *out, size_t size, struct instant when)
{
    struct tm t = local_time(when);
    long offset = labs(when.offset_minutes);

    snprintf(out, size, "%04d-%02d-%02dT%02d:%02d:%02d%c%02ld:%02ld", t.tm_year + 1900,
             t.tm_mon + 1, t.tm_mday, t.tm_hour, t.tm_min, t.tm_sec,
             when.offset_minutes < 0 ? '-' : '+', offset / 60, offset % 60);
}

void clock_format_day(char *out, size_t size, struct instant when)
{
    char whole[80];

    clock_format(whole, sizeof whole, when);
    snprintf(out, size, "%.*s", (int)strcspn(whole, "T"), whole);
}

void clock_format_short(char *out, size_t size, struct instant when)
{
    char whole[80];
    int day;

    clock_format(whole, sizeof whole, when);
    day = (int)strcspn(whole, "T");
    snprintf(out, size, "%.*s %.5s", day, whole, whole + day + 1);
}

bool clock_credible(struct instant when, char *why, size_t size)
{
    static const int64_t earliest = -631152000000, day = 86400000; /* 1950-01-01 */
    struct instant latest = clock_now();
    char last[40];

    latest.utc_ms += day;
    if (when.utc_ms >= earliest && when.utc_ms <= latest.utc_ms)
        return true;
    clock_format_day(last, sizeof last, latest);
    snprintf(why, size, "cannot be: 1950-01-01 to %s, tomorrow by this computer's clock, is right",
             last);
    return false;
}
