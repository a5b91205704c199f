/*
 * The user's own variables, as rows of the book; the built-in ones are in the program.
 *
 * Errors are those of store/db.h; saving in a book that can only be read is ERROR_SYSTEM.
 */
#ifndef STORE_VARIABLES_H
#define STORE_VARIABLES_H

#include "base/error.h"
#include "model/variable.h"
#include "store/book.h"

/* Adds the book's own variables, oldest first, to a list started with variable_list_init(). One
 * whose key has become a built-in variable since is left to the built-in row. */
int own_variables_load(struct book *book, struct variable_list *list, struct error *e);

/* Stores one, or changes the stored one with the same key; the earlier state is kept in the
 * history. Kind, role, dimension and unit cannot change once coupons have values of it
 * (ERROR_INPUT). */
int own_variable_save(struct book *book, const struct variable *v, struct error *e);

#endif
