/*
 * Prints what the statistics compute, with 17 digits, for the R scripts to compare: one "name value
 * …" line each.
 *
 *     probe rank TABLE RANGE [shuffles]   the ranking
 *     probe average TABLE RANGE           every subset with its evidence and coefficients
 *     probe fit TABLE LAMBDA CA CB        one fit of all columns, results as they are
 *     probe tail X…                       log Φ(x) and φ(x)/Φ(x)
 *     probe least TABLE                   least squares on all columns and a constant
 */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "stats/fit/censored.h"
#include "stats/fit/model_average.h"
#include "stats/num/guard.h"
#include "stats/num/linear.h"
#include "stats/num/normal.h"
#include "stats/rank/ranking.h"
#include "table.h"

static void print_level(const struct column *c, const struct ranked_level *l)
{
    printf("level %s %s %zu %d %.17g %.17g %.17g\n", c->key, c->levels[l->level], l->coupons,
           l->reference, l->effect, l->low, l->high);
}

static void print_ranked(const struct frame *f, const struct ranked *r)
{
    const struct column *c = &f->columns[r->column];

    printf("variable %s %zu %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %.17g %s\n", c->key,
           r->rank, r->from, r->to, r->effect, r->low, r->high, r->chance, r->importance,
           r->prob_largest, r->permutation_chance, sureness_word(r->word));
    for (size_t l = 0; l < r->level_count; l++)
        print_level(c, &r->levels[l]);
}

static void print_tie(const struct frame *f, const struct alias_set *t)
{
    printf("%s%s %.17g %.17g :", t->exact ? "tie" : "near", t->partly ? "_partly" : "",
           t->r_squared, t->chance);
    for (size_t i = 0; i < t->count; i++)
        printf(" %s", f->columns[t->columns[i]].key);
    printf(" :");
    for (size_t i = 0; i < t->row_count; i++)
        printf(" %s", f->marks[t->rows[i]]);
    printf("\n");
}

static int probe_rank(const struct frame *f, char **arguments, int count)
{
    struct ranking_options options = ranking_usual();
    struct ranking r;
    struct error e = {0};

    options.permutations = count > 0 ? strtoul(arguments[0], NULL, 10) : 0;
    options.intervals = count < 2 || strcmp(arguments[1], "fast") != 0;
    if (ranking_make(f, &options, &r, &e) != 0) {
        printf("refused %s\n", e.text);
        return 0;
    }
    printf("used %zu\nheld %zu\nset_ups %zu\nrepeats %zu\n", r.used, r.held, r.set_ups, r.repeats);
    printf("scatter %.17g %s %.17g\n", r.scatter, scatter_from_code(r.scatter_from),
           r.scatter_fitted);
    printf("unexplained %.17g\nrange %.17g\nsubsets %zu\n", r.unexplained, r.range, r.subsets);
    for (size_t i = 0; i < r.count; i++)
        print_ranked(f, &r.items[i]);
    for (size_t i = 0; i < r.aliasing.count; i++)
        print_tie(f, &r.aliasing.sets[i]);
    for (size_t i = 0; i < r.excluded.row_count; i++)
        printf("left_out %s %s\n", f->marks[r.excluded.rows[i].row],
               r.excluded.rows[i].column == NO_COLUMN ? "result"
                                                      : f->columns[r.excluded.rows[i].column].key);
    for (size_t i = 0; i < r.excluded.never_changed_count; i++)
        printf("never_changed %s\n", f->columns[r.excluded.never_changed[i]].key);
    ranking_free(&r);
    return 0;
}

static int probe_average(const struct frame *f)
{
    struct model_matrix c;
    struct model_average a;
    struct error e = {0};

    if (model_matrix_make(f, &c, NULL, &e) != 0 || model_average_make(&c, NULL, &a, &e) != 0) {
        printf("refused %s\n", e.text);
        model_matrix_free(&c);
        return 0;
    }
    for (size_t i = 0; i < a.count; i++) {
        printf("subset %llu %.17g %.17g %.17g", (unsigned long long)a.subsets[i].groups,
               a.subsets[i].log_evidence, a.subsets[i].weight, a.subsets[i].h);
        for (size_t j = 0; j < c.p; j++)
            printf(" %.17g", a.subsets[i].gamma[j]);
        printf("\n");
    }
    model_average_free(&a);
    model_matrix_free(&c);
    return 0;
}

/* Results and numbers as they stand in the table, uncoded. */
static void plain(const struct frame *f, struct model_matrix *c)
{
    *c = (struct model_matrix){.n = f->n, .p = f->k + 1, .unit = 1};
    c->x = mem_zero(c->n * c->p, sizeof *c->x);
    c->y = mem_zero(c->n, sizeof *c->y);
    for (size_t i = 0; i < c->n; i++) {
        c->x[i * c->p] = 1;
        for (size_t j = 0; j < f->k; j++)
            c->x[i * c->p + j + 1] = f->columns[j].x[i];
        c->y[i] = (struct observation){f->y[i].kind, f->y[i].low, f->y[i].high, 1};
    }
}

static int probe_fit(const struct frame *f, char **arguments)
{
    struct model_matrix c;
    struct censored_data data;
    struct censored_fit fit = {0};
    size_t *columns = mem_zero(f->k + 1, sizeof *columns);
    double *lambda = mem_zero(f->k + 1, sizeof *lambda);
    struct censored_prior prior = {lambda, strtod(arguments[1], NULL), strtod(arguments[2], NULL)};
    struct censored_model model = {.columns = columns, .count = f->k + 1};

    plain(f, &c);
    for (size_t j = 0; j < c.p; j++) {
        columns[j] = j;
        lambda[j] = j == 0 ? 0 : strtod(arguments[0], NULL);
    }
    censored_data_make(&c, &data);
    if (censored_fit(&data, &prior, &model, false, &fit) != 0) {
        printf("refused\n");
    } else {
        printf("log_posterior %.17g\nscatter %.17g\nsteps %d\n", fit.log_posterior, 1 / fit.h,
               fit.steps);
        for (size_t j = 0; j < c.p; j++)
            printf("beta %zu %.17g\n", j, fit.gamma[j] / fit.h);
    }
    censored_fit_free(&fit);
    censored_data_free(&data);
    model_matrix_free(&c);
    free(columns);
    free(lambda);
    return 0;
}

static int probe_least(const struct frame *f)
{
    struct model_matrix c;
    double *y = mem_zero(f->n, sizeof *y), *rest = mem_zero(f->n, sizeof *rest);
    double *beta = mem_zero(f->k + 1, sizeof *beta);
    size_t rank;

    plain(f, &c);
    for (size_t i = 0; i < c.n; i++)
        y[i] = c.y[i].low;
    rank = linear_least_squares(c.x, c.n, c.p, y, 1e-14, beta, rest);
    printf("deviation %.17g\nrank %zu\n", sqrt(linear_dot(rest, rest, c.n) / (double)(c.n - rank)),
           rank);
    for (size_t j = 0; j < c.p; j++)
        printf("beta %zu %.17g\n", j, beta[j]);
    model_matrix_free(&c);
    free(y);
    free(rest);
    free(beta);
    return 0;
}

static int on_table(int argc, char **argv)
{
    char *text = table_read_file(argv[2]);
    struct frame f;
    int status = 2;

    if (text == NULL) {
        fprintf(stderr, "probe: cannot read %s\n", argv[2]);
        return 2;
    }
    table_to_frame(text, argc > 3 ? strtod(argv[3], NULL) : 0, &f);
    if (strcmp(argv[1], "rank") == 0)
        status = probe_rank(&f, argv + 4, argc - 4);
    else if (strcmp(argv[1], "average") == 0)
        status = probe_average(&f);
    else if (strcmp(argv[1], "fit") == 0 && argc == 6)
        status = probe_fit(&f, argv + 3);
    else if (strcmp(argv[1], "least") == 0)
        status = probe_least(&f);
    frame_free(&f);
    free(text);
    return status;
}

int main(int argc, char **argv)
{
    guard_start();
    if (argc > 2 && strcmp(argv[1], "tail") != 0)
        return on_table(argc, argv);
    for (int i = 2; i < argc; i++) {
        double x = strtod(argv[i], NULL);

        printf("tail %.17g %.17g %.17g\n", x, normal_log_cdf(x), normal_ratio(x));
    }
    return argc > 2 ? 0 : 2;
}
