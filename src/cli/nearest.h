/*
 * The word somebody meant: the one of a list that takes the fewest changes of a letter, if it is
 * near enough to be worth naming.
 */
#ifndef CLI_NEAREST_H
#define CLI_NEAREST_H

/* Begins zeroed; `word` is NULL until something near enough was tried. */
struct nearest {
    const char *word;
    int changes;
};

void nearest_try(struct nearest *n, const char *typed, const char *word);

#endif
