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
#include "base/mem.h"
#include "store/settings.h"
#include "store/trials.h"

enum {
    STEPS_A_BOOK = 250,
    NAMES = 5,  /* of trials */
    MARKS = 12, /* so that they meet */
    MOST_COUPONS = 400,
    MOST_TRIALS = 60,
    MOST_CHANGES = STEPS_A_BOOK + 1,
    MOST_TOUCHED = 200,
    BENCHES = 2,
};

/* A number of a coupon in the model is its number in the book. Struck: why, else 0. */
struct coupon_state {
    int there, trial, mark, volts, note, struck;
    int typed; /* imported: the numbers are kept as they were written, too */
};
struct trial_state {
    int there, name, note, struck; /* note 0: no question */
};
struct world {
    struct coupon_state coupons[MOST_COUPONS];
    struct trial_state trials[MOST_TRIALS];
    int units; /* 0: not set; else 1 + OP_UNITS' note */
};
/* What a change touched, with the states that are not in the book. */
struct done {
    struct world other;
    bool coupons[MOST_COUPONS], trials[MOST_TRIALS], units;
    struct world base; /* of one that was undone: what it went back to */
    bool undone;
    int bench, undone_by;
    long undone_order;
    const char *what;
};

static struct world now;
static struct done *changes; /* by number */
static long change_count, undone_order;
static int last_coupon, last_trial, why;
static bool made_trial;
static int64_t trial_numbers[MOST_TRIALS];
static char folder[32];
static struct session session;
static struct error e;
static int to_other, bench_of_op;
static const char *const benches[BENCHES] = {"here", "there"};

static const char *const words[OP_KINDS] = {
    [OP_LOG] = "log",
    [OP_IMPORT] = "import from t.csv",
    [OP_CHANGE] = "change",
    [OP_MOVE] = "change",
    [OP_STRIKE] = "strike",
    [OP_RESTORE] = "restore",
    [OP_RENAME] = "change",
    [OP_STRIKE_TRIAL] = "strike",
    [OP_RESTORE_TRIAL] = "restore",
    [OP_UNITS] = "change",
};

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

/* The model of the whole, after the operation; false when it is refused. */

static int live_trial(int name)
{
    for (int i = 1; i <= last_trial; i++)
        if (now.trials[i].there && now.trials[i].struck == 0 && now.trials[i].name == name)
            return i;
    return 0;
}

/* The newest in time is the one made last: numbers are not given twice. */
static int struck_trial(int name)
{
    for (int i = last_trial; i > 0; i--)
        if (now.trials[i].there && now.trials[i].struck != 0 && now.trials[i].name == name)
            return i;
    return 0;
}

static bool mark_used(int trial, int mark, int but)
{
    for (int i = 1; i <= last_coupon; i++)
        if (i != but && now.coupons[i].there && now.coupons[i].struck == 0 &&
            now.coupons[i].trial == trial && now.coupons[i].mark == mark)
            return true;
    return false;
}

/* Whether a state of everything can be in a book. */
static bool can_be(const struct world *w)
{
    for (int i = 1; i <= last_trial; i++)
        for (int k = 1; k < i; k++)
            if (w->trials[i].there && w->trials[k].there && w->trials[i].struck == 0 &&
                w->trials[k].struck == 0 && w->trials[i].name == w->trials[k].name)
                return false;
    for (int i = 1; i <= last_coupon; i++) {
        const struct coupon_state *c = &w->coupons[i];

        if (!c->there)
            continue;
        if (!w->trials[c->trial].there || (c->struck == 0 && w->trials[c->trial].struck != 0))
            return false;
        for (int k = 1; k < i; k++)
            if (c->struck == 0 && w->coupons[k].there && w->coupons[k].struck == 0 &&
                w->coupons[k].trial == c->trial && w->coupons[k].mark == c->mark)
                return false;
    }
    return true;
}

static struct coupon_state coupon_of(const struct op *op, int trial, int mark)
{
    return (struct coupon_state){1, trial, mark, op->volts, op->note, 0, op->kind == OP_IMPORT};
}

static int trial_to_fill(int name)
{
    int trial = live_trial(name);

    if (trial == 0) {
        trial = ++last_trial;
        made_trial = true;
        now.trials[trial] = (struct trial_state){1, name, 0, 0};
    }
    return trial;
}

static bool model_make(const struct op *op)
{
    int trial = live_trial(op->trial), count = op->kind == OP_LOG ? 1 : IMPORTED;

    for (int i = 0; i < count; i++)
        if (trial != 0 && mark_used(trial, op->mark + i, 0))
            return false;
    trial = trial_to_fill(op->trial);
    for (int i = 0; i < count; i++)
        now.coupons[++last_coupon] = coupon_of(op, trial, op->mark + i);
    return true;
}

static bool model_coupon(const struct op *op)
{
    struct coupon_state *c = &now.coupons[op->number];
    int to = op->kind == OP_MOVE ? live_trial(op->to) : c->trial;
    int mark = op->kind == OP_CHANGE ? op->mark : c->mark;
    bool stays_struck = c->struck != 0 && op->kind != OP_RESTORE;

    if (!c->there || to == 0 || (op->kind == OP_STRIKE && c->struck != 0) ||
        (op->kind == OP_RESTORE && (c->struck == 0 || now.trials[c->trial].struck != 0)) ||
        (!stays_struck && mark_used(to, mark, (int)op->number)))
        return false;
    if (op->kind == OP_CHANGE) {
        int struck = c->struck;

        *c = coupon_of(op, to, mark);
        c->struck = struck;
    }
    c->trial = to;
    if (op->kind == OP_STRIKE || op->kind == OP_RESTORE)
        c->struck = op->kind == OP_STRIKE ? op->why : 0;
    return true;
}

/* A mark can be changed while its coupon is struck out. */
static bool same_marks(int trial, int struck)
{
    for (int i = 1; i <= last_coupon; i++)
        for (int k = 1; k < i; k++) {
            const struct coupon_state *a = &now.coupons[i], *b = &now.coupons[k];

            if (a->there && b->there && a->trial == trial && b->trial == trial &&
                a->struck == struck && b->struck == struck && a->mark == b->mark)
                return true;
        }
    return false;
}

static bool model_trial(const struct op *op)
{
    int trial = op->kind == OP_RESTORE_TRIAL ? struck_trial(op->trial) : live_trial(op->trial);
    int taken = live_trial(op->kind == OP_RENAME ? op->to : op->trial), with;

    if (op->kind == OP_QUESTION) {
        now.trials[trial_to_fill(op->trial)].note = op->note;
        return true;
    }
    if (trial == 0 || (taken != 0 && taken != trial))
        return false;
    if (op->kind == OP_RENAME) {
        now.trials[trial].name = op->to;
        return true;
    }
    with = now.trials[trial].struck;
    if (op->kind == OP_RESTORE_TRIAL && same_marks(trial, with))
        return false;
    now.trials[trial].struck = op->kind == OP_STRIKE_TRIAL ? op->why : 0;
    for (int i = 1; i <= last_coupon; i++)
        if (now.coupons[i].there && now.coupons[i].trial == trial && now.coupons[i].struck == with)
            now.coupons[i].struck = now.trials[trial].struck;
    return true;
}

#define SAME(a, b) (memcmp(&(a), &(b), sizeof(a)) == 0)

/* What an operation touched is what is not as it was. */
static void record(const struct op *op, const struct world *before)
{
    struct done *d = &changes[change_count + 1];
    bool any;

    memset(d, 0, sizeof *d);
    any = d->units = now.units != before->units;
    for (int i = 1; i <= last_coupon; i++)
        any = (d->coupons[i] = !SAME(now.coupons[i], before->coupons[i])) || any;
    for (int i = 1; i <= last_trial; i++)
        any = (d->trials[i] = !SAME(now.trials[i], before->trials[i])) || any;
    if (!any)
        return;
    d->other = *before;
    d->bench = bench_of_op;
    d->what = words[op->kind] != NULL ? words[op->kind] : made_trial ? "making" : "change";
    change_count++;
}

static void swap_touched(const struct done *d, struct world *w, struct world *with)
{
    struct world was = *w;

    for (int i = 1; i <= last_coupon; i++)
        if (d->coupons[i]) {
            w->coupons[i] = with->coupons[i];
            with->coupons[i] = was.coupons[i];
        }
    for (int i = 1; i <= last_trial; i++)
        if (d->trials[i]) {
            w->trials[i] = with->trials[i];
            with->trials[i] = was.trials[i];
        }
    if (d->units) {
        w->units = with->units;
        with->units = was.units;
    }
}

static bool share(const struct done *a, const struct done *b)
{
    for (int i = 1; i <= last_coupon; i++)
        if (a->coupons[i] && b->coupons[i])
            return true;
    for (int i = 1; i <= last_trial; i++)
        if (a->trials[i] && b->trials[i])
            return true;
    return a->units && b->units;
}

static bool as_left(const struct done *d)
{
    for (int i = 1; i <= last_coupon; i++)
        if (d->coupons[i] && !SAME(now.coupons[i], d->base.coupons[i]))
            return false;
    for (int i = 1; i <= last_trial; i++)
        if (d->trials[i] && !SAME(now.trials[i], d->base.trials[i]))
            return false;
    return !d->units || now.units == d->base.units;
}

/* The change an operation without a number means. */
static long last_of_bench(bool undone)
{
    long found = 0;

    for (long i = 1; i <= change_count; i++) {
        const struct done *d = &changes[i];

        if (!undone && !d->undone && d->bench == bench_of_op)
            found = i;
        if (undone && d->undone && d->undone_by == bench_of_op &&
            (found == 0 || d->undone_order > changes[found].undone_order))
            found = i;
    }
    return found;
}

static long model_go(const struct op *op)
{
    bool redo = op->kind == OP_REDO;
    long number = op->number != 0 ? op->number : last_of_bench(redo);
    struct done *d = &changes[number];
    struct world then = now, other;

    if (number == 0 || number > change_count || d->undone != redo || (redo && !as_left(d)))
        return 0;
    for (long i = number + 1; i <= change_count; i++)
        if (!changes[i].undone && share(&changes[i], d))
            return 0;
    other = d->other;
    swap_touched(d, &then, &other);
    if (!can_be(&then))
        return 0;
    now = then;
    d->other = other;
    d->base = now;
    d->undone = !redo;
    d->undone_by = bench_of_op;
    d->undone_order = ++undone_order;
    return number;
}

static bool model(const struct op *op)
{
    if (op->kind <= OP_IMPORT)
        return model_make(op);
    if (op->kind <= OP_RESTORE)
        return model_coupon(op);
    if (op->kind <= OP_RESTORE_TRIAL)
        return model_trial(op);
    now.units = 1 + op->note % 2;
    return true;
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
        long which = model_go(&op);

        can = which != 0;
        out = do_it(&op);
        if (can && out.rc == 0)
            ck_assert_int_eq(out.number, which);
    } else {
        can = model(&op);
        out = do_it(&op);
        if (can)
            record(&op, &before);
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
