#include "app/unfused.h"

#include <math.h>
#include <stdlib.h>

#include "base/mem.h"
#include "weld/uncertainty.h"

struct stretch {
    double from, to;
};

static int by_start(const void *a, const void *b)
{
    const struct stretch *x = a, *y = b;

    return (x->from > y->from) - (x->from < y->from);
}

/* The stretches of unfused flaws within the bead, in order of their start. */
static size_t collect(const struct coupon *c, struct stretch *list)
{
    double end = c->bead_mm > 0 ? c->bead_mm : INFINITY;
    size_t i, n = 0;

    for (i = 0; i < c->flaw_count; i++) {
        const struct flaw *f = &c->flaws[i];
        const struct flaw_kind *kind = flaw_kind_find(f->iso6520);
        struct stretch s = {fmax(0, fmin(f->from_mm, f->to_mm)),
                            fmin(end, fmax(f->from_mm, f->to_mm))};

        if (kind != NULL && kind->unfused && !isnan(f->from_mm) && !isnan(f->to_mm) &&
            s.to > s.from)
            list[n++] = s;
    }
    qsort(list, n, sizeof *list, by_start);
    return n;
}

static void count_stretch(struct unfused *out, struct stretch s)
{
    double length = s.to - s.from;

    out->total_mm += length;
    out->longest_mm = fmax(out->longest_mm, length);
    if (s.from <= READING_MM)
        out->at_start_mm = fmax(out->at_start_mm, s.to);
}

bool unfused_of(const struct coupon *c, struct unfused *out)
{
    struct stretch *list, joined;
    size_t i, n;

    *out = (struct unfused){0, 0, 0};
    if (!c->face_read)
        return false;
    list = mem_zero(c->flaw_count, sizeof *list);
    n = collect(c, list);
    for (i = 0; i < n; i++) {
        joined = list[i];
        while (i + 1 < n && list[i + 1].from <= joined.to)
            joined.to = fmax(joined.to, list[++i].to);
        count_stretch(out, joined);
    }
    free(list);
    return true;
}
