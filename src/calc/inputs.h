/*
 * The arguments of one calculation as numbers in base units, by row of the kind's argument table.
 */
#ifndef CALC_INPUTS_H
#define CALC_INPUTS_H

#include "calc/kind.h"
#include "model/quantity.h"

struct calc_inputs {
    double value[CALC_ARGUMENTS]; /* NAN: not given; choices: index of the word */
    double error[CALC_ARGUMENTS]; /* ±, 0 exact */
    char *text[CALC_ARGUMENTS];   /* as given, tidied; NULL: not given; owned */
    bool given[CALC_ARGUMENTS];   /* false: the usual value, or none */
};

/* One value as it was read. */
struct calc_reading {
    double value;            /* base unit */
    const struct unit *unit; /* it was written in; NULL: a bare number that is the base value */
    char entry[ENTRY_SIZE];  /* as understood: "5/16 in" */
};

/* The unit called `key`, the base unit for NULL; NULL where there is none: bare numbers, counts. */
const struct unit *calc_unit(enum dimension dimension, const char *key);

/* Reads one value without its ±, as a row of that dimension and unit takes it; row->key is named in
 * the error. ERROR_INPUT for what is no such value. */
int calc_read(const struct calc_argument *row, const char *text, struct calc_reading *out,
              struct error *e);

/*
 * Lists inside one argument: "2.5mm; 1.2mm", "broke 6mm 4mm; held 4mm 6mm". Items end at a
 * semicolon or a comma. A comma between two digits is a decimal comma where semicolons divide the
 * list
 * ("2,5; 3,1"), and where it is the only one of a list without point, colon, slash or hyphen
 * ("2,5"). Every item, trimmed, goes to `take`, which may write into it and keeps what it reads in
 * `context`: at most CALC_ITEMS of them. ERROR_INPUT for a list or an item that is too long, or the
 * error of `take`. `text` NULL: an empty list.
 */
enum { CALC_ITEM = 64, CALC_ITEMS = 256 };
int calc_list_read(const char *key, const char *text,
                   int (*take)(char *item, void *context, struct error *e), void *context,
                   struct error *e);
/* Cuts the next word off `*text`; NULL at the end. */
char *calc_list_word(char **text);

void calc_inputs_start(struct calc_inputs *in); /* nothing given */
void calc_inputs_free(struct calc_inputs *in);
/* Takes "key=value" into its row. ERROR_USAGE for an unknown or repeated key, ERROR_INPUT for a
 * value that cannot be read or cannot be. */
int calc_inputs_take(struct calc_inputs *in, const struct calc_kind *kind, const char *argument,
                     struct error *e);
/* ERROR_USAGE for arguments of which one would silently be passed over (kind->either). */
int calc_inputs_check(const struct calc_inputs *in, const struct calc_kind *kind, struct error *e);
/* Puts a number or a word into a row, as if it had been given; a word that is not one of its
 * choices, NAN and NULL leave it. The key must be one of the kind's. */
struct calc_entry {
    const char *key;
    double value;     /* base unit */
    const char *word; /* of a choice; or NULL */
    double error;     /* ±, base unit; 0: the row's own reading error */
};
void calc_inputs_put(struct calc_inputs *in, const struct calc_kind *kind,
                     const struct calc_entry *entry);
/* Fills the rows not given with their usual values. */
void calc_inputs_usual(struct calc_inputs *in, const struct calc_kind *kind);

#endif
