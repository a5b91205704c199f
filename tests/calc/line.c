#include "line.h"

#include <check.h>
#include <math.h>
#include <string.h>

enum { PARTS = 24 };

int run(const char *line, enum unit_system units, struct calc_answer *a, struct error *e)
{
    char work[LINE], *parts[PARTS], *save = NULL;
    size_t n = 0;

    ck_assert_uint_lt(strlen(line), sizeof work);
    strcpy(work, line);
    for (char *part = strtok_r(work, "|", &save); part != NULL; part = strtok_r(NULL, "|", &save)) {
        ck_assert_uint_lt(n, PARTS);
        parts[n++] = part;
    }
    return calc_run(parts[0], n - 1, parts + 1, units, a, e);
}

double figure(const char *line, const char *key)
{
    const struct calc_figure *f;
    struct calc_answer a;
    struct error e;
    double value;

    ck_assert_msg(run(line, UNITS_METRIC, &a, &e) == 0, "%s: %s", line, e.text);
    f = calc_figure_find(&a, key);
    value = f == NULL ? NAN : f->value;
    calc_answer_free(&a);
    return value;
}
