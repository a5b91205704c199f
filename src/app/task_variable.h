/* The variables: their list, and the user's own. */
#ifndef APP_TASK_VARIABLE_H
#define APP_TASK_VARIABLE_H

#include "app/session.h"
#include "base/error.h"
#include "page/page.h"

/* Makes one of the user's own variables and keeps it in the book. ERROR_INPUT when its name is
 * taken or it is no possible variable; the session is as before after an error. */
int task_variable_add(struct session *s, const struct variable *own, struct error *e);

/* All of them as a table: key, kind, unit, what it is. */
void task_variable_page(const struct session *s, struct page *p);

#endif
