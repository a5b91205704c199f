#include "app/coupon_view.h"

#include <stdlib.h>
#include <string.h>

#include "app/list_row.h"
#include "base/array.h"
#include "base/clock.h"
#include "base/mem.h"
#include "store/coupons.h"

enum { ON, BACK };
enum {
    /* coupons: some milliseconds each */
    READ_AT_ONCE = 100,
    SEARCHED_AT_ONCE = 2000,
    COUNTED_AT_ONCE = 10000
};

static void add_number(struct number_list *list, long number)
{
    list->items = array_reserve(list->items, &list->capacity, list->count + 1, sizeof(long));
    list->items[list->count++] = number;
}

static void forget_numbers(struct number_list *list)
{
    free(list->items);
    *list = (struct number_list){0};
}

static void know_nothing(struct coupon_view *v)
{
    forget_numbers(&v->known);
    v->known_span = (struct coupon_span){COUPON_FIRST, COUPON_FIRST - 1};
}

static void go_to(struct view_side *side, long next)
{
    side->next = next;
    side->done = next < COUPON_FIRST || next > COUPON_LAST;
}

static void start_sides(struct coupon_view *v, long from)
{
    bool nothing = v->letters == NULL || v->result == NULL;

    v->as_written = !nothing && !list_row_may_say(v->session, v->result, v->letters);
    for (int side = ON; side <= BACK; side++) {
        forget_numbers(&v->sides[side].found);
        go_to(&v->sides[side], side == ON ? from : from - 1);
        v->sides[side].done = nothing || v->sides[side].done;
    }
}

void coupon_view_begin(struct coupon_view *v, struct session *s, struct coupon_set set,
                       const struct variable *result, long from)
{
    v->session = s;
    v->set = set;
    v->result = result;
    v->total = 0;
    v->uncounted = (struct coupon_span){COUPON_FIRST, COUPON_LAST};
    v->counted = false;
    know_nothing(v);
    start_sides(v, from);
}

void coupon_view_free(struct coupon_view *v)
{
    know_nothing(v);
    start_sides(v, COUPON_FIRST);
    free(v->letters);
}

size_t coupon_view_found(const struct coupon_view *v)
{
    return v->sides[ON].found.count + v->sides[BACK].found.count;
}

bool coupon_view_searched(const struct coupon_view *v)
{
    return v->sides[ON].done && v->sides[BACK].done;
}

bool coupon_view_done(const struct coupon_view *v)
{
    return v->result == NULL || (v->counted && coupon_view_searched(v));
}

/* In the order of the book. */
static long found_at(const struct coupon_view *v, size_t i)
{
    const struct number_list *back = &v->sides[BACK].found;

    return i < back->count ? back->items[back->count - 1 - i]
                           : v->sides[ON].found.items[i - back->count];
}

/* What was found becomes what longer letters are looked for in. */
static void keep_known(struct coupon_view *v)
{
    struct coupon_span looked = {v->sides[BACK].next + 1, v->sides[ON].next - 1},
                       *span = &v->known_span;
    bool joined = span->last >= looked.first - 1 && span->first <= looked.last + 1;
    struct number_list all = {0};

    for (size_t i = 0; joined && i < v->known.count; i++)
        if (v->known.items[i] < looked.first)
            add_number(&all, v->known.items[i]);
    for (size_t i = 0; i < coupon_view_found(v); i++)
        add_number(&all, found_at(v, i));
    for (size_t i = 0; joined && i < v->known.count; i++)
        if (v->known.items[i] > looked.last)
            add_number(&all, v->known.items[i]);
    if (joined && span->first < looked.first)
        looked.first = span->first;
    if (joined && span->last > looked.last)
        looked.last = span->last;
    forget_numbers(&v->known);
    v->known = all;
    *span = looked;
}

void coupon_view_find(struct coupon_view *v, const char *letters, long from)
{
    char *copy = mem_copy(letters);

    if (letters != NULL && v->letters != NULL && strcasestr(letters, v->letters) != NULL)
        keep_known(v);
    else
        know_nothing(v);
    free(v->letters);
    v->letters = copy;
    start_sides(v, from);
}

/* Looks into what is kept of the coupons of a span as it was written: the book does that itself. */
static int look_into(struct coupon_view *v, struct coupon_span span, int side, struct error *e)
{
    long numbers[SEARCHED_AT_ONCE];
    int count = coupon_set_numbers(v->session->book, &v->set, span, v->letters, side == BACK,
                                   SEARCHED_AT_ONCE, numbers, e);

    for (int i = 0; i < count; i++)
        add_number(&v->sides[side].found, numbers[i]);
    return count < 0 ? -1 : 0;
}

/* Reads the coupons of a span; those that hold the letters are added to the side. */
static int read_through(struct coupon_view *v, struct coupon_span span, int side, struct error *e)
{
    struct coupon_list list = {0};
    struct coupon last;
    const struct coupon *before = NULL;
    bool *holds = NULL;
    int rc = coupon_set_load(v->session->book, &v->set, span, &list, e);

    coupon_init(&last);
    if (rc == 0 && list.count > 0)
        rc = coupon_load_before(v->session->book, &list.items[0], &last, e);
    if (rc > 0)
        before = &last;
    holds = mem_zero(list.count + 1, sizeof *holds);
    for (size_t i = 0; rc >= 0 && i < list.count; i++) {
        const struct coupon *c = &list.items[i];
        struct list_row row = list_row_make(v->session, c, before, v->result);

        holds[i] = list_row_holds(&row, c, v->letters);
        list_row_free(&row);
        before = c->struck_why == NULL ? c : before;
    }
    for (size_t i = 0; rc >= 0 && i < list.count; i++) {
        size_t at = side == ON ? i : list.count - 1 - i;

        if (holds[at])
            add_number(&v->sides[side].found, list.items[at].sequence);
    }
    free(holds);
    coupon_free(&last);
    coupon_list_free(&list);
    return rc < 0 ? -1 : 0;
}

static struct coupon_span span_between(long a, long b)
{
    return a < b ? (struct coupon_span){a, b} : (struct coupon_span){b, a};
}

/* Numbers in a row are read together, though there are others between them, unless they are few. */
static int look_at(struct coupon_view *v, const long *numbers, int count, int side, struct error *e)
{
    struct coupon_span whole = span_between(numbers[0], numbers[count - 1]);
    int (*look)(struct coupon_view *, struct coupon_span, int, struct error *) =
        v->as_written ? look_into : read_through;
    int rc = 0;

    if (whole.last - whole.first < 4L * count || v->known_span.first > whole.last ||
        v->known_span.last < whole.first)
        return look(v, whole, side, e);
    for (int i = 0; rc == 0 && i < count; i++)
        rc = look(v, (struct coupon_span){numbers[i], numbers[i]}, side, e);
    return rc;
}

/* The first one known whose number is not below this. */
static size_t place_in_known(const struct coupon_view *v, long number)
{
    size_t low = 0, high = v->known.count;

    while (low < high) {
        size_t middle = low + (high - low) / 2;

        if (v->known.items[middle] < number)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

/* The next numbers of those known. */
static int known_numbers(struct coupon_view *v, int side, int most, long *out)
{
    long next = v->sides[side].next;
    size_t at = place_in_known(v, side == ON ? next : next + 1);
    int count = 0;

    for (; count < most && (side == ON ? at < v->known.count : at > 0); count++)
        out[count] = v->known.items[side == ON ? at++ : --at];
    return count;
}

/* How far the next look reaches: to the end of what is known, or to where it begins, or all. */
static struct coupon_span reach(const struct coupon_view *v, int side, bool *known)
{
    struct coupon_span k = v->known_span;
    long next = v->sides[side].next, end = side == ON ? COUPON_LAST : COUPON_FIRST;

    *known = k.first <= next && next <= k.last;
    if (*known)
        end = side == ON ? k.last : k.first;
    else if (k.first <= k.last && (side == ON ? k.first > next : k.last < next))
        end = side == ON ? k.first - 1 : k.last + 1;
    return span_between(next, end);
}

/* Looks through the next coupons on one side. */
static int search_side(struct coupon_view *v, int side, struct error *e)
{
    long numbers[SEARCHED_AT_ONCE], step = side == ON ? 1 : -1;
    bool known;
    struct coupon_span span = reach(v, side, &known);
    int most = v->as_written && !known ? SEARCHED_AT_ONCE : READ_AT_ONCE;
    int count = known ? known_numbers(v, side, most, numbers)
                      : coupon_set_numbers(v->session->book, &v->set, span, NULL, side == BACK,
                                           most, numbers, e);

    if (count < 0 || (count > 0 && look_at(v, numbers, count, side, e) < 0))
        return -1;
    if (count == most)
        go_to(&v->sides[side], numbers[count - 1] + step);
    else
        go_to(&v->sides[side], (side == ON ? span.last : span.first) + step);
    return 0;
}

static int count_on(struct coupon_view *v, struct error *e)
{
    int count = coupon_set_count(v->session->book, &v->set, &v->uncounted, COUNTED_AT_ONCE, e);

    if (count < 0)
        return -1;
    v->total += (size_t)count;
    v->counted = count < COUNTED_AT_ONCE;
    return 0;
}

static int work_a_little(struct coupon_view *v, struct error *e)
{
    for (int side = ON; side <= BACK; side++)
        if (!v->sides[side].done && search_side(v, side, e) < 0)
            return -1;
    if (!v->counted && count_on(v, e) < 0)
        return -1;
    return coupon_view_done(v) ? 0 : 1;
}

int coupon_view_work(struct coupon_view *v, int ms, struct error *e)
{
    int64_t end = clock_monotonic_ms() + ms;
    int more;

    do
        more = work_a_little(v, e);
    while (more > 0 && clock_monotonic_ms() < end);
    if (more < 0)
        v->counted = v->sides[ON].done = v->sides[BACK].done = true;
    return more;
}

/* Of the first one found whose number is not below this. */
static size_t place_of(const struct coupon_view *v, long number)
{
    size_t low = 0, high = coupon_view_found(v);

    while (low < high) {
        size_t middle = low + (high - low) / 2;

        if (found_at(v, middle) < number)
            low = middle + 1;
        else
            high = middle;
    }
    return low;
}

int coupon_view_numbers(struct coupon_view *v, long from, bool back, int most, long *out,
                        struct error *e)
{
    struct coupon_span span =
        back ? (struct coupon_span){COUPON_FIRST, from} : (struct coupon_span){from, COUPON_LAST};
    size_t place;
    int count = 0;

    if (v->letters == NULL)
        return coupon_set_numbers(v->session->book, &v->set, span, NULL, back, most, out, e);
    place = place_of(v, back ? from + 1 : from);
    for (; count < most && (back ? place > 0 : place < coupon_view_found(v)); count++)
        out[count] = found_at(v, back ? --place : place++);
    return count;
}
