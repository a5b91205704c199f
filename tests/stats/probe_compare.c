/*
 * Compares the two sides given as words, for GNU R to hold against its own figures:
 *     probe_compare 40 55.5 135+ / 60 135+ 50..70
 * Prints one "name value" a line, and "step SIDE AT SHARE LOW HIGH" for the steps.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "stats/compare/compare.h"

/* The dots of "50..70" are looked for first: strtod() would take one of them for a point. */
static struct measure read_result(const char *word)
{
    const char *dots = strstr(word, "..");
    char *end;
    double v = strtod(word[0] == '<' ? word + 1 : word, &end);

    if (dots != NULL)
        return measure_between(v, strtod(dots + 2, NULL));
    if (word[0] == '<')
        return measure_at_most(v);
    return end[0] == '+' ? measure_at_least(v) : measure_exact(v);
}

static void print_steps(const char *side, const struct survival *s)
{
    for (size_t i = 0; i < s->step_count; i++)
        printf("step %s %.17g %.17g %.17g %.17g\n", side, s->steps[i].at, s->steps[i].share,
               s->steps[i].low, s->steps[i].high);
}

static void print(const struct comparison *c)
{
    printf("chance %.17g\nsmallest %.17g\nall %d\nranks %d\n", c->permutation.chance,
           c->permutation.smallest, c->permutation.all, c->permutation.ranks);
    printf("chi_square %.17g\nlog_rank %.17g\nexpected %.17g\n", c->log_rank.chi_square,
           c->log_rank.chance, c->log_rank.a_expected);
    printf("plain %.17g\nplain_low %.17g\nplain_high %.17g\n", c->plain, c->plain_low,
           c->plain_high);
    printf("difference %.17g\nlow %.17g\nhigh %.17g\nscatter %.17g\n", c->difference, c->low,
           c->high, c->scatter);
    print_steps("a", &c->a.steps);
    print_steps("b", &c->b.steps);
}

int main(int argc, char **argv)
{
    size_t rows[2][1000], count[2] = {0, 0}, side = 0;
    struct comparison c;
    struct error e;
    struct frame f;

    frame_init(&f, "bend_angle", "Bend angle", "°", 180);
    for (int i = 1; i < argc && i < 1000; i++) {
        if (strcmp(argv[i], "/") == 0) {
            side = 1;
            continue;
        }
        rows[side][count[side]++] = frame_add_row(&f, argv[i], read_result(argv[i]));
    }
    if (compare_groups(&f, rows[0], count[0], "a", rows[1], count[1], "b", 1, &c, &e) < 0) {
        fprintf(stderr, "%s\n", e.text);
        return EXIT_FAILURE;
    }
    print(&c);
    comparison_free(&c);
    frame_free(&f);
    return EXIT_SUCCESS;
}
