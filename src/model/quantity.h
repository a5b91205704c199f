/*
 * Reading and writing quantities the way a shop does: 5/16, 5/16in, 1-1/4", .045, 1,2mm, 11 ga,
 * 250F, 120 °C, 12 ipm, 1m20s, 17.5 V. A bare number takes the unit the book shows.
 */
#ifndef MODEL_QUANTITY_H
#define MODEL_QUANTITY_H

#include <stdbool.h>
#include <stddef.h>

#include "base/error.h"
#include "model/measure.h"
#include "model/units.h"

enum { ENTRY_SIZE = 64 };

struct quantity {
    double value;            /* in the base unit of the dimension */
    const struct unit *unit; /* as given, or the one a bare number took; NULL for DIM_NUMBER */
    bool bare;               /* no unit was written and no header gave one */
    char entry[ENTRY_SIZE];  /* as given, tidied: "5/16 in", "11 ga (manufacturers' standard)" */
};

/*
 * Reads one quantity. A bare number takes the unit of `system`, but a bare fraction of a length
 * (5/16) is inches in any book, because nobody writes millimetres so. A gauge (11 ga) is the
 * manufacturers' standard gauge of steel sheet. Times and lengths may have parts (1m20s, 1:20,
 * 1 ft 6 in). -1 with ERROR_INPUT, naming the text and what would be right, when it is no finite
 * quantity of the dimension in less than ENTRY_SIZE bytes; `out` is then not to be used.
 */
int quantity_parse(const char *text, enum dimension dimension, enum unit_system system,
                   struct quantity *out, struct error *e);

/* How a text is read. */
struct quantity_form {
    enum dimension dimension;
    enum unit_system system;
    const struct unit *bare; /* the unit of bare numbers and fractions, as under a header "thickness
                                (mm)"; NULL: as quantity_parse() takes them */
};
int quantity_parse_as(const char *text, const struct quantity_form *as, struct quantity *out,
                      struct error *e);

/*
 * Reads a result: a quantity, or "135+", ">=135", ">135", "at least 135" (at least), "<=", "<",
 * "at most" (at most), "40..60", "40 to 60" (between; a unit behind the second counts for both), ""
 * or "–" (missing). `entry` (may be NULL) receives the tidied text, "" when missing or too long.
 * -1 with ERROR_INPUT, and `out` missing, for anything else.
 */
int measure_parse(const char *text, const struct quantity_form *as, struct measure *out,
                  char entry[ENTRY_SIZE], struct error *e);

/* "7.94 mm", "0.312 in", "135°": rounded to the unit's decimals, in the unit of `system`. */
void quantity_format(char *out, size_t size, double value, enum dimension dimension,
                     enum unit_system system);
/* "at least 135°", "40° to 60°", "–" when missing. */
void measure_format(char *out, size_t size, struct measure m, enum dimension dimension,
                    enum unit_system system);
/* The form measure_parse() reads back exactly, without unit: "135+", "40..60", "". Base unit. */
void measure_format_plain(char *out, size_t size, struct measure m);

#endif
