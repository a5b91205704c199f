#include "app/history_page.h"

#include <stdlib.h>
#include <string.h>

#include "app/coupon_changes.h"
#include "base/text.h"
#include "exchange/json.h"
#include "store/trials.h"

/* What a change did to the coupon the history is about, else to the only one it touched; nothing
 * where it made that coupon, or is about none. */
static int changes_of(struct session *s, const struct history *h, const struct change *change,
                      struct coupon_changes *out, struct error *e)
{
    int64_t coupon = h->coupon != 0 ? h->coupon : change->coupon;
    struct trial_list trials = {0};
    struct coupon before, after;
    int rc = trials_load_all(s->book, &trials, e);

    memset(out, 0, sizeof *out);
    if (rc < 0 || coupon == 0) {
        trial_list_free(&trials);
        return rc;
    }
    rc = journal_coupon(s->book, change, coupon, &before, &after, e);
    if (rc == 0 && before.sequence != 0 && after.sequence != 0)
        *out = coupon_changes_between(&s->variables, &trials, &before, &after, s->units);
    coupon_free(&before);
    coupon_free(&after);
    trial_list_free(&trials);
    return rc;
}

static const char *or_nothing(const char *text)
{
    return *text == '\0' ? "nothing" : text;
}

/* "change of coupon 07: Preheat 20 °C → 120 °C; undone 2026-03-07 14:05 at bench two" */
static void describe(const struct change *change, const struct coupon_changes *changes,
                     struct text *out)
{
    char when[40];

    text_addf(out, "%s of %s", change->what, change->things);
    for (size_t i = 0; i < changes->count; i++)
        text_addf(out, "%s%s: %s → %s", i == 0 ? "; " : ", ", changes->items[i].what,
                  or_nothing(changes->items[i].from), or_nothing(changes->items[i].to));
    if (!change->undone)
        return;
    clock_format_short(when, sizeof when, change->undone_when);
    text_addf(out, " – undone %s%s%s", when, change->undone_by != NULL ? " at " : "",
              change->undone_by != NULL ? change->undone_by : "");
}

static int add_row(struct session *s, const struct history *h, const struct change *change,
                   struct block *table, struct error *e)
{
    struct coupon_changes changes;
    struct text what = {0};
    char when[40];
    size_t row;

    if (changes_of(s, h, change, &changes, e) < 0)
        return -1;
    clock_format_short(when, sizeof when, change->when);
    describe(change, &changes, &what);
    row = PAGE_ROW(table, NULL, NULL, when, NULL, text_str(&what));
    page_table_cell(table, row, 2, "%s%s%s", change->who != NULL ? change->who : "",
                    change->bench != NULL ? " at " : "",
                    change->bench != NULL ? change->bench : "");
    page_table_cell(table, row, 0, "%lld", (long long)change->number);
    text_free(&what);
    coupon_changes_free(&changes);
    return 0;
}

int history_page(struct session *s, const struct history *h, struct page *p, struct error *e)
{
    size_t count = h->changes.count;
    struct block *table;
    int rc = 0;

    page_add(p, BLOCK_TITLE, h->mark == NULL ? "Changes of %s" : "Changes of coupon %s",
             h->mark == NULL ? session_book_name(s) : h->mark);
    if (count == 0) {
        page_add(p, BLOCK_TEXT, "None is recorded.");
        return 0;
    }
    table = PAGE_TABLE(p, {.title = "change", .right = true}, {.title = "when"}, {.title = "by"},
                       {.title = "what was done"});
    for (size_t i = 0; rc == 0 && i < count; i++)
        rc = add_row(s, h, &h->changes.items[i], table, e);
    if (h->more)
        page_add(p, BLOCK_TEXT, "These are the last %zu; --all shows every one.", count);
    return rc;
}

static void put_instant(struct json *to, const char *key, struct instant when)
{
    char text[40];

    clock_format(text, sizeof text, when);
    json_put_text(to, key, text);
}

static void put_undone(struct json *to, const struct change *change)
{
    struct json *undone;

    if (!change->undone) {
        json_put_null(to, "undone");
        return;
    }
    undone = json_put_object(to, "undone");
    put_instant(undone, "when", change->undone_when);
    json_put_text(undone, "bench", change->undone_by);
}

static const char *or_null(const char *text)
{
    return *text == '\0' ? NULL : text;
}

static int put_change(struct session *s, const struct history *h, const struct change *change,
                      struct json *to, struct error *e)
{
    struct coupon_changes changes;
    struct json *list;

    if (changes_of(s, h, change, &changes, e) < 0)
        return -1;
    json_put_whole(to, "change", change->number);
    put_instant(to, "when", change->when);
    json_put_text(to, "bench", change->bench);
    json_put_text(to, "who", change->who);
    json_put_text(to, "what", change->what);
    json_put_text(to, "of", change->things);
    list = json_put_array(to, "changed");
    for (size_t i = 0; i < changes.count; i++) {
        struct json *item = json_add_object(list);

        json_put_text(item, "what", changes.items[i].what);
        json_put_text(item, "from", or_null(changes.items[i].from));
        json_put_text(item, "to", or_null(changes.items[i].to));
    }
    put_undone(to, change);
    coupon_changes_free(&changes);
    return 0;
}

int history_json(struct session *s, const struct history *h, char **out, struct error *e)
{
    struct json *root = json_new_object(), *list;
    int rc = 0;

    json_put_text(root, "coupon", h->mark);
    json_put_bool(root, "more", h->more);
    list = json_put_array(root, "changes");
    for (size_t i = 0; rc == 0 && i < h->changes.count; i++)
        rc = put_change(s, h, &h->changes.items[i], json_add_object(list), e);
    *out = rc == 0 ? json_write(root) : NULL;
    json_drop(root);
    return rc;
}
