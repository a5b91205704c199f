/*
 * The live figures of one coupon's card, in the shape of calc's: passes, cooling, throat, hinge,
 * duty, bend. Only what the coupon's entries carry is listed; nothing is assumed silently: a usual
 * value that was taken (steel strengths, k) is named in the notes.
 */
#ifndef DERIVED_COUPON_FIGURES_H
#define DERIVED_COUPON_FIGURES_H

#include "calc/answer.h"
#include "model/coupon.h"

struct coupon_figure {
    int pass;                  /* number of the pass it belongs to; 0: the whole coupon */
    struct calc_figure figure; /* key, label and source are constant text */
};

struct coupon_figures {
    struct coupon_figure *items;
    size_t count, capacity;
    char **notes; /* owned */
    size_t note_count, note_capacity;
};

/* Fills `out` (zeroed first); release with coupon_figures_free(). */
void coupon_figures(const struct coupon *c, enum unit_system units, struct coupon_figures *out);
void coupon_figures_free(struct coupon_figures *f);

#endif
