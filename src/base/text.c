#include "base/text.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <wchar.h>

#include "base/array.h"
#include "base/mem.h"

void text_add_part(struct text *t, const char *s, size_t bytes)
{
    t->s = array_reserve(t->s, &t->capacity, t->length + bytes + 1, 1);
    memcpy(t->s + t->length, s, bytes);
    t->length += bytes;
    t->s[t->length] = '\0';
}

void text_add(struct text *t, const char *s)
{
    text_add_part(t, s, strlen(s));
}

void text_addf(struct text *t, const char *format, ...)
{
    va_list args, again;
    int length;

    va_start(args, format);
    va_copy(again, args);
    length = vsnprintf(NULL, 0, format, args);
    va_end(args);
    if (length > 0) {
        t->s = array_reserve(t->s, &t->capacity, t->length + (size_t)length + 1, 1);
        vsnprintf(t->s + t->length, (size_t)length + 1, format, again);
        t->length += (size_t)length;
    }
    va_end(again);
}

void text_put(char *out, size_t size, const char *s)
{
    size_t bytes = strnlen(s, size - 1);

    memcpy(out, s, bytes);
    out[bytes] = '\0';
}

const char *text_str(const struct text *t)
{
    return t->s == NULL ? "" : t->s;
}

char *text_steal(struct text *t)
{
    char *s = t->s == NULL ? mem_copy("") : t->s;

    memset(t, 0, sizeof *t);
    return s;
}

void text_free(struct text *t)
{
    free(t->s);
    memset(t, 0, sizeof *t);
}

/* One code point at `s`: its bytes, or 0 when the bytes are not UTF-8. */
static size_t decode(const char *s, wchar_t *out)
{
    static const struct {
        unsigned char mask, lead;
        size_t bytes;
        unsigned long least;
    } forms[] = {{0x80, 0x00, 1, 0},
                 {0xe0, 0xc0, 2, 0x80},
                 {0xf0, 0xe0, 3, 0x800},
                 {0xf8, 0xf0, 4, 0x10000}};
    const unsigned char *u = (const unsigned char *)s;

    for (size_t f = 0; f < sizeof forms / sizeof *forms; f++) {
        unsigned long code = u[0] & (unsigned char)~forms[f].mask;

        if ((u[0] & forms[f].mask) != forms[f].lead)
            continue;
        for (size_t i = 1; i < forms[f].bytes; i++) {
            if ((u[i] & 0xc0) != 0x80)
                return 0;
            code = code << 6 | (u[i] & 0x3f);
        }
        if (code < forms[f].least || code > 0x10ffff || (code >= 0xd800 && code < 0xe000))
            return 0;
        *out = (wchar_t)code;
        return forms[f].bytes;
    }
    return 0;
}

static size_t step(const char *s, int *cells)
{
    wchar_t code = 0;
    size_t bytes = decode(s, &code);
    int width = bytes == 0 ? 1 : wcwidth(code);

    *cells = width < 0 ? 1 : width;
    return bytes == 0 ? 1 : bytes;
}

int text_width(const char *s)
{
    int total = 0, cells;

    while (*s != '\0') {
        s += step(s, &cells);
        total += cells;
    }
    return total;
}

size_t text_fit(const char *s, int cells)
{
    size_t at = 0;
    int wide;

    while (s[at] != '\0') {
        size_t bytes = step(s + at, &wide);

        if (wide > cells)
            break;
        cells -= wide;
        at += bytes;
    }
    return at;
}

size_t text_valid_length(const char *s)
{
    size_t at = 0;

    while (s[at] != '\0') {
        wchar_t code = (unsigned char)s[at];
        size_t bytes = code >= 0x20 && code < 0x7f ? 1 : decode(s + at, &code);

        if (bytes == 0 || (code < 0x20 && code != '\n' && code != '\t') ||
            (code >= 0x7f && code < 0xa0))
            break;
        at += bytes;
    }
    return at;
}

bool text_valid(const char *s)
{
    return s[text_valid_length(s)] == '\0';
}

char *text_shown(const char *s, bool lines)
{
    struct text out = {0};
    char *shown;

    while (*s != '\0') {
        size_t good = text_valid_length(s);
        int cells;

        text_add_part(&out, s, good);
        s += good;
        if (*s != '\0') {
            text_add(&out, *s == '\r' ? "\n" : "\xef\xbf\xbd");
            s += *s == '\r' && s[1] == '\n' ? 2 : step(s, &cells);
        }
    }
    shown = text_steal(&out);
    for (char *c = shown; !lines && (c = strpbrk(c, "\n\t")) != NULL;)
        *c = ' ';
    return shown;
}

/* Bytes of white space at the start of `s`: ASCII space or U+00A0. */
static size_t space_at(const char *s)
{
    if (isspace((unsigned char)*s))
        return 1;
    return memcmp(s, "\xc2\xa0", *s == '\xc2' ? 2 : 1) == 0 ? 2 : 0;
}

char *text_trim(char *s)
{
    size_t front = 0, length;

    while (s[front] != '\0' && space_at(s + front) > 0)
        front += space_at(s + front);
    length = strlen(s + front);
    memmove(s, s + front, length + 1);
    for (;;) {
        if (length >= 1 && isspace((unsigned char)s[length - 1]))
            length -= 1;
        else if (length >= 2 && memcmp(s + length - 2, "\xc2\xa0", 2) == 0)
            length -= 2;
        else
            break;
    }
    s[length] = '\0';
    return s;
}

bool text_same(const char *a, const char *b)
{
    return strcasecmp(a == NULL ? "" : a, b == NULL ? "" : b) == 0;
}

bool text_starts(const char *s, const char *start)
{
    return strncmp(s, start, strlen(start)) == 0;
}

static size_t digits_at(const char *s)
{
    return strspn(s, "0123456789");
}

/* Bytes of an exponent at `s`; 0 when there is none. */
static size_t exponent_length(const char *s)
{
    size_t sign;

    if (*s != 'e' && *s != 'E')
        return 0;
    sign = s[1] == '+' || s[1] == '-';
    return digits_at(s + 1 + sign) > 0 ? 1 + sign + digits_at(s + 1 + sign) : 0;
}

/* Bytes of the decimal number at `s`; 0 when there is none. */
static size_t number_length(const char *s)
{
    size_t sign = *s == '+' || *s == '-', whole = digits_at(s + sign), at = sign + whole;
    size_t part = s[at] == '.' || s[at] == ',' ? digits_at(s + at + 1) : 0;

    if (whole == 0 && part == 0)
        return 0;
    if (part > 0 || (s[at] == '.' && s[at + 1] != '.')) /* 5..7 is two numbers */
        at += 1 + part;
    return at + exponent_length(s + at);
}

/* At most 15 digits without an exponent: digits and power of ten are whole numbers that a double
 * holds, so their quotient is the nearest double, as strtod() gives it. False for others. */
static bool read_few_digits(const char *s, size_t used, double *value)
{
    double digits = 0, power = 1;
    bool decimals = false;

    if (used > 16)
        return false;
    for (size_t i = *s == '+' || *s == '-'; i < used; i++) {
        if (s[i] == 'e' || s[i] == 'E')
            return false;
        if (s[i] == '.' || s[i] == ',') {
            decimals = true;
            continue;
        }
        digits = 10 * digits + (s[i] - '0');
        power *= decimals ? 10 : 1;
    }
    *value = (*s == '-' ? -digits : digits) / power;
    return true;
}

static bool read_any(const char *s, size_t used, double *value)
{
    char plain[64], *comma;

    if (used >= sizeof plain)
        return false;
    memcpy(plain, s, used);
    plain[used] = '\0';
    comma = strchr(plain, ',');
    if (comma != NULL)
        *comma = '.';
    *value = strtod(plain, NULL);
    return isfinite(*value);
}

bool text_number(const char *s, const char **end, double *value)
{
    size_t used = number_length(s);
    double read;

    if (used == 0 || !(read_few_digits(s, used, &read) || read_any(s, used, &read)))
        return false;
    *value = read;
    if (end != NULL)
        *end = s + used;
    return true;
}

/* Up to four decimals and 15 digits: no other number of so few digits is this double. False for
 * others, and for minus nought. */
static bool from_few_decimals(char *out, size_t size, double value)
{
    char digits[24], *s = digits + sizeof digits - 1;
    double power = 1, whole = round(value);
    int decimals = 0;
    long long rest;

    if (!(fabs(value) < 1e11) || (value == 0 && signbit(value)))
        return false;
    for (; whole / power != value; whole = round(value * power)) {
        power *= 10;
        if (++decimals > 4)
            return false;
    }
    rest = llabs((long long)whole);
    *s = '\0';
    for (int place = 0; rest > 0 || place <= decimals; place++) {
        if (place == decimals && decimals > 0)
            *--s = '.';
        *--s = (char)('0' + rest % 10);
        rest /= 10;
    }
    if (value < 0)
        *--s = '-';
    text_put(out, size, s);
    return true;
}

void text_from_number(char *out, size_t size, double value)
{
    bool plain = fabs(value) < 1e15; /* 300, not 3e+02 */

    if (from_few_decimals(out, size, value))
        return;
    for (int digits = 1; digits <= 17; digits++) {
        snprintf(out, size, "%.*g", digits, value);
        if (strtod(out, NULL) == value && !(plain && strstr(out, "e+") != NULL))
            return;
    }
}

void text_from_rounded(char *out, size_t size, double value, int decimals)
{
    char *end;

    assert(decimals >= 0);
    snprintf(out, size, "%.*f", decimals, value);
    if (strchr(out, '.') != NULL) {
        end = out + strlen(out);
        while (end[-1] == '0')
            *--end = '\0';
        if (end[-1] == '.')
            *--end = '\0';
    }
    if (strcmp(out, "-0") == 0)
        memmove(out, out + 1, strlen(out));
}

void text_from_figures(char *out, size_t size, double value, int figures)
{
    double most = fabs(value);
    int decimals;

    if (value != 0 && (most >= 1e15 || most < 1e-9)) {
        snprintf(out, size, "%.*g", figures, value);
        return;
    }
    if (!isfinite(value)) {
        snprintf(out, size, "–");
        return;
    }
    decimals = value == 0 ? 0 : figures - 1 - (int)floor(log10(most));
    text_from_rounded(out, size, value, decimals < 0 ? 0 : decimals);
}
