#include "app/demo.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "app/demo_data.h"
#include "app/session.h"
#include "base/mem.h"
#include "base/text.h"
#include "model/part.h"
#include "model/variable_key.h"
#include "store/coupons.h"
#include "store/journal.h"
#include "store/settings.h"
#include "store/trials.h"

static const double BEAD_MM = 60, LEVER_MM = 400, PLATE_C = 18;

static int set_value(const struct session *s, struct coupon *c, const char *key, const char *text,
                     struct error *e)
{
    const struct variable *v = variable_find(&s->variables, key);
    struct intake in = {.units = UNITS_METRIC, .sure = true, .error = e};

    if (v == NULL)
        return error_set(e, ERROR_INPUT, "there is no variable '%s'", key);
    return coupon_set_from_text(c, v, text, &in);
}

static int set_values(const struct session *s, struct coupon *c, const struct demo_coupon *row,
                      struct error *e)
{
    const struct demo_trial *trial = &demo_trials[row->trial];

    for (const struct demo_value *v = trial->common; v->key != NULL; v++)
        if (set_value(s, c, v->key, v->text, e) < 0)
            return -1;
    for (size_t i = 0; trial->columns[i] != NULL; i++)
        if (set_value(s, c, trial->columns[i], row->values[i], e) < 0)
            return -1;
    return 0;
}

static void add_passes(struct coupon *c, const struct demo_coupon *row)
{
    double volts = measure_point(coupon_value(c, KEY_VOLTS)->measure);
    bool both = text_same(coupon_value(c, KEY_SIDES)->text, "both");
    double feed = measure_point(coupon_value(c, KEY_WIRE_FEED_SPEED)->measure);

    for (int i = 0; i < DEMO_PASSES && row->passes[i].arc_s > 0; i++) {
        struct pass *pass = coupon_add_pass(c);

        pass->side = both ? i + 1 : 1;
        pass->arc_s = row->passes[i].arc_s;
        pass->length_mm = BEAD_MM;
        pass->volts = volts;
        pass->amps = row->passes[i].amps;
        pass->feed_mm_per_min = feed;
        pass->start_c = i == 0 ? PLATE_C : 95;
        if (i > 0)
            pass->pause_s = 90;
    }
}

static void fold(struct coupon *c, const struct demo_coupon *row)
{
    part_set_code(part_find(part_bend_rows, "ended"), &c->bend, row->ended);
    c->bend.direction = BEND_ROOT_OPENING;
    c->bend.before_deg = demo_trials[row->trial].before_deg;
    c->bend.after_deg = row->after_deg;
    c->bend.load_n = row->load_n;
    c->bend.lever_mm = LEVER_MM;
}

/* A coupon that held keeps its face to itself. */
static void read_face(struct coupon *c, const struct demo_coupon *row)
{
    if (c->bend.end == BEND_HELD)
        return;
    c->bead_mm = BEAD_MM;
    c->face_read = true;
    for (int i = 0; i < DEMO_FLAWS && row->flaws[i].iso6520 != 0; i++) {
        struct flaw *flaw = coupon_add_flaw(c);

        flaw->from_mm = row->flaws[i].from_mm;
        flaw->to_mm = row->flaws[i].to_mm;
        flaw->iso6520 = row->flaws[i].iso6520;
    }
}

static int add_coupon(struct session *s, const char *trial_id, const struct demo_coupon *row,
                      struct error *e)
{
    struct coupon c;
    int rc;

    coupon_init(&c);
    snprintf(c.trial, sizeof c.trial, "%s", trial_id);
    c.mark = mem_copy(row->mark);
    c.note = mem_copy(row->note);
    clock_parse(row->when, &c.when);
    rc = set_values(s, &c, row, e);
    if (rc == 0) {
        add_passes(&c, row);
        fold(&c, row);
        read_face(&c, row);
        rc = coupon_save(s->book, &c, e);
    }
    coupon_free(&c);
    return rc;
}

static void set_levels(struct trial *t, const char *const *levels)
{
    while (*levels != NULL) {
        struct level_set *set = trial_set_for(t, *levels++);

        while (*levels != NULL)
            level_set_add(set, *levels++);
        levels++;
    }
}

static int add_trial(struct session *s, size_t index, struct error *e)
{
    const struct demo_trial *row = &demo_trials[index];
    struct trial t;
    int rc;

    trial_init(&t);
    t.name = mem_copy(row->name);
    t.question = mem_copy(row->question);
    t.note = mem_copy(row->note);
    t.stop_deg = row->stop_deg;
    set_levels(&t, row->levels);
    rc = trial_save(s->book, &t, e);
    for (size_t i = 0; rc == 0 && i < demo_coupon_count; i++)
        if ((size_t)demo_coupons[i].trial == index)
            rc = add_coupon(s, t.id, &demo_coupons[i], e);
    if (rc == 0)
        rc = setting_set(s->book, "last_trial", t.id, e);
    trial_free(&t);
    return rc;
}

static int fill(const char *path, struct error *e)
{
    struct session s;
    int rc;

    if (session_open(&s, path, BOOK_CREATE, e) < 0)
        return -1;
    rc = book_begin(s.book, e);
    journal_name(s.book, "demo");
    for (size_t i = 0; rc == 0 && i < demo_trial_count; i++)
        rc = add_trial(&s, i, e);
    if (rc == 0)
        rc = book_commit(s.book, e);
    session_close(&s);
    return rc;
}

static void remove_book(const char *path)
{
    static const char *const endings[] = {"", "-wal", "-shm"};

    for (size_t i = 0; i < sizeof endings / sizeof *endings; i++) {
        char *file = mem_format("%s%s", path, endings[i]);

        unlink(file);
        free(file);
    }
}

int demo_make(const char *path, size_t *coupons, struct error *e)
{
    int fd = open(path, O_CREAT | O_EXCL | O_WRONLY, 0666); /* claims the name */

    if (fd < 0 && errno == EEXIST)
        return error_set(e, ERROR_INPUT,
                         "%s is already there; the demo never writes into an existing file", path);
    if (fd < 0)
        return error_set(e, ERROR_SYSTEM, "%s cannot be made: %s", path, strerror(errno));
    close(fd);
    *coupons = demo_coupon_count;
    if (fill(path, e) == 0)
        return 0;
    remove_book(path);
    return -1;
}
