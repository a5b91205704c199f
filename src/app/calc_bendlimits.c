#include "app/calc_bendlimits.h"

#include <string.h>

#include "app/calc_list.h"
#include "base/text.h"

enum { SYSTEM_OPEN, SYSTEM_MM, SYSTEM_INCH };

/* Sizes in mm or in inch, as their system says. */
struct sizes {
    double at[CALC_ITEMS];
    bool from_flaw[CALC_ITEMS];
    size_t count;
};

static int settle_system(int *system, const struct unit *unit, const char *key, struct error *e)
{
    bool inch = strcmp(unit->key, "in") == 0 || strcmp(unit->key, "ft") == 0 ||
                strcmp(unit->key, "mil") == 0;
    int this = inch ? SYSTEM_INCH : SYSTEM_MM;

    if (*system != SYSTEM_OPEN && *system != this)
        return error_set(e, ERROR_INPUT,
                         "%s: sizes in mm and in inch are judged by different limits; write all in "
                         "one of them",
                         key);
    *system = this;
    return 0;
}

/* The length at `text`, in the system it is written in. */
static int read_size(const char *key, const char *text, int *system, double *size, struct error *e)
{
    const struct unit *unit;

    if (calc_list_quantity(key, text, DIM_LENGTH, "mm", size, &unit, e) != 0)
        return -1;
    if (*size < 0)
        return error_set(e, ERROR_INPUT, "%s: a size is 0 or more, not %s", key, text);
    if (settle_system(system, unit, key, e) != 0)
        return -1;
    if (*system == SYSTEM_INCH)
        *size /= 25.4;
    return 0;
}

static int read_item(const char *key, char *item, int *system, struct sizes *s, struct error *e)
{
    char *size = calc_list_word(&item), *word = calc_list_word(&item);

    if (calc_list_word(&item) != NULL || (word != NULL && !text_same(word, "slag") &&
                                          !text_same(word, "fusion") && !text_same(word, "clean")))
        return error_set(e, ERROR_INPUT,
                         "%s: behind the size stands one word, slag, fusion or clean, not '%s'",
                         key, word);
    if (read_size(key, size, system, &s->at[s->count], e) != 0)
        return -1;
    s->from_flaw[s->count++] = word != NULL && !text_same(word, "clean");
    return 0;
}

static int read_sizes(const char *key, const char *text, int *system, struct sizes *s,
                      struct error *e)
{
    struct calc_list list = calc_list_start(text == NULL ? "" : text);
    char item[CALC_ITEM];

    s->count = 0;
    while (s->count < CALC_ITEMS && calc_list_next(&list, item))
        if (read_item(key, item, system, s, e) != 0)
            return -1;
    if (*list.at != '\0')
        return error_set(e, ERROR_INPUT, "%s: at most %d sizes, divided by semicolons", key,
                         CALC_ITEMS);
    return 0;
}

static struct limit_answer judge_guided(const struct sizes *flaws, const struct sizes *corners,
                                        bool inch)
{
    struct mm mm[CALC_ITEMS];
    struct inch in[CALC_ITEMS];
    struct corner_crack_mm mm_corners[CALC_ITEMS];
    struct corner_crack_inch in_corners[CALC_ITEMS];
    size_t i;

    for (i = 0; i < flaws->count; i++) {
        mm[i].v = flaws->at[i];
        in[i].v = flaws->at[i];
    }
    for (i = 0; i < corners->count; i++) {
        mm_corners[i] = (struct corner_crack_mm){{corners->at[i]}, corners->from_flaw[i]};
        in_corners[i] = (struct corner_crack_inch){{corners->at[i]}, corners->from_flaw[i]};
    }
    return inch ? guided_bend_inch(in, flaws->count, in_corners, corners->count)
                : guided_bend_mm(mm, flaws->count, mm_corners, corners->count);
}

static struct limit_answer judge_fillet(const struct bend_limit_lists *l, const struct sizes *pores,
                                        double length, bool inch)
{
    struct mm mm[CALC_ITEMS];
    struct inch in[CALC_ITEMS];
    size_t i;

    for (i = 0; i < pores->count; i++) {
        mm[i].v = pores->at[i];
        in[i].v = pores->at[i];
    }
    return inch ? fillet_break_inch(l->folded_flat, l->fused_to_root, in, pores->count,
                                    (struct inch){length})
                : fillet_break_mm(l->folded_flat, l->fused_to_root, mm, pores->count,
                                  (struct mm){length});
}

int bend_limits_judge(const struct bend_limit_lists *lists, struct bend_limit_verdicts *out,
                      struct error *e)
{
    struct sizes flaws, corners, pores;
    int system = SYSTEM_OPEN;
    double length = 0;

    memset(out, 0, sizeof *out);
    if (read_sizes("flaws", lists->flaws, &system, &flaws, e) != 0 ||
        read_sizes("corners", lists->corners, &system, &corners, e) != 0 ||
        read_sizes("pores", lists->pores, &system, &pores, e) != 0 ||
        (lists->specimen != NULL &&
         read_size("specimen", lists->specimen, &system, &length, e) != 0))
        return -1;
    out->inch = system == SYSTEM_INCH;
    out->guided = lists->flaws != NULL || lists->corners != NULL;
    out->fillet = lists->face_seen;
    if (lists->specimen == NULL)
        length = out->inch ? 6 : 150;
    if (lists->pores != NULL && !lists->face_seen)
        return error_set(e, ERROR_USAGE,
                         "pores: say fused_to_root=yes or fused_to_root=no as well");
    if (out->guided)
        out->guided_bend = judge_guided(&flaws, &corners, out->inch);
    if (out->fillet)
        out->fillet_break = judge_fillet(lists, &pores, length, out->inch);
    return 0;
}

static const char *const verdict_words[] = {
    [LIMIT_PASS] = "pass",
    [LIMIT_FAIL] = "fail",
    [LIMIT_NEW_SPECIMEN] = "new specimen",
    [LIMIT_OUTSIDE] = "outside the range of the limits",
};

static void say_verdict(struct calc_answer *a, const char *key, const char *label,
                        const struct limit_answer *l, const char *source, bool inch)
{
    calc_word(a, key, label, verdict_words[l->verdict]);
    calc_note(a, "%s, %s limits: %s.", source, inch ? "inch" : "mm", l->why);
}

void bend_limits_say(const struct bend_limit_verdicts *v, struct calc_answer *a)
{
    if (v->guided)
        say_verdict(a, "guided_bend", "Guided bend", &v->guided_bend, "AWS D1.1:2015 4.9.3.3",
                    v->inch);
    if (v->fillet)
        say_verdict(a, "fillet_break", "Fillet break", &v->fillet_break, "AWS D1.1:2010 4.31.4.1",
                    v->inch);
    if (v->guided || v->fillet)
        calc_note(a, "Check your own copy of the code: the limits belong to specimens made to it.");
}
