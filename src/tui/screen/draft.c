/*
 * Lines "name value"; in a value, a line feed is written \n and a backslash \\. Numbers are written
 * in hexadecimal, so that nothing is lost. The book may be somebody else's: lines this program does
 * not write are skipped.
 */
#include "tui/screen/draft.h"

#include <errno.h>
#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/text.h"
#include "model/part.h"

static char *kept_name(void)
{
    char host[256] = "";

    gethostname(host, sizeof host - 1);
    return mem_format("draft.%s", host);
}

/* Tables of the entries a coupon has only once. */
static const struct part_row *const coupon_rows[] = {part_coupon_rows, part_face_rows,
                                                     part_note_rows};

static void add_line(struct text *t, const char *name, const char *value)
{
    if (value == NULL)
        return;
    text_addf(t, "%s ", name);
    for (; *value != '\0'; value++)
        if (*value == '\n')
            text_add(t, "\\n");
        else
            text_addf(t, "%s%c", *value == '\\' ? "\\" : "", *value);
    text_add(t, "\n");
}

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

        add_line(t, line, raw);
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

    add_line(t, "value", line);
    free(line);
}

char *draft_write(const struct draft *d)
{
    const struct coupon *c = &d->coupon;
    struct text t = {0};

    add_line(&t, "id", c->id);
    add_line(&t, "trial", c->trial);
    text_addf(&t, "revision %ld\nsequence %ld\nfield %d %zu\n", c->revision, c->sequence, d->part,
              d->index);
    if (d->offered[0] != '\0')
        add_line(&t, "offered", d->offered);
    add_line(&t, "writing", d->writing);
    for (size_t i = 0; i < sizeof coupon_rows / sizeof *coupon_rows; i++)
        add_rows(&t, "coupon", coupon_rows[i], c);
    add_rows(&t, "bend", part_bend_rows, &c->bend);
    for (size_t i = 0; i < c->value_count; i++)
        add_value(&t, &c->values[i]);
    for (enum part_id id = 0; id < PARTS; id++)
        for (size_t i = 0; part_tables[id].size > 0 && i < part_count(c, id); i++) {
            text_addf(&t, "%s new\n", part_tables[id].table);
            add_rows(&t, part_tables[id].table, part_tables[id].rows, part_item(c, id, i));
        }
    return text_steal(&t);
}

int draft_keep(struct session *s, const struct draft *d, struct error *e)
{
    char *name = kept_name(), *text = draft_write(d);
    int rc = session_keep(s, name, text, e);

    free(name);
    free(text);
    return rc;
}

void draft_forget(struct session *s)
{
    char *name = kept_name();

    session_keep(s, name, NULL, NULL);
    free(name);
}

void draft_free(struct draft *d)
{
    coupon_free(&d->coupon);
    free(d->writing);
    d->writing = NULL;
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

static void read_line(const struct variable_list *variables, struct draft *d, const char *name,
                      const char *value)
{
    struct coupon *c = &d->coupon;

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
    else if (strcmp(name, "field") == 0) {
        d->part = (int)whole(value, INT_MAX);
        d->index = (size_t)whole(value + strcspn(value, " "), LONG_MAX);
    } else if (strcmp(name, "writing") == 0 && text_valid(value)) {
        free(d->writing);
        d->writing = mem_copy(value);
    } else if (strcmp(name, "value") == 0)
        read_value(variables, c, value);
    else if (strcmp(name, "pass") == 0)
        coupon_add_pass(c);
    else if (strcmp(name, "flaw") == 0)
        coupon_add_flaw(c);
    else if (strcmp(name, "photo") == 0 && *value != '\0')
        coupon_add_photo(c)->path = mem_copy(value);
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

bool draft_load(struct session *s, struct draft *out)
{
    char *name = kept_name(), *text = session_kept(s, name), none[] = "";

    draft_read(&s->variables, text == NULL ? none : text, out);
    out->kept = text != NULL;
    free(name);
    free(text);
    return out->kept;
}
