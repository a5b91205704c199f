/*
 * calc duty: at another current, and over a log of passes.
 */
#include <math.h>
#include <string.h>

#include "calc/answer.h"
#include "model/variable_key.h"
#include "weld/duty.h"

enum { RATED, RATED_AMPS, AMPS, LOG };

enum { OUT_DUTY, OUT_ALLOWED, OUT_FULL, OUT_MINUTES, OUT_USED, OUT_LAST, OUT_ARC };

#define PERIOD "IEC 60974-1: a period of 10 min [from memory]"

struct log {
    struct duty_span spans[CALC_ITEMS];
    size_t count;
    double clock, last, arc; /* where the next arc begins, the last one ends; sum of the arcs */
};

/* "0:00-1:20" or "80/40"; the second kind goes on from the clock. */
static int read_span(char *item, void *context, struct error *e)
{
    static const struct calc_argument row = {.key = "log", .dimension = DIM_TIME};
    char *divider = strpbrk(item, "-/");
    bool clock_times = divider != NULL && *divider == '-';
    struct calc_reading first, second = {.value = 0};
    struct log *log = context;
    struct duty_span *span = &log->spans[log->count++];

    if (divider != NULL)
        *divider++ = '\0';
    if (calc_read(&row, item, &first, e) != 0 ||
        (divider != NULL && calc_read(&row, divider, &second, e) != 0))
        return -1;
    *span = clock_times ? (struct duty_span){first.value, second.value}
                        : (struct duty_span){log->clock, log->clock + first.value};
    log->clock = clock_times ? second.value : span->to_s + second.value;
    log->last = fmax(log->last, span->to_s);
    log->arc += span->to_s - span->from_s;
    return 0;
}

static int log_work(struct calc_work *w, struct error *e)
{
    struct log log = {.count = 0};
    struct duty worst;

    if (calc_list_read("log", w->text[LOG], read_span, &log, e) != 0)
        return -1;
    if (log.count == 0)
        return error_set(e, ERROR_INPUT, "log: 1 to %d passes, divided by semicolons", CALC_ITEMS);
    worst = duty_worst(log.spans, log.count);
    w->out[OUT_USED] = worst.share.v;
    w->why[OUT_USED] = w->why[OUT_DUTY] = worst.outside;
    w->out[OUT_LAST] = duty_last(log.spans, log.count, log.last).share.v;
    w->out[OUT_ARC] = worst.outside == NULL ? log.arc : NAN;
    return 0;
}

static int work(struct calc_work *w, struct error *e)
{
    struct percent rated = {w->in[RATED]};
    struct ampere rated_amps = {w->in[RATED_AMPS]};

    if (w->text[LOG] != NULL && log_work(w, e) != 0)
        return -1;
    w->out[OUT_DUTY] = w->out[OUT_USED];
    if (isnan(rated.v) || isnan(rated_amps.v))
        return 0;
    w->out[OUT_FULL] = duty_full_current(rated, rated_amps).v;
    if (!isnan(w->in[AMPS])) {
        struct duty d = duty_at_current(rated, rated_amps, (struct ampere){w->in[AMPS]});

        w->out[OUT_DUTY] = w->out[OUT_ALLOWED] = d.share.v;
        w->why[OUT_DUTY] = w->why[OUT_ALLOWED] = d.outside;
        w->out[OUT_MINUTES] = d.share.v / 10;
    }
    return 0;
}

static void say(const struct calc_work *w, struct calc_answer *a)
{
    if (!isnan(w->out[OUT_ALLOWED]) && !isnan(w->out[OUT_USED]))
        calc_word(a, "within", "Within the duty cycle",
                  w->out[OUT_USED] <= w->out[OUT_ALLOWED] ? "yes" : "no");
}

const struct calc_kind calc_duty = {
    .name = "duty",
    .summary = "Duty cycle at another current, and over a log of passes",
    .needs = "rated, rated_amps and amps; or a log of passes",
    .range = "rated 0 to 100 %, currents above 0; beyond the rated current the law may not hold",
    /* clang-format off */
    .remarks = {
        {OUT_ALLOWED, "The square law takes heating as the current squared; the rating plate and "
            "the machine's own cut-out stand above it."},
    },
    .arguments = {
        [RATED] = {.key = "rated", .also = "rated_duty", .dimension = DIM_SHARE,
            .help = "duty cycle on the rating plate, 60% or 0.6"},
        [RATED_AMPS] = {.key = "rated_amps", .also = "rated_current", .dimension = DIM_CURRENT,
            .limits = KEY_AMPS, .help = "the current it is rated at"},
        [AMPS] = {.key = "amps", .also = "current", .dimension = DIM_CURRENT,
            .error = -READING_AMPERE, .limits = KEY_AMPS, .help = "the current asked about"},
        [LOG] = {.key = "log", .also = "passes", .type = CALC_TEXT,
            .help = "passes as clock times, \"0:00-1:20; 2:00-3:15\", or as arc and pause, "
            "\"80/40; 75/30; 60\" (s)"},
    },
    .outputs = {
        [OUT_DUTY] = {IN_PERCENT("duty"), .label = "Duty cycle",
            .formula = "at the current asked about; without rating, what the log used",
            .source = PERIOD},
        [OUT_ALLOWED] = {IN_PERCENT("duty_allowed"), .label = "Duty cycle at that current",
            .formula = "rated·(I_rated/I)², at most 100",
            .source = "common practice: equal heating"},
        [OUT_FULL] = {.key = "full_duty_current_a", .label = "Current that can run all the time",
            .dimension = DIM_CURRENT, .formula = "I_rated·√(rated/100)",
            .source = "common practice: equal heating"},
        [OUT_MINUTES] = {.key = "arc_min_per_10_min", .label = "Arc time in ten minutes",
            .unit = "min", .formula = "10 min · duty", .source = PERIOD},
        [OUT_USED] = {IN_PERCENT("duty_used"), .label = "Most used in any ten minutes",
            .formula = "arc time in the fullest window/10 min", .source = PERIOD},
        [OUT_LAST] = {IN_PERCENT("duty_last"), .label = "Used in the last ten minutes",
            .formula = "arc time in the window that ends with the last pass/10 min",
            .source = PERIOD},
        [OUT_ARC] = {IN_SECONDS("arc_time"), .label = "Arc time of all passes",
            .formula = "sum of the passes", .source = "by definition"},
    },
    /* clang-format on */
    .example = "rated=60% rated_amps=200 amps=150",
    .permission = true,
    .work = work,
    .say = say,
};
