/*
 * The ranking as the front ends ask for it: one call gives the whole answer, from which the page
 * and the JSON are made.
 */
#ifndef APP_RANK_TASK_H
#define APP_RANK_TASK_H

#include <stdbool.h>
#include <stddef.h>

#include "app/page.h"
#include "app/session.h"
#include "base/error.h"
#include "model/trial.h"

struct rank_request {
    const char *trial;       /* NULL: the last */
    const char *result;      /* NULL: the one that decides the trial */
    const char *const *with; /* derived variables to rank instead of those they come from */
    size_t with_count;
    const char *const *without; /* variables to leave out */
    size_t without_count;
    bool anyway;     /* show the unconditional effect too */
    size_t shuffles; /* 0: no second opinion by shuffling */
    /* Called now and then with the part done, 0 to 1; returning false stops the work. May be NULL.
     */
    bool (*progress)(void *context, double done);
    void *context;
};

struct rank_answer; /* owns the frame, the ranking and what was found beside it */

int rank_make(struct session *s, const struct rank_request *r, struct rank_answer **out,
              struct error *e);
void rank_free(struct rank_answer *a);
/* Shows the answer in the units the session has now; the ranking itself stays. */
void rank_show(const struct session *s, struct rank_answer *a);
void rank_page(const struct rank_answer *a, struct page *p);
char *rank_json(const struct rank_answer *a); /* caller frees */

/* Next coupons. `count` from 1. */
struct next_answer;
int next_make(struct session *s, const struct rank_request *r, size_t count,
              struct next_answer **out, struct error *e);
void next_free(struct next_answer *a);
void next_page(const struct next_answer *a, struct page *p);
char *next_json(const struct next_answer *a);

/* Two levels of one variable side by side; NULL levels: the two with most coupons. */
struct compare_answer;
int compare_make(struct session *s, const struct rank_request *r, const char *variable,
                 const char *level_a, const char *level_b, struct compare_answer **out,
                 struct error *e);
/* Two groups of coupons, named by their marks with commas between: "01,02" against "03". */
int compare_marks(struct session *s, const struct rank_request *r, const char *marks_a,
                  const char *marks_b, struct compare_answer **out, struct error *e);
void compare_free(struct compare_answer *a);
void compare_page(const struct compare_answer *a, struct page *p);
char *compare_json(const struct compare_answer *a);

#endif
