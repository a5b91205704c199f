/* Steps of a walk through the keys of the card. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "tui/screen/card_form.h"
#include "tui/tui.h"
#include "walk.h"

struct writing {
    struct expected next;
    bool changed; /* something was taken: leaving is asked about */
    size_t flaws; /* on the card, with the one being written */
};

static void press(const char *keys)
{
    text_addf(&walk.said, "key %s\n", keys);
}

static void down(size_t times)
{
    press("Home");
    for (size_t i = 0; i < times; i++)
        press("Down");
}

/* Rows that can have the focus above the first one of a part, in the order of the card. */
static size_t place(const struct expected *x, enum card_part part)
{
    size_t causes = 0, results = 0, at = 0;
    const struct {
        enum card_part part;
        size_t rows;
    } parts[] = {{CARD_COUPON, row_count(part_coupon_rows)},
                 {CARD_VARIABLE, 0},
                 {CARD_ITEM + PART_PASS, x->passes + 1},
                 {CARD_BEND, row_count(part_bend_rows)},
                 {CARD_FACE, row_count(part_face_rows)},
                 {CARD_ITEM + PART_FLAW, x->flaws + 1},
                 {CARD_NOTHING, 0},
                 {CARD_ITEM + PART_PHOTO, x->photos + 1},
                 {CARD_NOTE, row_count(part_note_rows)}};

    for (size_t i = 0; i < walk.variables.count; i++) {
        causes += walk.variables.items[i].group < GROUP_RESULT;
        results += walk.variables.items[i].group == GROUP_RESULT;
    }
    for (size_t i = 0; parts[i].part != part; i++)
        at += parts[i].part == CARD_VARIABLE  ? causes
              : parts[i].part == CARD_NOTHING ? results
                                              : parts[i].rows;
    return at;
}

static size_t variable_place(const struct expected *x, size_t at)
{
    enum variable_group group = walk.variables.items[at].group;
    size_t before = place(x, group == GROUP_RESULT ? CARD_NOTHING : CARD_VARIABLE);

    for (size_t i = 0; i < walk.variables.count; i++) {
        enum variable_group other = walk.variables.items[i].group;

        if (group == GROUP_RESULT ? other == group && i < at
                                  : other < group || (other == group && i < at))
            before++;
    }
    return before;
}

/* Writes into the field that has the focus. */
static void write_field(struct writing *w, char slot[WORDS], const struct entry *e, bool choices)
{
    bool kept = e->verdict == USUAL || (e->verdict == UNUSUAL && roll(2));
    char before[WORDS];

    press(choices ? "Enter /" : "Enter");
    press("Ctrl-U");
    if (e->text[0] != '\0')
        text_addf(&walk.said, "text %s\n", e->text);
    press("Enter");
    if (e->verdict == UNUSUAL)
        press(kept ? "k" : "w");
    if (!kept) {
        press("Esc");
        return;
    }
    snprintf(before, sizeof before, "%s", slot);
    snprintf(slot, WORDS, "%s", e->is);
    if (face_contradicts(&w->next, w->flaws)) {
        press("Esc");
        snprintf(slot, WORDS, "%s", before);
        return;
    }
    w->changed = true;
}

static void write_row(struct writing *w, const struct part_row *table, struct rows *rows,
                      size_t row)
{
    struct entry e = row_entry(&table[row]);
    char *choices = part_choices(&table[row]);

    write_field(w, rows->is[row], &e, choices != NULL);
    free(choices);
}

static void write_value(struct writing *w)
{
    size_t at = roll(walk.variables.count);
    const struct variable *v = &walk.variables.items[at];
    struct entry e = value_entry(v);

    if (v->group == GROUP_DERIVED)
        return;
    down(variable_place(&w->next, at));
    if (e.text[0] == '\0' && roll(2)) {
        press("d y");
        w->next.value[at][0] = '\0';
        w->changed = true;
    } else {
        write_field(w, w->next.value[at], &e, v->choices != NULL);
    }
}

static void write_part(struct writing *w)
{
    const struct {
        enum card_part part;
        const struct part_row *table;
        struct rows *rows;
    } parts[] = {{CARD_COUPON, part_coupon_rows, &w->next.coupon},
                 {CARD_BEND, part_bend_rows, &w->next.bend},
                 {CARD_FACE, part_face_rows, &w->next.face},
                 {CARD_NOTE, part_note_rows, &w->next.note}};
    size_t i = roll(sizeof parts / sizeof *parts), row = roll(row_count(parts[i].table));

    down(place(&w->next, parts[i].part) + row);
    write_row(w, parts[i].table, parts[i].rows, row);
}

/* A few rows of a pass or a flaw in its own screen; a new one in which nothing is written goes. */
static void write_several(struct writing *w, enum card_part part, const struct part_row *table,
                          struct rows *all, size_t *count)
{
    size_t at = roll(*count + 1), rows = row_count(table);
    bool before = w->changed;

    if (at == WALK_PARTS)
        return;
    if (at < *count) {
        down(place(&w->next, part) + at);
        if (roll(3) == 0) {
            press("d y");
            memmove(&all[at], &all[at + 1], (--*count - at) * sizeof *all);
            w->changed = true;
            return;
        }
        press("Enter");
    } else {
        clear_rows(table, &all[at]);
        w->flaws += part == CARD_ITEM + PART_FLAW;
        press(part == CARD_ITEM + PART_PASS ? "p" : "f");
        w->changed = false;
    }
    for (size_t i = 1 + roll(3); i > 0; i--) {
        size_t row = roll(rows);

        down(row);
        write_row(w, table, &all[at], row);
    }
    press("Esc");
    *count += at == *count && w->changed;
    w->changed = w->changed || before;
}

static void write_pass(struct writing *w)
{
    write_several(w, CARD_ITEM + PART_PASS, part_pass_rows, w->next.pass, &w->next.passes);
}

static void write_flaw(struct writing *w)
{
    write_several(w, CARD_ITEM + PART_FLAW, part_flaw_rows, w->next.flaw, &w->next.flaws);
}

static void write_photo(struct writing *w)
{
    if (w->next.photos > 0 && roll(2)) {
        down(place(&w->next, CARD_ITEM + PART_PHOTO) + roll(w->next.photos));
        press("d y");
        w->next.photos--;
    } else {
        press("h");
        text_add(&walk.said, "text face.jpg\n");
        press("Enter");
        w->next.photos++;
    }
    w->changed = true;
}

static void play(void)
{
    struct tui_options options = {.book = walk_book, .keys = "keys"};
    FILE *keys = fopen("keys", "w");
    struct error e = {0};

    ck_assert_ptr_nonnull(keys);
    fputs(text_str(&walk.said), keys);
    fclose(keys);
    ck_assert_msg(tui_run(&options, &e) == 0, "%s", e.text);
}

/* The book takes a flaw with its number only. */
static bool flaws_cannot_be(const struct expected *x)
{
    for (size_t i = 0; i < x->flaws; i++)
        if (strcmp(held(part_flaw_rows, &x->flaw[i], "number"), "0") == 0)
            return true;
    return false;
}

/* Saves, drops what was written, or ends in the middle and goes on with the draft. */
static void leave_card(struct writing *w, size_t at)
{
    size_t way = w->changed ? roll(4) : 2;

    if (way == 0) {
        press("Esc d");
        return;
    }
    if (way == 1) {
        play();
        text_free(&walk.said);
        press("g");
    }
    press("s");
    if (flaws_cannot_be(&w->next)) {
        press("Esc d");
        return;
    }
    walk.coupons[at] = w->next;
    walk.count += at == walk.count;
}

/* `at` may be one more than there are: a new coupon. */
void walk_card(size_t at)
{
    static void (*const writes[])(struct writing * w) = {
        write_value, write_value, write_value, write_part, write_pass, write_flaw, write_photo};
    struct writing *w = mem_zero(1, sizeof *w);

    if (at < walk.count) {
        w->next = walk.coupons[at];
        down(at);
        press("Enter");
    } else {
        w->next = like_last();
        press("n");
        for (size_t i = 0; i < row_count(part_coupon_rows); i++)
            while (w->next.coupon.is[i][0] == '\0') {
                down(place(&w->next, CARD_COUPON) + i);
                write_row(w, part_coupon_rows, &w->next.coupon, i);
            }
    }
    for (size_t i = 1 + roll(12); i > 0; i--) {
        w->flaws = w->next.flaws;
        writes[roll(sizeof writes / sizeof *writes)](w);
    }
    leave_card(w, at);
    play();
    free(w);
}
