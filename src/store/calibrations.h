/*
 * Wire feed measured at dial positions of a machine (timed length of wire). A reading taken again
 * is a further row: the newest and the spread between them are both worth knowing.
 */
#ifndef STORE_CALIBRATIONS_H
#define STORE_CALIBRATIONS_H

#include <stddef.h>

#include "base/clock.h"
#include "base/error.h"
#include "base/id.h"
#include "store/book.h"

struct calibration {
    char id[ID_SIZE];
    char *machine;          /* as in the variable "machine" */
    double dial;            /* position as on the machine's scale */
    double feed_mm_per_min; /* measured wire feed speed */
    struct instant when;
    char *note;
};

struct calibration_list {
    struct calibration *items;
    size_t count, capacity;
};

/* Those of one machine (case of letters ignored), or of all (NULL); by machine, dial position and
 * time. Struck-out ones are left out. `out` must be zeroed; free it with calibration_list_free().
 */
int calibrations_load(struct book *book, const char *machine, struct calibration_list *out,
                      struct error *e);
/* Stores a new reading; fills in id, and `when` if zero. ERROR_INPUT when no machine is named or a
 * number is beyond what is possible; *c is then as it was. */
int calibration_add(struct book *book, struct calibration *c, struct error *e);

void calibration_free(struct calibration *c);
void calibration_list_free(struct calibration_list *list);

#endif
