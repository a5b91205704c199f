/*
 * Lines "name value" as draft_line() writes them. Numbers are written in hexadecimal, so that
 * nothing is lost. The text may be somebody else's: lines this program does not write are skipped.
 */
#include "tui/screen/draft.h"

#include <errno.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "model/part.h"

/* Tables of the entries a coupon has only once. */
static const struct part_row *const coupon_rows[] = {part_coupon_rows, part_face_rows,
                                                     part_note_rows};

static void undo_escapes(char *s)
{
    char *to = s;

    for (; *s != '\0'; s++)
        if (*s != '\\')
            *to++ = *s;
        else if (s[1] != '\0')
            *to++ = *++s == 'n' ? '\n' : *s;
    *to = '\0';
}

static void add_rows(struct text *t, const char *name, const struct part_row *rows,
                     const void *base)
{
    for (size_t i = 0; rows[i].key != NULL; i++) {
        char *raw = part_write(&rows[i], base), *line = mem_format("%s.%s", name, rows[i].member);

        draft_line(t, line, raw);
        free(raw);
        free(line);
    }
}

static void add_value(struct text *t, const struct value *v)
{
    char *line =
        mem_format("%s %s %a %a %s", v->variable,
                   v->kind == VARIABLE_CATEGORY ? "category" : measure_kind_code(v->measure.kind),
                   v->measure.low, v->measure.high, v->text == NULL ? "" : v->text);

    draft_line(t, "value", line);
    free(line);
}

static void add_parts(struct text *t, const struct coupon *c)
{
    for (enum part_id id = 0; id < PARTS; id++)
        for (size_t i = 0; part_tables[id].size > 0 && i < part_count(c, id); i++) {
            text_addf(t, "%s new\n", part_tables[id].table);
            add_rows(t, part_tables[id].table, part_tables[id].rows, part_item(c, id, i));
        }
}

void draft_write(const struct draft *d, struct text *accepted, struct text *typed)
{
    const struct coupon *c = &d->coupon;

    draft_line(accepted, "id", c->id);
    draft_line(accepted, "trial", c->trial);
    text_addf(accepted, "revision %ld\nsequence %ld\n", c->revision, c->sequence);
    draft_line(accepted, "struck", c->struck_why);
    if (d->offered[0] != '\0')
        draft_line(accepted, "offered", d->offered);
    for (size_t i = 0; i < sizeof coupon_rows / sizeof *coupon_rows; i++)
        add_rows(accepted, "coupon", coupon_rows[i], c);
    add_rows(accepted, "bend", part_bend_rows, &c->bend);
    for (size_t i = 0; i < c->value_count; i++)
        add_value(accepted, &c->values[i]);
    add_parts(accepted, c);
    if (d->writing == NULL)
        return;
    text_addf(typed, "field %d %zu %zu\n", d->part, d->index, d->row);
    draft_line(typed, "writing", d->writing);
}

static void forget_typed(struct draft *d)
{
    free(d->writing);
    d->writing = NULL;
    d->part = 0;
    d->index = 0;
    d->row = 0;
    for (size_t i = 0; i < MOST_ANSWERS; i++)
        answer_set(&d->answers[i], NULL, NULL);
}

void draft_free(struct draft *d)
{
    coupon_free(&d->coupon);
    forget_typed(d);
}

/* 0 unless the text begins with a whole number from 0 to `max`. */
static long whole(const char *text, long max)
{
    char *end;
    long number;

    errno = 0;
    number = strtol(text, &end, 10);
    return end == text || errno != 0 || number < 0 || number > max ? 0 : number;
}

static bool within(double x, const struct variable *v)
{
    return isinf(x) || range_holds(v->can, x);
}

static bool fits(struct measure m, const struct variable *v)
{
    struct measure sound = m.kind == MEASURE_EXACT      ? measure_exact(m.low)
                           : m.kind == MEASURE_AT_LEAST ? measure_at_least(m.low)
                           : m.kind == MEASURE_AT_MOST  ? measure_at_most(m.high)
                                                        : measure_between(m.low, m.high);

    return measure_same(m, sound) && isfinite(measure_point(m)) &&
           (v->role == ROLE_RESULT || m.kind == MEASURE_EXACT) && within(m.low, v) &&
           within(m.high, v);
}

/* "KEY KIND LOW HIGH TEXT" */
static void read_value(const struct variable_list *variables, struct coupon *c, const char *line)
{
    char key[128], kind[32], *end;
    const struct variable *v;
    struct measure m;
    int used = 0;

    if (sscanf(line, "%127s %31s %n", key, kind, &used) != 2 || used == 0)
        return;
    v = variable_find(variables, key);
    m.low = strtod(line + used, &end);
    m.high = strtod(end, &end);
    end += *end == ' ';
    if (v == NULL || v->group == GROUP_DERIVED)
        return;
    if (strcmp(kind, "category") == 0 && v->kind == VARIABLE_CATEGORY)
        coupon_set_from_text(c, v, end, &(struct intake){.units = UNITS_METRIC});
    else if (measure_kind_from_code(kind, &m.kind) && v->kind == VARIABLE_NUMBER && fits(m, v) &&
             strlen(end) < ENTRY_SIZE && text_valid(end) && strchr(end, '\n') == NULL)
        coupon_set_number(c, v->key, m, end);
}

static void read_row(const char *key, const char *value, const struct part_row *rows, void *base)
{
    for (size_t i = 0; rows[i].key != NULL; i++)
        if (strcmp(rows[i].member, key) == 0)
            part_read(&rows[i], base, value);
}

/* "coupon.KEY" or "PART.KEY": an entry of the coupon, its bend, or the part that was added last. */
static void read_dotted(struct coupon *c, const char *name, const char *value)
{
    size_t length = strcspn(name, ".");
    const char *key = name + length + 1;

    for (size_t i = 0; i < sizeof coupon_rows / sizeof *coupon_rows; i++)
        if (text_starts(name, "coupon."))
            read_row(key, value, coupon_rows[i], c);
    for (enum part_id id = 0; id < PARTS; id++) {
        const struct part_table *part = &part_tables[id];
        size_t count = part->size > 0 ? part_count(c, id) : 1;

        if (strlen(part->table) == length && text_starts(name, part->table) && count > 0)
            read_row(key, value, part->rows, part_item(c, id, count - 1));
    }
}

static void read_field(struct draft *d, const char *value)
{
    d->part = (int)whole(value, INT_MAX);
    value += strcspn(value, " ");
    d->index = (size_t)whole(value, LONG_MAX);
    value += strspn(value, " ");
    d->row = (size_t)whole(value + strcspn(value, " "), LONG_MAX);
}

/* The answer stands behind its question. */
static void read_answer(struct draft *d, const char *name, const char *value)
{
    struct answer *a = d->answers;
    bool question = strcmp(name, "question") == 0;

    while (a < d->answers + MOST_ANSWERS && a->question != NULL && (question || a->text != NULL))
        a++;
    if (a == d->answers + MOST_ANSWERS || !text_valid(value))
        return;
    if (question)
        answer_set(a, value, NULL);
    else if (a->question != NULL)
        a->text = mem_copy(value);
}

static bool read_typed(struct draft *d, const char *name, const char *value)
{
    if (strcmp(name, DRAFT_TYPING) == 0) {
        forget_typed(d);
    } else if (strcmp(name, "field") == 0) {
        read_field(d, value);
    } else if (strcmp(name, "question") == 0 || strcmp(name, "answer") == 0) {
        read_answer(d, name, value);
    } else if (strcmp(name, "writing") == 0) {
        free(d->writing);
        d->writing = text_valid(value) ? mem_copy(value) : NULL;
    } else {
        return false;
    }
    return true;
}

static void read_line(const struct variable_list *variables, struct draft *d, const char *name,
                      const char *value)
{
    struct coupon *c = &d->coupon;

    if (read_typed(d, name, value))
        return;
    if (strchr(name, '.') != NULL)
        read_dotted(c, name, value);
    else if (strcmp(name, "id") == 0)
        snprintf(c->id, sizeof c->id, "%s", value);
    else if (strcmp(name, "trial") == 0)
        snprintf(c->trial, sizeof c->trial, "%s", value);
    else if (strcmp(name, "offered") == 0)
        snprintf(d->offered, sizeof d->offered, "%s", value);
    else if (strcmp(name, "revision") == 0)
        c->revision = whole(value, LONG_MAX);
    else if (strcmp(name, "sequence") == 0)
        c->sequence = whole(value, LONG_MAX);
    else if (strcmp(name, "value") == 0)
        read_value(variables, c, value);
    else if (strcmp(name, "pass") == 0)
        coupon_add_pass(c);
    else if (strcmp(name, "flaw") == 0)
        coupon_add_flaw(c);
    else if (strcmp(name, "photo") == 0 && *value != '\0')
        coupon_add_photo(c)->path = mem_copy(value);
    else if (strcmp(name, "struck") == 0 && c->struck_why == NULL && text_valid(value))
        c->struck_why = mem_copy(value);
}

void draft_read(const struct variable_list *variables, char *text, struct draft *out)
{
    char *more = NULL;

    memset(out, 0, sizeof *out);
    coupon_init(&out->coupon);
    for (char *line = strtok_r(text, "\n", &more); line != NULL;
         line = strtok_r(NULL, "\n", &more)) {
        char *value = line + strcspn(line, " ");

        if (*value != '\0')
            *value++ = '\0';
        undo_escapes(value);
        read_line(variables, out, line, value);
    }
}
