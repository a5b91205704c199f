#include "store/variables.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "base/clock.h"
#include "base/mem.h"
#include "store/db.h"
#include "store/journal.h"
#include "store/query.h"
#include "store/transaction.h"
#include "store/variable_ids.h"

/* What the book calls the dimensions; the order of the enum is the program's own affair. */
static const char *const dimension_codes[DIMENSIONS] = {
    [DIM_NUMBER] = "number",
    [DIM_COUNT] = "count",
    [DIM_LENGTH] = "length",
    [DIM_AREA] = "area",
    [DIM_SPEED] = "speed",
    [DIM_TIME] = "time",
    [DIM_TEMPERATURE] = "temperature",
    [DIM_ANGLE] = "angle",
    [DIM_SHARE] = "share",
    [DIM_VOLTAGE] = "voltage",
    [DIM_CURRENT] = "current",
    [DIM_GAS_FLOW] = "gas_flow",
    [DIM_LINE_ENERGY] = "line_energy",
    [DIM_ENERGY] = "energy",
    [DIM_POWER] = "power",
    [DIM_FORCE] = "force",
    [DIM_MOMENT] = "moment",
    [DIM_STRESS] = "stress",
    [DIM_MASS] = "mass",
    [DIM_LINE_MASS] = "line_mass",
    [DIM_MASS_RATE] = "mass_rate",
    [DIM_HYDROGEN] = "hydrogen",
};

static enum dimension dimension_from_code(const char *code)
{
    for (int i = 0; code != NULL && i < DIMENSIONS; i++)
        if (strcmp(dimension_codes[i], code) == 0)
            return (enum dimension)i;
    return DIM_NUMBER;
}

static double limit(double stored, double none)
{
    return isnan(stored) ? none : stored;
}

/* The row as it stands in the query: its texts live until the next one. */
static struct variable row_of(struct query *q)
{
    bool cause = strcmp(query_text(q, "role"), "result") != 0;

    return (struct variable){
        .key = query_text(q, "key"),
        .label = query_text(q, "label"),
        .group = cause ? GROUP_OTHER : GROUP_RESULT,
        .role = cause ? ROLE_CAUSE : ROLE_RESULT,
        .kind = strcmp(query_text(q, "kind"), "number") == 0 ? VARIABLE_NUMBER : VARIABLE_CATEGORY,
        .dimension = dimension_from_code(query_text(q, "dimension")),
        .unit = query_maybe(q, "unit"),
        .can = {limit(query_real(q, "least"), -INFINITY), limit(query_real(q, "most"), INFINITY)},
        .usual = {limit(query_real(q, "usual_low"), -INFINITY),
                  limit(query_real(q, "usual_high"), INFINITY)},
        .choices = query_maybe(q, "choices"),
        .choices_only = query_int(q, "choices_only") != 0,
        .scale = query_real(q, "scale"),
        .help = query_maybe(q, "help"),
        .own = true,
    };
}

/* A built-in row that came later may have taken the key, or only the label. */
static int add_beside_built_in(struct variable_list *list, struct variable *own, struct error *e)
{
    const struct variable *same = variable_find(list, own->key);
    char *label = NULL;
    int result;

    if (same != NULL && strcmp(same->key, own->key) == 0)
        return 0;
    if (variable_find(list, own->label) != NULL)
        own->label = label = mem_format("%s (own)", own->label);
    result = variable_add(list, own, e);
    free(label);
    return result;
}

int own_variables_load(struct book *book, struct variable_list *list, struct error *e)
{
    struct query *q = query_begin(book,
                                  "SELECT o.*, v.key FROM own_variable AS o"
                                  " JOIN variable AS v ON v.id = o.id ORDER BY o.place, o.id",
                                  NULL, e);
    int got;

    while ((got = query_next(q, e)) > 0) {
        struct variable own = row_of(q);

        if (add_beside_built_in(list, &own, e) < 0) {
            query_end(q);
            return -1;
        }
    }
    return got;
}

static void put_range(struct query *q, const char *low, const char *high, struct range r)
{
    query_put_real(q, low, range_open(r) || isinf(r.low) ? NAN : r.low);
    query_put_real(q, high, range_open(r) || isinf(r.high) ? NAN : r.high);
}

/* What stays once coupons have values of it. */
static void put_meaning(struct query *q, const struct variable *v)
{
    bool number = v->kind == VARIABLE_NUMBER;

    query_put_text(q, ":role", v->role == ROLE_RESULT ? "result" : "set");
    query_put_text(q, ":kind", number ? "number" : "category");
    query_put_text(q, ":dimension", number ? dimension_codes[v->dimension] : NULL);
    query_put_text(q, ":unit", v->unit);
}

static void put_variable(struct query *q, const struct variable *v)
{
    put_meaning(q, v);
    query_put_text(q, ":label", v->label != NULL ? v->label : v->key);
    put_range(q, ":least", ":most", v->can);
    put_range(q, ":usual_low", ":usual_high", v->usual);
    query_put_text(q, ":choices", v->choices);
    query_put_int(q, ":choices_only", v->choices_only);
    query_put_real(q, ":scale", isnan(v->scale) ? 0 : v->scale);
    query_put_text(q, ":help", v->help);
}

/* A cause is set or read or comes out: that is not said by `v`, so it stays. */
#define SAME_ROLE "(role = 'result') = (:role = 'result')"
#define COLUMNS                                                                                    \
    "label, kind, dimension, unit, least, most, usual_low, usual_high, choices, choices_only,"     \
    " scale, help"
#define VALUES                                                                                     \
    ":label, :kind, :dimension, :unit, :least, :most, :usual_low, :usual_high, :choices,"          \
    " :choices_only, :scale, :help"

/* 1 when the book has exactly this row already, 0 when not; NULL is the same as NULL here. */
static int is_stored(struct book *book, const struct variable *v, int64_t id, struct error *e)
{
    struct query *q = query_begin_number(book,
                                         "SELECT " COLUMNS " FROM own_variable WHERE id = :key"
                                         " AND " SAME_ROLE " INTERSECT SELECT " VALUES,
                                         id, e);
    int got;

    put_variable(q, v);
    got = query_next(q, e);
    query_end(q);
    return got;
}

static int write_variable(struct book *book, const struct variable *v, int64_t id, struct error *e)
{
    struct query *q =
        query_begin_number(book,
                           "INSERT INTO own_variable (id, revision, place, role, " COLUMNS
                           ", when_utc_ms, when_offset_min) VALUES (:key, 1, 1 + (SELECT"
                           " coalesce(max(place), 0) FROM own_variable), :role, " VALUES
                           ", :when_utc_ms, :when_offset_min) ON CONFLICT (id) DO UPDATE SET"
                           " revision = revision + 1, role = iif(" SAME_ROLE ", role, :role),"
                           " (" COLUMNS ") = (" VALUES ")",
                           id, e);

    put_variable(q, v);
    query_put_instant(q, ":when", clock_now());
    return query_run(q, e);
}

static int store_variable(struct book *book, const struct variable *v, int64_t id, struct error *e)
{
    int64_t there = 0;
    int stored = is_stored(book, v, id, e);

    if (stored != 0)
        return stored < 0 ? -1 : 0;
    if (query_number(book,
                     "SELECT v.id FROM own_variable JOIN variable AS v USING (id)"
                     " WHERE v.key = :key",
                     v->key, &there, e) < 0 ||
        journal_keep(book, THING_OWN_VARIABLE, id, e) < 0 || write_variable(book, v, id, e) < 0)
        return -1;
    return there == 0 ? journal_made(book, THING_OWN_VARIABLE, id, e) : 0;
}

/* What coupons already say must not come to mean something else. */
static int meaning_stays(struct book *book, const struct variable *v, int64_t id, struct error *e)
{
    struct query *q = query_begin_number(
        book,
        "SELECT label FROM own_variable AS v WHERE id = :key AND (kind <> :kind OR NOT (" SAME_ROLE
        ") OR dimension IS NOT :dimension OR unit IS NOT :unit)"
        " AND EXISTS (SELECT 1 FROM value WHERE variable_id = v.id)",
        id, e);
    int got;

    put_meaning(q, v);
    got = query_next(q, e);
    if (got <= 0)
        return got;
    error_set(e, ERROR_INPUT,
              "%s: coupons have values of %s, so it stays a number or category, cause or result, "
              "and keeps its unit; make a new variable instead",
              book->path, query_text(q, "label"));
    query_end(q);
    return -1;
}

/* The unit its numbers stand in goes without saying in each value, so it stays once there are some.
 */
static int write_unit(struct book *book, const struct variable *v, int64_t id, struct error *e)
{
    const struct unit *unit = v->kind == VARIABLE_NUMBER ? unit_base(v->dimension) : NULL;
    struct query *q =
        query_begin_number(book,
                           "UPDATE variable SET unit = :unit WHERE id = :key AND unit IS NOT :unit"
                           " AND NOT EXISTS (SELECT 1 FROM value WHERE variable_id = :key)",
                           id, e);

    query_put_text(q, ":unit", unit == NULL ? NULL : unit->symbol);
    variable_ids_forget(book);
    return query_run(q, e);
}

int own_variable_save(struct book *book, const struct variable *v, struct error *e)
{
    const struct variable_id *known;
    int rc;

    if (transaction_enter(book, e) < 0)
        return -1;
    known = variable_id(book, v->key, e);
    rc = known == NULL ? -1 : meaning_stays(book, v, known->id, e);
    if (rc == 0)
        rc = store_variable(book, v, known->id, e);
    if (rc == 0)
        rc = write_unit(book, v, known->id, e);
    return transaction_leave(book, rc, e);
}
