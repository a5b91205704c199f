/* Steps of a walk through `log` and `change`. */
#include <check.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "cli/cli.h"
#include "walk.h"

struct command {
    char *argv[64], *own[64]; /* the program puts argv into another order */
    int argc;
    struct expected next;
    bool refused;
};

static void argument(struct command *c, char *words)
{
    ck_assert_int_lt(c->argc, 63);
    text_addf(&walk.said, "'%s' ", words);
    c->own[c->argc] = words;
    c->argv[c->argc++] = words;
}

static void option(struct command *c, const char *name, char *words)
{
    argument(c, mem_format("--%s", name));
    argument(c, words);
}

static void put(struct command *c, char slot[WORDS], const struct entry *e)
{
    if (e->verdict == REFUSED)
        c->refused = true;
    else
        snprintf(slot, WORDS, "%s", e->is);
}

/* "KEY=VALUE …" for a few rows that stand together. */
static void add_rows(struct command *c, struct text *line, const struct part_row *table,
                     struct rows *to)
{
    size_t count = row_count(table), from = roll(count), most = 1 + roll(4);

    for (size_t i = from; i < count && i < from + most; i++) {
        struct entry e = row_entry(&table[i]);

        text_addf(line, "%s%s=%s", line->length > 0 ? " " : "", table[i].key, e.text);
        put(c, to->is[i], &e);
    }
}

static void say_bend(struct command *c)
{
    struct rows *bend = &c->next.bend;
    struct text line = {0};
    bool gap;

    add_rows(c, &line, part_bend_rows, bend);
    option(c, "bend", text_steal(&line));
    gap = *held(part_bend_rows, bend, "gap-after") != '\0';
    if ((gap || *held(part_bend_rows, bend, "after") != '\0') &&
        strcmp(held(part_bend_rows, bend, "ended"), "0") == 0)
        c->refused = true;
    if (gap && *held(part_bend_rows, bend, "leg") == '\0')
        c->refused = true;
}

static void say_pass(struct command *c)
{
    struct expected *next = &c->next;
    size_t at = roll(next->passes + 1);
    struct text line = {0};

    if (at == WALK_PARTS)
        return;
    if (at < next->passes || roll(2))
        text_addf(&line, "number=%zu", at + 1);
    if (at == next->passes) {
        next->passes++;
        clear_rows(part_pass_rows, &next->pass[at]);
    }
    add_rows(c, &line, part_pass_rows, &next->pass[at]);
    option(c, "pass", text_steal(&line));
}

static void say_flaw(struct command *c)
{
    struct expected *next = &c->next;
    struct rows *flaw = &next->flaw[next->flaws];
    unsigned from = (unsigned)roll(10), to = from + (unsigned)roll(5);
    struct entry number = flaw_entry();
    char note[WORDS];

    if (next->flaws == WALK_PARTS)
        return;
    next->flaws++;
    snprintf(note, WORDS, "abc %zu", roll(1000));
    put(c, flaw->is[part_find(part_flaw_rows, "number") - part_flaw_rows], &number);
    snprintf(flaw->is[part_find(part_flaw_rows, "from") - part_flaw_rows], WORDS, "%a",
             (double)from);
    snprintf(flaw->is[part_find(part_flaw_rows, "to") - part_flaw_rows], WORDS, "%a", (double)to);
    snprintf(flaw->is[part_find(part_flaw_rows, "note") - part_flaw_rows], WORDS, "%s", note);
    snprintf(next->face.is[part_find(part_face_rows, "read") - part_face_rows], WORDS, "1");
    option(c, "flaw", mem_format("%u-%umm %s %s", from, to, number.text, note));
}

static void say_face(struct command *c)
{
    const struct part_row *row = part_find(part_face_rows, "face");
    struct entry e = number_entry(&row->as);

    put(c, c->next.face.is[row - part_face_rows], &e);
    snprintf(c->next.face.is[part_find(part_face_rows, "read") - part_face_rows], WORDS, "1");
    option(c, "face", mem_copy(e.text));
}

static void say_photo(struct command *c)
{
    c->next.photos++;
    option(c, "photo", mem_copy("face.jpg"));
}

static void say_clear(struct command *c)
{
    static const char *const parts[] = {"passes", "bend", "face", "all"};
    size_t part = roll(4);

    option(c, "clear", mem_copy(parts[part]));
    if (part == 0) {
        c->next.passes = 0;
    } else if (part == 1) {
        clear_rows(part_bend_rows, &c->next.bend);
    } else if (part == 2) {
        c->next.flaws = 0;
        clear_rows(part_face_rows, &c->next.face);
    } else {
        c->refused = true;
    }
}

/* Rows of the coupon and its note are said as KEY=VALUE or as an option. */
static void say_key(struct command *c, const struct part_row *row, struct rows *rows, size_t at)
{
    struct entry e = row_entry(row);

    put(c, rows->is[at], &e);
    if (roll(2))
        option(c, row->key, mem_copy(e.text));
    else
        argument(c, mem_format("%s=%s", row->key, e.text));
}

static void say_values(struct command *c)
{
    size_t at = roll(walk.variables.count), by = 1 + roll(5);

    for (size_t i = 0; i < 6 && at < walk.variables.count; i++, at += by) {
        struct entry e = value_entry(&walk.variables.items[at]);

        if (walk.variables.items[at].group == GROUP_DERIVED && !slip())
            continue;
        put(c, c->next.value[at], &e);
        argument(c, mem_format("%s=%s", walk.variables.items[at].key, e.text));
    }
}

static void say_parts(struct command *c, bool can_clear)
{
    static void (*const parts[])(struct command * c) = {say_bend, say_pass, say_pass, say_flaw,
                                                        say_flaw, say_face, say_photo};

    if (can_clear && roll(4) == 0)
        say_clear(c);
    for (size_t i = 0; i < sizeof parts / sizeof *parts; i++)
        if (roll(4) == 0)
            parts[i](c);
}

static void run_command(struct command *c)
{
    struct cli_call call = {
        .book = walk_book, .command = c->argv[0], .argc = c->argc, .argv = c->argv};
    int code;

    c->argv[c->argc] = NULL;
    code = cli_run(&call);
    hold((code != 0) == c->refused, "ended with %d", code);
    for (int i = 0; i < c->argc; i++)
        free(c->own[i]);
}

static void run_entry(struct command *c, size_t at)
{
    c->refused = c->refused || face_contradicts(&c->next, c->next.flaws);
    run_command(c);
    if (c->refused)
        return;
    walk.coupons[at] = c->next;
    walk.count += at == walk.count;
}

void walk_log(void)
{
    struct command *c = mem_zero(1, sizeof *c);

    c->next = like_last();
    argument(c, mem_copy("log"));
    say_parts(c, false);
    for (size_t i = 0; i < row_count(part_coupon_rows); i++)
        say_key(c, &part_coupon_rows[i], &c->next.coupon, i);
    say_values(c);
    run_entry(c, walk.count);
    free(c);
}

void walk_change(size_t at)
{
    struct command *c = mem_zero(1, sizeof *c);
    size_t rows = row_count(part_coupon_rows), row = roll(rows);

    c->next = walk.coupons[at];
    argument(c, mem_copy("change"));
    argument(c, mem_copy(held(part_coupon_rows, &walk.coupons[at].coupon, "mark")));
    argument(c, mem_copy("--yes")); /* something has to be said */
    say_parts(c, true);
    if (roll(3) == 0)
        say_key(c, &part_coupon_rows[row], &c->next.coupon, row);
    if (roll(3) == 0)
        say_key(c, part_note_rows, &c->next.note, 0);
    say_values(c);
    run_entry(c, at);
    free(c);
}

void walk_make(const char *what, const char *name, const char *as)
{
    struct command *c = mem_zero(1, sizeof *c);

    argument(c, mem_copy(what));
    argument(c, mem_copy(name));
    argument(c, mem_copy(as));
    run_command(c);
    free(c);
}
