#include "weld/uncertainty.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* Half the change of one output when one reading goes from −u to +u; one-sided at an edge. */
static double change(double below, double centre, double above)
{
    if (isnan(below) && isnan(above))
        return 0;
    if (isnan(below))
        return above - centre;
    if (isnan(above))
        return centre - below;
    return (above - below) / 2;
}

void uncertainty_carry(uncertainty_function *f, void *context, const double *x, const double *error,
                       size_t inputs, double *carried, size_t outputs)
{
    double at[UNCERTAINTY_INPUTS], centre[UNCERTAINTY_OUTPUTS], below[UNCERTAINTY_OUTPUTS],
        above[UNCERTAINTY_OUTPUTS], sum[UNCERTAINTY_OUTPUTS] = {0};
    size_t moved = 0;

    assert(inputs <= UNCERTAINTY_INPUTS && outputs <= UNCERTAINTY_OUTPUTS);
    memcpy(at, x, inputs * sizeof *at);
    f(at, centre, context);
    for (size_t i = 0; i < inputs; i++) {
        if (!(error[i] > 0) || isnan(x[i]))
            continue;
        moved++;
        at[i] = x[i] - error[i];
        f(at, below, context);
        at[i] = x[i] + error[i];
        f(at, above, context);
        at[i] = x[i];
        for (size_t j = 0; j < outputs; j++) {
            double c = change(below[j], centre[j], above[j]);

            sum[j] += c * c;
        }
    }
    for (size_t j = 0; j < outputs; j++)
        carried[j] = moved > 0 && !isnan(centre[j]) ? sqrt(sum[j]) : NAN;
}
