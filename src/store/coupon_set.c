/* The index of coupons by trial has their numbers in order, so a part is read without the rest. */
#include "store/coupon_set.h"

#include <limits.h>
#include <stdlib.h>

#include "base/mem.h"
#include "store/coupon_rows.h"
#include "store/coupons.h"
#include "store/query.h"
#include "store/trials.h"

static int where_in(struct book *book, const struct coupon_set *set, struct coupon_span span,
                    struct coupon_where *out, struct error *e)
{
    static const char *const conditions[2][2] = {
        {":key = 0 AND c.id BETWEEN :first AND :last AND c.struck_utc_ms IS NULL",
         ":key = 0 AND c.id BETWEEN :first AND :last"},
        {"c.trial_id = :key AND c.id BETWEEN :first AND :last AND c.struck_utc_ms IS NULL",
         "c.trial_id = :key AND c.id BETWEEN :first AND :last"}};

    *out = (struct coupon_where){conditions[set->trial_id != NULL][set->with_struck], 0, span.first,
                                 span.last, false};
    return set->trial_id == NULL ? 0 : trial_number(book, set->trial_id, &out->key, e);
}

static int load(struct book *book, const struct coupon_set *set, struct coupon_span span,
                bool figures, struct coupon_list *out, struct error *e)
{
    struct coupon_where where;
    int rc = where_in(book, set, span, &where, e);

    where.figures = figures;
    if (rc == 0)
        rc = coupon_rows_read(book, &where, out, e);
    if (rc < 0)
        coupon_list_free(out);
    return rc;
}

int coupon_set_load(struct book *book, const struct coupon_set *set, struct coupon_span span,
                    struct coupon_list *out, struct error *e)
{
    return load(book, set, span, false, out, e);
}

int coupons_load(struct book *book, const char *trial_id, bool with_struck, struct coupon_list *out,
                 struct error *e)
{
    struct coupon_set set = {trial_id, with_struck};

    return coupon_set_load(book, &set, (struct coupon_span){LONG_MIN, LONG_MAX}, out, e);
}

int coupons_load_figures(struct book *book, const char *trial_id, bool with_struck,
                         struct coupon_list *out, struct error *e)
{
    struct coupon_set set = {trial_id, with_struck};

    return load(book, &set, (struct coupon_span){LONG_MIN, LONG_MAX}, true, out, e);
}

/* A statement about the part, whose condition stands between `head` and `tail`. */
static struct query *begin_part(struct book *book, const struct coupon_set *set,
                                struct coupon_span span, const char *head, const char *tail,
                                struct error *e)
{
    struct coupon_where where;

    if (where_in(book, set, span, &where, e) < 0)
        return NULL;
    return coupon_where_query(book, mem_format("%s%s%s", head, where.sql, tail), &where, e);
}

/* An end of the statement: numbers in their order, or backwards; all, or those that hold letters.
 */
#define IN_ORDER(ORDER) " ORDER BY c.id " ORDER " LIMIT :most"
#define HOLDING                                                                                    \
    " AND (c.mark LIKE :like OR c.who LIKE :like OR c.note LIKE :like OR c.struck_why LIKE :like"  \
    " OR EXISTS (SELECT 1 FROM value AS v WHERE v.coupon_id = c.id AND v.words LIKE :like))"
static const char *const number_ends[2][2] = {
    {IN_ORDER("ASC"), IN_ORDER("DESC")},
    {HOLDING IN_ORDER("ASC"), HOLDING IN_ORDER("DESC")},
};

int coupon_set_numbers(struct book *book, const struct coupon_set *set, struct coupon_span span,
                       const char *letters, bool back, int most, long *out, struct error *e)
{
    struct query *q = begin_part(book, set, span, "SELECT c.id FROM coupon AS c WHERE ",
                                 number_ends[letters != NULL][back], e);
    char *like = letters == NULL ? NULL : mem_format("%%%s%%", letters);
    int got, count = 0;

    query_put_int(q, ":most", most);
    if (like != NULL)
        query_put_text(q, ":like", like);
    free(like);
    while ((got = query_next(q, e)) > 0)
        out[count++] = (long)query_int(q, "id");
    return got < 0 ? -1 : count;
}

int coupon_set_count(struct book *book, const struct coupon_set *set, struct coupon_span *span,
                     int most, struct error *e)
{
    struct query *q = begin_part(book, set, *span,
                                 "SELECT count(*) AS count, max(id) AS last FROM (SELECT c.id"
                                 " FROM coupon AS c WHERE ",
                                 " ORDER BY c.id LIMIT :most)", e);
    int count;

    query_put_int(q, ":most", most);
    if (query_next(q, e) < 0)
        return -1;
    count = (int)query_int(q, "count");
    span->first = count > 0 ? (long)query_int(q, "last") + 1 : span->first;
    query_end(q);
    return count;
}
