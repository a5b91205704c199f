/*
 * Random actions with undoing and redoing, by two processes that have the same book open, against a
 * plain model: after each step every value of every coupon and trial, and what the history says.
 * The seed is printed; COLDLAP_SEED=… walks the same way again.
 */
#include "run.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include "app/task_coupon.h"
#include "app/task_history.h"
#include "app/walk.h"
#include "app/walk_model.h"
#include "base/mem.h"
#include "store/settings.h"
#include "store/trials.h"

static char folder[32];
static struct session session;
static struct error e;
static int to_other, why;
static int64_t trial_numbers[MOST_TRIALS];
static const char *const benches[BENCHES] = {"here", "there"};

static void open_as(struct session *s, const char *path, const char *bench)
{
    setenv("COLDLAP_BENCH", bench, 1);
    ck_assert_msg(session_open(s, path, BOOK_CREATE, &e) == 0, "%s", e.text);
}

/* The other process: takes operations until it is told to end. */
static void other_process(int from)
{
    struct session s = {0};
    struct op op;

    while (read(from, &op, sizeof op) == sizeof op && op.kind != OP_END) {
        struct outcome out = {0};

        if (op.kind >= OP_REOPEN) {
            session_close(&s);
            setenv("COLDLAP_BENCH", benches[1], 1);
            out.rc = session_open(&s, op.path, BOOK_CREATE, &out.error);
        } else {
            out = walk_do(&s, &op);
        }
        if (write(from, &out, sizeof out) != sizeof out)
            break;
    }
    session_close(&s);
    _exit(0);
}

static struct outcome do_it(const struct op *op)
{
    struct outcome out;

    if (bench_of_op == 0)
        return walk_do(&session, op);
    ck_assert_int_eq(write(to_other, op, sizeof *op), sizeof *op);
    ck_assert_int_eq(read(to_other, &out, sizeof out), sizeof out);
    return out;
}

/* What the book says, against the model. */

static int trial_of(const char *id)
{
    int64_t number;

    ck_assert_int_eq(trial_number(session.book, id, &number, &e), 0);
    for (int i = 1; i <= last_trial; i++)
        if (trial_numbers[i] == number)
            return i;
    ck_abort_msg("trial %ld", (long)number);
}

/* The book does not give its trials each number. */
static void learn_trial(int name)
{
    char word[16];
    struct trial t;

    snprintf(word, sizeof word, "t%02d", name);
    ck_assert_int_eq(trial_load(session.book, word, &t, &e), 0);
    ck_assert_int_eq(trial_number(session.book, t.id, &trial_numbers[last_trial], &e), 0);
    trial_free(&t);
}

static bool is_word(const char *text, char letter, int number)
{
    char word[16];

    snprintf(word, sizeof word, "%c%02d", letter, number);
    return text != NULL && strcmp(text, word) == 0;
}

static bool coupon_is(const struct coupon *c, const struct coupon_state *s)
{
    const struct value *volts = coupon_value(c, "volts"), *bend = coupon_value(c, "bend_angle");

    if (!s->there || c->sequence == 0)
        return !s->there && c->sequence == 0;
    return is_word(c->mark, 'm', s->mark) && is_word(c->note, 'n', s->note) && volts != NULL &&
           volts->measure.low == s->volts + 1.0 / 3 &&
           (s->volts % 2 == 0 ? bend != NULL && bend->measure.low == s->volts : bend == NULL) &&
           (s->struck == 0 ? c->struck_why == NULL : is_word(c->struck_why, 'w', s->struck));
}

static void compare_coupons(void)
{
    struct coupon_list list;
    size_t at = 0;

    ck_assert_msg(task_coupons(&session, NULL, true, &list, &e) == 0, "%s", e.text);
    for (int i = 1; i <= last_coupon; i++) {
        if (!now.coupons[i].there)
            continue;
        ck_assert_uint_lt(at, list.count);
        ck_assert_int_eq(list.items[at].sequence, i);
        ck_assert_msg(coupon_is(&list.items[at], &now.coupons[i]), "coupon %d", i);
        ck_assert_int_eq(trial_of(list.items[at++].trial), now.coupons[i].trial);
    }
    ck_assert_uint_eq(at, list.count);
    coupon_list_free(&list);
}

static void compare_trials(void)
{
    struct trial_list list = {0};
    size_t count = 0;

    ck_assert_msg(trials_load_all(session.book, &list, &e) == 0, "%s", e.text);
    for (size_t i = 0; i < list.count; i++) {
        const struct trial *t = &list.items[i];
        const struct trial_state *s = &now.trials[trial_of(t->id)];

        ck_assert(s->there && is_word(t->name, 't', s->name));
        ck_assert(s->note == 0 ? t->question == NULL : is_word(t->question, 'n', s->note));
        ck_assert(s->struck == 0 ? t->struck_why == NULL : is_word(t->struck_why, 'w', s->struck));
    }
    for (int i = 1; i <= last_trial; i++)
        count += (size_t)now.trials[i].there;
    ck_assert_uint_eq(count, list.count);
    trial_list_free(&list);
}

static void compare_units(void)
{
    static const char *const names[] = {NULL, "metric", "inch"};
    char *units;

    ck_assert_int_eq(setting_get(session.book, "units", &units, &e), 0);
    ck_assert_pstr_eq(units, names[now.units]);
    free(units);
}

/* The states of a coupon around a change: of one that holds, the next that holds had it after. */
static void compare_around(const struct change *change, int coupon)
{
    const struct done *d = &changes[change->number];
    const struct coupon_state *from = &d->other.coupons[coupon], *to = &now.coupons[coupon];
    struct coupon before, after;

    for (long i = change_count; i > change->number; i--)
        if (!changes[i].undone && changes[i].coupons[coupon])
            to = &changes[i].other.coupons[coupon];
    if (d->undone) {
        from = &d->base.coupons[coupon];
        to = &d->other.coupons[coupon];
    }
    ck_assert_msg(journal_coupon(session.book, change, coupon, &before, &after, &e) == 0, "%s",
                  e.text);
    ck_assert_msg(coupon_is(&before, from), "coupon %d before change %ld", coupon,
                  (long)change->number);
    ck_assert_msg(coupon_is(&after, to), "coupon %d after change %ld", coupon,
                  (long)change->number);
    coupon_free(&before);
    coupon_free(&after);
}

static void compare_history(size_t most)
{
    struct history h;

    ck_assert_msg(task_history(&session, NULL, most, &h, &e) == 0, "%s", e.text);
    ck_assert_int_eq(h.changes.count, change_count < (long)most ? change_count : (long)most);
    for (size_t i = 0; i < h.changes.count; i++) {
        const struct change *c = &h.changes.items[i];
        const struct done *d = &changes[c->number];

        ck_assert_int_eq(c->number, change_count - (long)(h.changes.count - 1 - i));
        ck_assert_str_eq(c->what, d->what);
        ck_assert_str_eq(c->bench, benches[d->bench]);
        ck_assert(c->undone == d->undone);
        for (int k = 1; k <= last_coupon; k++)
            if (d->coupons[k])
                compare_around(c, k);
    }
    history_free(&h);
}

/* Choosing what to do next. */

static int one_of(int count)
{
    return rand() % count;
}

static struct op random_op(void)
{
    static const enum op_kind kinds[] = {
        OP_LOG,    OP_LOG,     OP_IMPORT, OP_CHANGE,       OP_CHANGE,        OP_CHANGE, OP_MOVE,
        OP_STRIKE, OP_RESTORE, OP_RENAME, OP_STRIKE_TRIAL, OP_RESTORE_TRIAL, OP_UNITS,  OP_QUESTION,
        OP_UNDO,   OP_UNDO,    OP_UNDO,   OP_REDO,         OP_REDO,          OP_REDO};
    struct op op = {.kind = kinds[one_of(sizeof kinds / sizeof *kinds)],
                    .trial = one_of(NAMES),
                    .to = one_of(NAMES),
                    .mark = one_of(MARKS),
                    .volts = 16 + one_of(4),
                    .note = 1 + one_of(3),
                    .why = why + 1};

    why++;
    if (op.kind == OP_UNDO || op.kind == OP_REDO)
        op.number = one_of(2) == 0 ? 0 : change_count + 1 - one_of(one_of(8) == 0 ? 40 : 8);
    else if (op.kind >= OP_CHANGE && op.kind <= OP_RESTORE)
        op.number = 1 + one_of(last_coupon + 1);
    if (op.number < 0)
        op.number = 0;
    return op;
}

static void reopen(const char *path)
{
    session_close(&session);
    open_as(&session, path, benches[0]);
}

/* Whether it is done is said by the model, which steps first. */
static void step(int number)
{
    struct op op = random_op();
    struct world before = now;
    int coupons = last_coupon, trials = last_trial;
    struct outcome out;
    bool can;

    made_trial = false;
    bench_of_op = one_of(4) == 0;
    if (op.kind == OP_UNDO || op.kind == OP_REDO) {
        long which = walk_model_go(&op);

        can = which != 0;
        out = do_it(&op);
        if (can && out.rc == 0)
            ck_assert_int_eq(out.number, which);
    } else {
        can = walk_model_do(&op);
        out = do_it(&op);
        if (can)
            walk_model_record(&op, &before);
        if (can && out.rc == 0 && made_trial)
            learn_trial(op.trial);
    }
    ck_assert_msg((out.rc == 0) == can, "step %d, operation %d, can %d: %s", number, (int)op.kind,
                  can, out.error.text);
    if (!can) {
        ck_assert_int_eq(out.error.kind, ERROR_INPUT);
        ck_assert_ptr_null(strchr(out.error.text, '\n'));
        ck_assert(coupons == last_coupon && trials == last_trial);
    }
}

static void new_book(int number)
{
    struct op op = {.kind = OP_OPEN};

    memset(&now, 0, sizeof now);
    change_count = last_coupon = last_trial = why = 0;
    snprintf(op.path, sizeof op.path, "%s/%d.coldlap", folder, number);
    reopen(op.path);
    bench_of_op = 1;
    ck_assert_int_eq(do_it(&op).rc, 0);
}

static void walk_one_book(int number, int steps)
{
    char *path;

    new_book(number);
    path = mem_copy(session_book_name(&session));
    for (int i = 0; i < steps; i++) {
        step(i);
        compare_coupons();
        compare_trials();
        compare_units();
        compare_history(2);
        if (one_of(20) == 0)
            reopen(path);
    }
    compare_history(MOST_CHANGES);
    free(path);
}

START_TEST(a_random_walk_agrees_with_a_plain_model)
{
    int ends[2], status;
    pid_t other;

    ck_assert_int_eq(socketpair(AF_UNIX, SOCK_SEQPACKET, 0, ends), 0);
    strcpy(folder, "/tmp/coldlap-walk-XXXXXX");
    ck_assert_ptr_nonnull(mkdtemp(folder));
    setenv("XDG_STATE_HOME", folder, 1); /* for the backups */
    other = fork();                      /* before a book is open */
    if (other == 0) {
        close(ends[0]);
        other_process(ends[1]);
    }
    close(ends[1]);
    to_other = ends[0];
    srand(test_seed(11));
    changes = mem_zero(MOST_CHANGES + 2, sizeof *changes);
    for (int done = 0; done < WALK_STEPS; done += STEPS_A_BOOK)
        walk_one_book(done, WALK_STEPS - done < STEPS_A_BOOK ? WALK_STEPS - done : STEPS_A_BOOK);
    close(to_other);
    ck_assert_int_eq(waitpid(other, &status, 0), other);
    ck_assert_int_eq(status, 0);
    session_close(&session);
    free(changes);
}
END_TEST

static void remove_books(void)
{
    char *command = mem_format("rm -r '%s'", folder);

    ck_assert_int_eq(system(command), 0);
    free(command);
}

Suite *suite(void)
{
    Suite *s = suite_create("history_walk");
    TCase *t = tcase_create("walk");

    tcase_set_timeout(t, 1800);
    tcase_add_checked_fixture(t, NULL, remove_books);
    tcase_add_test(t, a_random_walk_agrees_with_a_plain_model);
    suite_add_tcase(s, t);
    return s;
}
