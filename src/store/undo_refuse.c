/* What has happened to other things since may not let a state back into the book. */
#include <stdlib.h>

#include "store/db.h"
#include "store/journal.h"
#include "store/query.h"

/* The coupon or trial `k` is not touched by the change itself; its rows do not overlap. */
#define LAST_TOUCHED                                                                               \
    " AND coalesce((SELECT coalesce(last_id, id) FROM touched WHERE change_id = :key"              \
    " AND id <= k.id AND kind = "
#define OTHER_COUPON LAST_TOUCHED "'coupon' ORDER BY id DESC LIMIT 1), 0) < k.id"
#define OTHER_TRIAL LAST_TOUCHED "'trial' ORDER BY id DESC LIMIT 1), 0) < k.id"

/* Statements with a row when the change (:key) must stay as it is, which say why. */
static const char *const rules[] = {
    "SELECT 'the mark ' || k.mark || ' is on another coupon of its trial now; give that one'"
    " || ' another mark first' AS why"
    " FROM touched AS t JOIN coupon AS k ON k.mark = t.state ->> 'mark'"
    " AND coalesce(k.trial_id, 0) = coalesce(t.state ->> 'trial_id', 0)"
    " AND k.struck_utc_ms IS NULL AND k.id <> t.id"
    " WHERE t.change_id = :key AND t.kind = 'coupon' AND t.state IS NOT NULL"
    " AND t.state ->> 'struck_utc_ms' IS NULL" OTHER_COUPON " LIMIT 1",

    "SELECT 'another trial is called ' || k.name || ' now; give that one another name first' AS why"
    " FROM touched AS t JOIN trial AS k ON k.name = t.state ->> 'name'"
    " AND k.struck_utc_ms IS NULL AND k.id <> t.id"
    " WHERE t.change_id = :key AND t.kind = 'trial' AND t.state IS NOT NULL"
    " AND t.state ->> 'struck_utc_ms' IS NULL" OTHER_TRIAL " LIMIT 1",

    "SELECT 'it made the trial ' || n.name || ', which has ' || count(*) || ' more coupon'"
    " || iif(count(*) = 1, '', 's') || ' now' AS why"
    " FROM touched AS t JOIN trial AS n ON n.id BETWEEN t.id AND coalesce(t.last_id, t.id)"
    " JOIN coupon AS k ON k.trial_id = n.id"
    " WHERE t.change_id = :key AND t.kind = 'trial' AND t.state IS NULL" OTHER_COUPON
    " GROUP BY n.id LIMIT 1",

    "SELECT 'coupon ' || k.mark || ' is in use in the trial ' || n.name || ', which would be'"
    " || ' struck out' AS why FROM touched AS t JOIN trial AS n ON n.id = t.id"
    " JOIN coupon AS k ON k.trial_id = n.id AND k.struck_utc_ms IS NULL"
    " WHERE t.change_id = :key AND t.kind = 'trial'"
    " AND t.state ->> 'struck_utc_ms' IS NOT NULL" OTHER_COUPON " LIMIT 1",

    "SELECT 'the trial of coupon ' || (t.state ->> 'mark') ||"
    " iif(k.id IS NULL, ' is not in the book now', ', ' || k.name || ', is struck out now') AS why"
    " FROM touched AS t LEFT JOIN trial AS k ON k.id = t.state ->> 'trial_id'"
    " WHERE t.change_id = :key AND t.kind = 'coupon' AND t.state ->> 'trial_id' IS NOT NULL"
    " AND (k.id IS NULL OR k.struck_utc_ms IS NOT NULL AND t.state ->> 'struck_utc_ms' IS NULL)"
    " AND NOT EXISTS (SELECT 1 FROM touched WHERE change_id = :key AND kind = 'trial'"
    " AND t.state ->> 'trial_id' BETWEEN id AND coalesce(last_id, id)) LIMIT 1",

    "SELECT 'coupon ' || k.mark || ' has a value of ' || o.label || ', which would lose its'"
    " || ' meaning' AS why FROM touched AS t JOIN own_variable AS o"
    " ON o.id BETWEEN t.id AND coalesce(t.last_id, t.id)"
    " JOIN value AS v ON v.variable_id = o.id JOIN coupon AS k ON k.id = v.coupon_id"
    " WHERE t.change_id = :key AND t.kind = 'own_variable'"
    " AND (t.state IS NULL OR (o.kind, o.dimension, o.unit, o.role = 'result') IS NOT"
    " (t.state ->> 'kind', t.state ->> 'dimension', t.state ->> 'unit',"
    " t.state ->> 'role' = 'result'))" OTHER_COUPON " ORDER BY k.id LIMIT 1",

    "SELECT 'coupon ' || (t.state ->> 'mark') || ' has a value of ' || v.key || ' there, and'"
    " || ' change ' || c.id || ' (' || c.what || ') of that ' ||"
    " iif(c.undone_utc_ms IS NULL, 'came later', 'was undone later') AS why"
    " FROM touched AS t JOIN change AS x ON x.id = t.change_id"
    " JOIN json_each(t.state, '$.value') AS j JOIN touched AS o ON o.kind = 'own_variable'"
    " AND j.value ->> 'variable_id' BETWEEN o.id AND coalesce(o.last_id, o.id)"
    " JOIN change AS c ON c.id = o.change_id"
    " JOIN variable AS v ON v.id = j.value ->> 'variable_id'"
    " WHERE t.change_id = :key AND t.kind = 'coupon' AND t.state IS NOT NULL"
    " AND (c.id > x.id AND c.undone_utc_ms IS NULL"
    " OR c.id < x.id AND (c.undone_utc_ms >= x.when_utc_ms OR c.undone_utc_ms IS NOT NULL"
    " AND NOT EXISTS (SELECT 1 FROM own_variable WHERE id = v.id)"
    " AND NOT EXISTS (SELECT 1 FROM touched WHERE change_id = :key AND kind = 'own_variable'"
    " AND v.id BETWEEN id AND coalesce(last_id, id)))) LIMIT 1",
};

static int refuse(struct book *book, const struct change *c, const char *verb, const char *rule,
                  struct error *e)
{
    struct query *q = query_begin_number(book, rule, c->number, e);
    int got = query_next(q, e);

    if (got <= 0)
        return got;
    error_set(e, ERROR_INPUT, "%s: change %lld (%s of %s) cannot be %s: %s", book->path,
              (long long)c->number, c->what, c->things, verb, query_text(q, "why"));
    query_end(q);
    return -1;
}

int undo_refuse(struct book *book, const struct change *c, const char *verb, struct error *e)
{
    int rc = 0;

    for (size_t i = 0; rc == 0 && i < sizeof rules / sizeof *rules; i++)
        rc = refuse(book, c, verb, rules[i], e);
    return rc;
}
