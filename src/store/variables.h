/* The user's own variables, as rows of the book; the built-in ones are in the program. */
#ifndef STORE_VARIABLES_H
#define STORE_VARIABLES_H

#include "base/error.h"
#include "model/variable.h"
#include "store/book.h"

/* Adds the book's own variables, oldest first, to a list started with variable_list_init(). One
 * whose key has become a built-in variable since is left to the built-in row. */
int own_variables_load(struct book *book, struct variable_list *list, struct error *e);

/* Stores one, or changes the stored one with the same key; the earlier state is kept in the
 * history. Kind, role, dimension and unit cannot change once coupons have values of it. */
int own_variable_save(struct book *book, const struct variable *v, struct error *e);

#endif
