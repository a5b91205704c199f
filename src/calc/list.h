/* Lists inside one argument of calc: "2.5mm; 1.2mm", "broke 6mm 4mm; held 4mm 6mm". */
#ifndef CALC_LIST_H
#define CALC_LIST_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/units.h"

enum { CALC_ITEM = 64, CALC_ITEMS = 256 };

/*
 * A list being read. Items end at a semicolon or a comma. A comma between two digits is a decimal
 * comma where semicolons divide the list ("2,5; 3,1"), and where it is the only one of a list
 * without point, colon, slash or hyphen ("2,5").
 */
struct calc_list {
    const char *at;
    bool decimal_comma;
};

struct calc_list calc_list_start(const char *text);
/* Copies the next item, trimmed, into `item`. False at the end, or when one is too long: then
 * list->at is not at the end of the text. */
bool calc_list_next(struct calc_list *list, char item[CALC_ITEM]);
/* Cuts the next word off `*text`; NULL at the end. */
char *calc_list_word(char **text);
/* One quantity; a bare number takes `unit` (key). `key` is named in errors. */
int calc_list_quantity(const char *key, const char *text, enum dimension dimension,
                       const char *unit, double *base, const struct unit **given, struct error *e);

#endif
