#include "app/calc_list.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "model/amount.h"
#include "model/quantity.h"

static const char *item_end(const char *s)
{
    while (*s != '\0' && *s != ';' && !(*s == ',' && !isdigit((unsigned char)s[1])))
        s++;
    return s;
}

bool calc_list_next(const char **list, char item[CALC_ITEM])
{
    const char *end;
    char *trimmed;

    *list += strspn(*list, " ;,");
    end = item_end(*list);
    if (end == *list || (size_t)(end - *list) >= CALC_ITEM)
        return false;
    memcpy(item, *list, (size_t)(end - *list));
    item[end - *list] = '\0';
    trimmed = text_trim(item);
    memmove(item, trimmed, strlen(trimmed) + 1);
    *list = end;
    return true;
}

char *calc_list_word(char **text)
{
    char *word = *text + strspn(*text, " \t");

    if (*word == '\0')
        return NULL;
    *text = word + strcspn(word, " \t");
    if (**text != '\0')
        *(*text)++ = '\0';
    return word;
}

int calc_list_quantity(const char *key, const char *text, enum dimension dimension,
                       const char *unit, double *base, const struct unit **given, struct error *e)
{
    struct quantity q;
    const char *end;
    bool fraction;
    double bare;

    if (amount_read(text, &end, &bare, &fraction) && *end == '\0' && isfinite(bare)) {
        *given = fraction && dimension == DIM_LENGTH ? unit_find("in", 2, DIM_LENGTH)
                                                     : unit_find(unit, strlen(unit), dimension);
        *base = unit_to_base(*given, bare);
        return 0;
    }
    if (quantity_parse(text, dimension, UNITS_METRIC, &q, e) != 0)
        return error_where(e, "%s", key);
    *base = q.value;
    *given = q.unit;
    return 0;
}
