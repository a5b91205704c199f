#include "model/amount.h"

#include <ctype.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"

static const struct {
    const char *sign;
    double value;
} signs[] = {
    {"½", 0.5}, {"¼", 0.25}, {"¾", 0.75}, {"⅛", 0.125}, {"⅜", 0.375}, {"⅝", 0.625}, {"⅞", 0.875},
};

static bool read_sign(const char *s, const char **end, double *value)
{
    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
        if (text_starts(s, signs[i].sign)) {
            *value = signs[i].value;
            *end = s + strlen(signs[i].sign);
            return true;
        }
    return false;
}

/* Digits only; the texts read here are short, so that a double holds what matters of them. */
static bool read_digits(const char *s, const char **end, double *value)
{
    size_t digits = strspn(s, "0123456789");

    if (digits == 0 || digits > 15)
        return false;
    *value = strtod(s, NULL);
    *end = s + digits;
    return true;
}

/* "5/16" or "½" */
static bool read_fraction(const char *s, const char **end, double *value)
{
    double above, below;

    if (read_sign(s, end, value))
        return true;
    if (!read_digits(s, &s, &above) || *s != '/' || !read_digits(s + 1, &s, &below) || below == 0)
        return false;
    *value = above / below;
    *end = s;
    return true;
}

/* "1-1/4", "1 1/4", "1¼": the part behind the whole number is a proper fraction. */
static bool read_mixed(const char *s, const char **end, double *value)
{
    double whole, part;

    if (!read_digits(s, &s, &whole))
        return false;
    if ((*s == '-' || *s == ' ') && s[1] != '\0')
        s++;
    if (!read_fraction(s, &s, &part) || part >= 1)
        return false;
    *value = whole + part;
    *end = s;
    return true;
}

/* Most texts are plain numbers: what all fractions have in common tells them apart at once. */
static bool has_fraction(const char *s)
{
    return strpbrk(s, "/\xc2\xe2") != NULL; /* the signs begin with one of these bytes */
}

bool amount_read(const char *s, const char **end, double *value, bool *fraction)
{
    bool minus = *s == '-';
    const char *plain = s + minus;

    if (has_fraction(plain) &&
        (read_mixed(plain, end, value) || read_fraction(plain, end, value))) {
        *value = minus ? -*value : *value;
        *fraction = true;
        return true;
    }
    if (!text_number(s, end, value) || (**end == '/' && isdigit((unsigned char)(*end)[1])))
        return false;
    *fraction = false;
    return true;
}
