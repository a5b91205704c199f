/* Lists inside one argument of calc: "2.5mm; 1.2mm", "broke 6mm 4mm; held 3mm 5mm". */
#ifndef APP_CALC_LIST_H
#define APP_CALC_LIST_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/units.h"

enum { CALC_ITEM = 64, CALC_ITEMS = 256 };

/* Copies the next item, trimmed, into `item`. Items end at a semicolon, or at a comma that has no
 * digit directly behind it (that is a decimal comma). False at the end, or when one is too long. */
bool calc_list_next(const char **list, char item[CALC_ITEM]);
/* Cuts the next word off `*text`; NULL at the end. */
char *calc_list_word(char **text);
/* One quantity; a bare number takes `unit` (key). `key` is named in errors. */
int calc_list_quantity(const char *key, const char *text, enum dimension dimension,
                       const char *unit, double *base, const struct unit **given, struct error *e);

#endif
