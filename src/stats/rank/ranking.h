/*
 * The ranking: which variables moved the result, by how much, how sure, and which of them cannot be
 * told apart.
 *
 * Every set of variables ("subset") is fitted by the censored-normal model (stats/fit/censored.h)
 * and weighed by its evidence; what is said of a variable is the average over the subsets. All
 * effects are in the result's unit. Rows and columns are indexes of the frame; the ranking keeps no
 * pointers into it.
 */
#ifndef STATS_RANK_RANKING_H
#define STATS_RANK_RANKING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/error.h"
#include "stats/data/frame.h"
#include "stats/rank/aliasing.h"

#define RANKING_NO_ALIAS ((size_t)-1)

/* How sure, from the chance. */
#define SURE_CLEAR_FROM 0.90
#define SURE_LIKELY_FROM 0.75
#define SURE_HINT_FROM 0.50
enum sureness { SURE_NO_SIGN, SURE_HINT, SURE_LIKELY, SURE_CLEAR };

/* One level of a category held against the reference level of that category. */
struct ranked_level {
    size_t level;     /* index into the column's levels; only levels in use are listed */
    size_t coupons;   /* used coupons at this level */
    bool reference;   /* the level with most coupons: effect, low, high are 0 */
    double effect;    /* result at this level less that at the reference, given it matters */
    double low, high; /* 90 % interval; NAN without intervals */
    double anyway;    /* the same, whether it matters or not (unconditional) */
};

struct ranked {
    size_t column;
    size_t rank;          /* from 1; shared by variables of one alias set */
    size_t alias_set;     /* index into aliasing.sets of its first exact set, or RANKING_NO_ALIAS */
    double from, to;      /* numbers: smallest and largest used value; categories: the levels
                             (as indexes) with the largest difference, the lower result first */
    double effect;        /* change of the result from `from` to `to`, given that it matters */
    double low, high;     /* its 90 % interval; NAN without intervals */
    double effect_anyway; /* the same change, whether it matters or not: effect times chance */
    double chance;        /* that it matters, 0 … 1 */
    enum sureness word;   /* of the chance */
    double importance;    /* part of the differences between results, 0 … 1 */
    double prob_largest;  /* chance that its effect is the largest of all, 0 … 1 */
    double permutation_chance; /* permutation_check(): how often permuted results do as well; small
    speaks for the variable; NAN when not run or not separable */
    struct ranked_level *levels; /* categories: every level in use; NULL for numbers */
    size_t level_count;
};

enum scatter_from { SCATTER_REPEATS, SCATTER_FIT, SCATTER_ASSUMED };

struct ranking {
    struct ranked *items; /* best first */
    size_t count;
    struct aliasing aliasing;   /* exact and near sets, columns as frame columns */
    struct exclusions excluded; /* coupons and columns that could not be ranked */
    struct model_matrix matrix; /* what was ranked, one row a used coupon: for what comes after */
    size_t coupons, used, held; /* held: used coupons whose result is only "at least" */
    size_t set_ups;             /* distinct set-ups among the used coupons */
    size_t repeats;             /* used coupons beyond the first of their set-up */
    double scatter;             /* standard deviation of like coupons, result's unit */
    enum scatter_from scatter_from; /* repeats: pooled from them; fit: left over by the ranking;
                                       assumed: a twelfth of the range */
    double scatter_fitted;          /* what the ranking itself worked with (average over subsets) */
    double unexplained;             /* 1 − sum of the importances */
    double range;                   /* R, result's unit */
    size_t subsets;                 /* fitted */
    bool searched;     /* more than 12 variables: subsets were searched, not all fitted */
    bool approximated; /* subsets taken from one full fit (more than 1000 cells) */
};

/* Called now and then with the part done (0 … 1); returning false stops the work. */
typedef bool ranking_progress(void *user, double done);

struct ranking_options {
    bool intervals;      /* false: low and high stay NAN (much faster) */
    size_t permutations; /* of the permutation check; 0: not run; 1999 is a good number */
    uint64_t seed; /* of draws and permutations; the same seed gives the same answer anywhere */
    ranking_progress *progress; /* may be NULL */
    void *user;
};

/* Intervals on, no permutations, seed 1, no progress. */
struct ranking_options ranking_usual(void);

/*
 * Ranks all columns of the frame (options may be NULL: the usual ones). Coupons without a result or
 * without the value of a changed variable are left out. ERROR_ANSWER with a sentence for the user
 * when nothing can be ranked: no coupon, fewer than 4 used, nothing broke, all results equal, no
 * variable changed; or when the progress call stopped it. On error `out` is left empty.
 */
int ranking_make(const struct frame *f, const struct ranking_options *options, struct ranking *out,
                 struct error *e);
void ranking_free(struct ranking *r);

enum sureness sureness_of(double chance);
/* The chance to two digits as it is shown: never that of a better word, so that 0.899, which is
 * "likely", reads 0.89 and not 0.90. */
double sureness_shown(double chance);
const char *sureness_word(enum sureness s);            /* "clear", "likely", "a hint", "no sign" */
const char *scatter_from_code(enum scatter_from from); /* "repeats", "fit", "assumed" */

#endif
