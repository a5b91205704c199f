#include "calc/process.h"

#include <stddef.h>

int calc_process(const char *text, const struct heat_process **out, struct error *e)
{
    *out = heat_process_named(text);
    if (text == NULL || *out != NULL)
        return 0;
    return error_set(e, ERROR_INPUT,
                     "process: '%s' is not in EN 1011-1 Table 1; it has 111, 114, 121, 131, 135, "
                     "136, 138, 141 and 15",
                     text);
}

void calc_process_note(const char *text, struct calc_answer *a)
{
    const struct heat_process *p = heat_process_named(text);

    if (p != NULL && p->iso4063 == HEAT_INERT_GAS)
        calc_note(a,
                  "131 is welded under inert gas, as aluminium is; steel takes active gas: 135.");
}
