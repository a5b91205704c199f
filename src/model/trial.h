/*
 * A trial: coupons made to answer one question, the result that decides it, and the variables with
 * the levels at hand. Owns what it points to.
 */
#ifndef MODEL_TRIAL_H
#define MODEL_TRIAL_H

#include <stddef.h>

#include "base/clock.h"
#include "base/id.h"

struct level_set {
    char *variable; /* key */
    char **levels;  /* categories, or numbers as entered ("3 mm") */
    size_t count, capacity;
};

struct trial {
    char id[ID_SIZE];
    char *name; /* unique within the book; how the command line calls it */
    char *question;
    char *result;           /* key of the result that decides; NULL: bend_angle */
    double stop_deg;        /* bend angle at which folding ends; NAN when not said */
    struct level_set *sets; /* variables under trial; none: all that were recorded */
    size_t set_count, set_capacity;
    struct instant when;
    char *note;
    char *struck_why; /* NULL unless struck out */
    long revision;    /* state of the book's row this was loaded from; 0: not stored yet */
};

struct trial_list {
    struct trial *items;
    size_t count, capacity;
};

void trial_init(struct trial *t);
void trial_free(struct trial *t);
void trial_copy(struct trial *to, const struct trial *from); /* `to` holds nothing before */
/* The set of a variable, made when missing. Owned by the trial; moved when another is made. */
struct level_set *trial_set_for(struct trial *t, const char *variable);
void level_set_add(struct level_set *set, const char *level); /* copied; not twice */
void trial_list_free(struct trial_list *list);
struct trial *trial_list_add(struct trial_list *list); /* initialised; moved by later adds */
/* Letters compared without case; NULL when there is none. */
struct trial *trial_list_find(const struct trial_list *list, const char *name);
struct trial *trial_list_with_id(const struct trial_list *list, const char *id); /* the same */

#endif
