#include "stats/num/guard.h"

#include <gsl/gsl_errno.h>
#include <stddef.h>

#include "base/mem.h"

static void on_error(const char *reason, const char *file, int line, int code)
{
    (void)reason;
    (void)file;
    (void)line;
    if (code == GSL_ENOMEM)
        mem_ended();
}

void guard_start(void)
{
    gsl_set_error_handler(on_error);
}

void *guard_block(void *block)
{
    if (block == NULL)
        mem_ended();
    return block;
}
