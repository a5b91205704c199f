#include "calc/list.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include "base/text.h"
#include "model/amount.h"
#include "model/quantity.h"

static bool between_digits(const char *text, const char *comma)
{
    return comma > text && isdigit((unsigned char)comma[-1]) && isdigit((unsigned char)comma[1]);
}

struct calc_list calc_list_start(const char *text)
{
    size_t commas = 0;
    const char *s;

    for (s = text; *s != '\0'; s++)
        commas += *s == ',' && between_digits(text, s);
    return (struct calc_list){text, strchr(text, ';') != NULL ||
                                        (commas == 1 && strpbrk(text, ".:/-") == NULL)};
}

static const char *item_end(const struct calc_list *list)
{
    const char *s = list->at;

    while (*s != '\0' && *s != ';' &&
           !(*s == ',' && !(list->decimal_comma && between_digits(list->at, s))))
        s++;
    return s;
}

bool calc_list_next(struct calc_list *list, char item[CALC_ITEM])
{
    const char *end;
    char *trimmed;

    list->at += strspn(list->at, " ;,");
    end = item_end(list);
    if (end == list->at || (size_t)(end - list->at) >= CALC_ITEM)
        return false;
    memcpy(item, list->at, (size_t)(end - list->at));
    item[end - list->at] = '\0';
    trimmed = text_trim(item);
    memmove(item, trimmed, strlen(trimmed) + 1);
    list->at = end;
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
