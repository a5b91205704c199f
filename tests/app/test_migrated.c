/* Books of 0.1.0 brought up to date: what they export is what 0.1.0 exported of them. */
#include "run.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/session.h"
#include "app/task_export.h"
#include "app/task_trial.h"
#include "base/mem.h"

static char folder[] = "/tmp/coldlap-test-XXXXXX";
static char *path;
static struct error e;

static void set_up(void)
{
    memcpy(folder + strlen(folder) - 6, "XXXXXX", 6);
    ck_assert_ptr_nonnull(mkdtemp(folder));
    path = mem_format("%s/b.coldlap", folder);
}

static void tear_down(void)
{
    unlink(path);
    rmdir(folder);
    free(path);
}

/* The values of a coupon are known by their variable, in whatever order they come. */
static json_t *named_alike(json_t *member, json_t *list, size_t place)
{
    const char *variable = json_string_value(json_object_get(member, "variable"));
    json_t *other;
    size_t i;

    json_array_foreach(list, i, other)
    {
        const char *name = json_string_value(json_object_get(other, "variable"));

        if (variable != NULL && name != NULL && strcmp(variable, name) == 0)
            return other;
    }
    return json_array_get(list, place);
}

/* Where `now` lacks something of `then`, or has it otherwise; NULL: nowhere. Numbers are the same
 * to the last bit. */
static char *differs(const json_t *then, json_t *now, const char *at)
{
    const char *key;
    json_t *member;
    size_t i;

    if (now == NULL || json_typeof(then) != json_typeof(now))
        return mem_format("%s: is not what it was", at);
    if (json_is_array(then) && json_array_size(then) != json_array_size(now))
        return mem_format("%s: %zu in place of %zu", at, json_array_size(now),
                          json_array_size(then));
    if (!json_is_array(then) && !json_is_object(then))
        return json_equal(then, now) ? NULL : mem_format("%s: is another", at);
    json_object_foreach((json_t *)then, key, member)
    {
        char *below = mem_format("%s.%s", at, key);
        char *found = differs(member, json_object_get(now, key), below);

        free(below);
        if (found != NULL)
            return found;
    }
    json_array_foreach(then, i, member)
    {
        char *below = mem_format("%s[%zu]", at, i);
        char *found = differs(member, named_alike(member, now, i), below);

        free(below);
        if (found != NULL)
            return found;
    }
    return NULL;
}

static const struct {
    const char *book, *trial, *exported;
} cases[] = {
    {"schema-1.sql", "thin plate", "schema-1-thin-plate.json"},
    {"schema-1-full.sql", "everything", "schema-1-full-everything.json"},
    {"schema-1-full.sql", "second", "schema-1-full-second.json"},
};

static json_t *export_trial(const char *name)
{
    struct exported out;
    struct session s;
    struct trial t;
    json_t *json;

    ck_assert_msg(session_open(&s, path, BOOK_READ, &e) == 0, "%s", e.text);
    ck_assert_msg(task_trial(&s, name, &t, &e) == 0, "%s", e.text);
    ck_assert_msg(task_export(&s, &t, EXPORT_JSON, true, &out, &e) == 0, "%s", e.text);
    json = json_loads(out.text, 0, NULL);
    ck_assert_ptr_nonnull(json);
    free(out.text);
    free(out.remark);
    trial_free(&t);
    session_close(&s);
    return json;
}

START_TEST(a_migrated_book_exports_what_the_old_program_exported)
{
    char *sql = mem_format("sqlite3 '%s' < '%s/books/%s'", path, FIXTURES, cases[_i].book);
    char *file = mem_format("%s/books/%s", FIXTURES, cases[_i].exported);
    json_t *then = json_load_file(file, 0, NULL), *now;

    ck_assert_int_eq(system(sql), 0);
    ck_assert_ptr_nonnull(then);
    for (int opened = 0; opened < 2; opened++) { /* brought up to date, then as it is */
        char *difference;

        now = export_trial(cases[_i].trial);
        difference = differs(then, now, "");
        ck_assert_msg(difference == NULL, "%s", difference);
        json_decref(now);
    }
    json_decref(then);
    free(file);
    free(sql);
}
END_TEST

Suite *suite(void)
{
    Suite *s = suite_create("app/migrated");
    TCase *t = tcase_create("migrated");

    tcase_add_checked_fixture(t, set_up, tear_down);
    tcase_add_loop_test(t, a_migrated_book_exports_what_the_old_program_exported, 0,
                        sizeof cases / sizeof *cases);
    suite_add_tcase(s, t);
    return s;
}
