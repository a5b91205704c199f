#include "store/settings.h"

#include <stdbool.h>
#include <string.h>

#include "store/journal.h"
#include "store/query.h"
#include "store/transaction.h"

static bool is_system(const char *value)
{
    return strcmp(value, "metric") == 0 || strcmp(value, "inch") == 0;
}

static bool is_bench_letter(const char *value)
{
    return value[0] == '\0' ||
           (strchr("ABCDEFGHIJKLMNOPQRSTUVWXYZ", value[0]) != NULL && value[1] == '\0');
}

static bool is_name(const char *value)
{
    return value[0] != '\0';
}

/* The settings a user sets, which are kept in the journal; others the program keeps for itself. */
static const struct known {
    const char *key;
    bool (*fits)(const char *value);
    const char *right;
} known_settings[] = {
    {"units", is_system, "metric or inch"},
    {"bench_letter", is_bench_letter, "one capital letter, A to Z, or nothing"},
    {"welder", is_name, "a name"},
};

static const struct known *find_known(const char *key)
{
    for (size_t i = 0; i < sizeof known_settings / sizeof known_settings[0]; i++)
        if (strcmp(known_settings[i].key, key) == 0)
            return &known_settings[i];
    return NULL;
}

static int check_value(const struct known *known, const char *value, struct error *e)
{
    if (known == NULL || value == NULL || known->fits(value))
        return 0;
    return error_set(e, ERROR_INPUT, "the setting %s cannot be '%.40s': it is %s", known->key,
                     value, known->right);
}

int setting_get(struct book *book, const char *key, char **out, struct error *e)
{
    struct query *q = query_begin(book, "SELECT value FROM setting WHERE key = :key", key, e);
    int got = query_next(q, e);

    *out = NULL;
    if (got <= 0)
        return got;
    *out = query_copy(q, "value");
    query_end(q);
    return 0;
}

static int write_setting(struct book *book, const char *key, const char *value, struct error *e)
{
    struct query *q = query_begin(
        book,
        "INSERT INTO setting (key, revision, value) VALUES (:key, 1, :value)"
        " ON CONFLICT (key) DO UPDATE SET revision = revision + 1, value = excluded.value",
        key, e);

    query_put_text(q, ":value", value);
    return query_run(q, e);
}

/* 1 when it has this value already, 0 when not. */
static int is_set(struct book *book, const char *key, const char *value, struct error *e)
{
    struct query *q =
        query_begin(book, "SELECT 1 FROM setting WHERE key = :key AND value IS :value", key, e);
    int got;

    query_put_text(q, ":value", value);
    got = query_next(q, e);
    query_end(q);
    return got;
}

static int store_setting(struct book *book, const char *key, const char *value, struct error *e)
{
    bool known = find_known(key) != NULL;
    int64_t id = 0;
    int same = is_set(book, key, value, e);

    if (same != 0)
        return same < 0 ? -1 : 0;
    if (query_number(book, "SELECT id FROM setting WHERE key = :key", key, &id, e) < 0 ||
        (known && id != 0 && journal_keep(book, THING_SETTING, id, e) < 0) ||
        write_setting(book, key, value, e) < 0)
        return -1;
    return known && id == 0 ? journal_made(book, THING_SETTING, query_last_id(book), e) : 0;
}

int setting_set(struct book *book, const char *key, const char *value, struct error *e)
{
    if (check_value(find_known(key), value, e) < 0)
        return -1;
    if (transaction_enter(book, e) < 0)
        return -1;
    return transaction_leave(book, store_setting(book, key, value, e), e);
}
