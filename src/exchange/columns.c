#include "exchange/columns.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "model/refuse.h"

enum { NAME_SIZE = 128, NAME_LONGEST = 100, COLUMNS_MOST = 1000 };

#define TEXT_COLUMN(title, member, most)                                                           \
    .name = (title), .offset = offsetof(struct coupon, member), .longest = (most)

const struct coupon_column coupon_columns[COLUMN_VARIABLE] = {
    [COLUMN_MARK] = {TEXT_COLUMN("mark", mark, MARK_LONGEST)},
    [COLUMN_WHEN] = {.name = "when"},
    [COLUMN_WHO] = {TEXT_COLUMN("who", who, 200)},
    [COLUMN_NOTE] = {TEXT_COLUMN("note", note, 4000), .lines = true},
    [COLUMN_STRUCK] = {TEXT_COLUMN("struck", struck_why, 200)},
};

/* The state of planning one column. */
struct planning {
    const struct csv_table *table;
    const struct import_options *options;
    struct import *out;
    struct column_plan *plan;
    size_t column;
    char base[NAME_SIZE], unit[NAME_SIZE]; /* "Gap (in)" in two; unit "" without parentheses */
    bool category;                         /* "Plate (category)": numbers are names there */
    struct error *e;
};

void import_note(struct import *i, char *note)
{
    i->notes = array_reserve(i->notes, &i->note_capacity, i->note_count + 1, sizeof *i->notes);
    i->notes[i->note_count++] = (struct import_note){.text = note};
}

static void split_name(struct planning *p)
{
    const char *name = p->plan->name, *open = strrchr(name, '('), *close = strrchr(name, ')');
    size_t length = strlen(name);

    snprintf(p->base, sizeof p->base, "%s", name);
    p->unit[0] = '\0';
    if (open == NULL || open == name || close != name + length - 1 || close <= open + 1)
        return;
    snprintf(p->unit, sizeof p->unit, "%.*s", (int)(close - open - 1), open + 1);
    snprintf(p->base, sizeof p->base, "%.*s", (int)(open - name), name);
    text_trim(p->base);
    p->category = text_same(text_trim(p->unit), "category");
    if (p->category)
        p->unit[0] = '\0';
}

static bool any_filled(const struct planning *p)
{
    for (size_t i = 0; i < p->table->count; i++)
        if (csv_cell(&p->table->rows[i], p->column)[0] != '\0')
            return true;
    return false;
}

static bool is_named(const char *const *names, size_t count, const struct planning *p)
{
    for (size_t i = 0; i < count; i++)
        if (text_same(names[i], p->plan->name) || text_same(names[i], p->base))
            return true;
    return false;
}

static bool named_result(const struct planning *p)
{
    return is_named(p->options->results, p->options->result_count, p);
}

static bool plain_number(const char *s)
{
    const char *end;
    double value;

    return text_number(s, &end, &value) && *end == '\0';
}

bool number_is_doubtful(const char *cell, bool decimal_comma)
{
    char mark = decimal_comma ? '.' : ',';
    const char *s = cell + (*cell == '-' || *cell == '+');
    size_t digits = strspn(s, "0123456789");

    if (digits < 1 || digits > 3 || s[0] == '0' || s[digits] != mark)
        return false; /* no thousand begins with a nought */
    for (s += digits; *s == mark; s += 4)
        if (strspn(s + 1, "0123456789") != 3)
            return false;
    return true;
}

typedef bool cell_test(const struct planning *p, const struct variable *v, const char *cell);

static struct quantity_form form_of(const struct planning *p, const struct variable *v)
{
    const struct unit *own = variable_own_unit(v);

    return (struct quantity_form){own != NULL ? own->dimension : v->dimension, p->options->system,
                                  p->plan->bare};
}

static bool reads_as_number(const struct planning *p, const struct variable *v, const char *cell)
{
    struct quantity_form as = form_of(p, v);
    struct quantity q;

    if (v->dimension == DIM_NUMBER && plain_number(cell))
        return true;
    return as.dimension != DIM_NUMBER && quantity_parse_as(cell, &as, &q, NULL) == 0;
}

static bool reads_as_result(const struct planning *p, const struct variable *v, const char *cell)
{
    struct quantity_form as = form_of(p, v);
    struct measure m;

    return measure_parse(cell, &as, &m, NULL, NULL) == 0;
}

/* True when every (all) or some (not all) filled cell of the column passes. */
static bool cells_pass(const struct planning *p, const struct variable *v, cell_test *test,
                       bool all)
{
    for (size_t i = 0; i < p->table->count; i++) {
        const char *cell = csv_cell(&p->table->rows[i], p->column);

        if (cell[0] != '\0' && test(p, v, cell) != all)
            return !all;
    }
    return all;
}

/* The unit in the header, where the variable's own is not repeated. */
static int plan_unit(struct planning *p, const struct variable *v)
{
    enum dimension dimension = form_of(p, v).dimension;

    if (p->unit[0] == '\0' || text_same(p->unit, v->unit))
        return 0;
    if (v->unit != NULL && variable_own_unit(v) == NULL)
        return error_set(p->e, ERROR_INPUT, "'%s': %s is kept in %s", p->plan->name, v->label,
                         v->unit);
    p->plan->bare = unit_find(p->unit, strlen(p->unit), dimension);
    return p->plan->bare != NULL
               ? 0
               : refuse_unit(p->e, p->plan->name, p->unit, strlen(p->unit), dimension);
}

static bool not_whole(const struct planning *p, const struct variable *v, const char *cell)
{
    double number;

    (void)p;
    (void)v;
    return text_number(cell, NULL, &number) && number != floor(number);
}

/*
 * A user's own variable may be words in one table and numbers in another: nothing but words under a
 * known number are its levels here, and measured numbers (not all of them whole) under a known
 * category are numbers. Whole numbers under a category stay names, as lots and spools have them.
 */
static void plan_other_kind(struct planning *p, const struct variable *v)
{
    static const struct variable number = {.kind = VARIABLE_NUMBER, .dimension = DIM_NUMBER};
    bool numbers = any_filled(p) && cells_pass(p, &number, reads_as_number, true);

    if (!v->own || v->role != ROLE_CAUSE)
        return;
    if (v->kind == VARIABLE_NUMBER && (p->plan->words || p->category)) {
        p->plan->other_kind = true;
        p->plan->words = false;
        import_note(p->out, mem_format("column '%s': '%s' is a number elsewhere in this book; the "
                                       "words of this table count as categories",
                                       p->plan->name, v->key));
    } else if (v->kind == VARIABLE_CATEGORY && !p->category && numbers) {
        p->plan->other_kind = cells_pass(p, &number, not_whole, false);
        import_note(p->out, mem_format(p->plan->other_kind
                                           ? "column '%s': '%s' is a category elsewhere in this "
                                             "book; the numbers of this table count as numbers"
                                           : "column '%s': '%s' is a category in this book, so its "
                                             "numbers count as names; under another name they "
                                             "count as numbers",
                                       p->plan->name, v->key));
    }
}

/* A variable of the table, or one of the user's that the book knows. */
static int plan_known(struct planning *p, const struct variable *v)
{
    cell_test *test = v->role == ROLE_RESULT ? reads_as_result : reads_as_number;

    if (v->group == GROUP_DERIVED) {
        import_note(p->out, mem_format("column '%s' is left out: %s is computed; under another "
                                       "name it becomes a variable of your own",
                                       p->plan->name, v->label));
        return 0;
    }
    if (named_result(p) && v->role != ROLE_RESULT)
        return error_set(p->e, ERROR_INPUT,
                         "column '%s' cannot be a result: %s is a cause; give the column another "
                         "name",
                         p->plan->name, v->label);
    if (p->category && v->kind != VARIABLE_CATEGORY && !v->own)
        return error_set(p->e, ERROR_INPUT, "column %zu ('%s'): %s is a number, not a category",
                         p->column + 1, p->plan->name, v->label);
    if (plan_unit(p, v) != 0)
        return error_where(p->e, "column %zu", p->column + 1);
    p->plan->use = COLUMN_VARIABLE;
    p->plan->variable = (size_t)(v - p->out->variables.items);
    p->plan->words = v->kind == VARIABLE_NUMBER && any_filled(p) && !cells_pass(p, v, test, false);
    plan_other_kind(p, v);
    return 0;
}

static void say_new(struct planning *p, const struct variable *v)
{
    const char *unit = variable_unit(v, p->options->system);

    import_note(p->out,
                mem_format("column '%s' is a new variable '%s': %s%s%s%s, %s", p->plan->name,
                           v->key, v->kind == VARIABLE_NUMBER ? "number" : "category",
                           unit[0] != '\0' ? " (" : "", unit, unit[0] != '\0' ? ")" : "",
                           v->role == ROLE_RESULT ? "result" : "cause"));
    p->out->notes[p->out->note_count - 1].makes = true;
    if (v->kind == VARIABLE_CATEGORY && !p->category && cells_pass(p, v, reads_as_result, true))
        import_note(p->out, mem_format("column '%s' holds values such as 135+, which only a result "
                                       "can be; if it is one, say --result '%s'",
                                       p->plan->name, p->base));
}

/*
 * A free key made from the name; "column_3" when no letter of the name can stand in a key. A name
 * that is a key already stays what it is, so that an exported table comes back under its keys.
 */
static void make_key(const struct planning *p, const char *name, char key[NAME_SIZE])
{
    char stem[64];

    if (!variable_key_from_name(name, stem, sizeof stem))
        snprintf(stem, sizeof stem, "column_%zu", p->column + 1);
    else if (strcmp(stem, name) != 0)
        variable_key_from_name(name, stem, 44); /* leaves room for a number behind it */
    snprintf(key, NAME_SIZE, "%s", stem);
    for (int i = 2; variable_find(&p->out->variables, key) != NULL; i++)
        snprintf(key, NAME_SIZE, "%.44s_%d", stem, i);
}

static int plan_own(struct planning *p)
{
    struct variable v = {.group = GROUP_OTHER, .role = ROLE_CAUSE, .kind = VARIABLE_NUMBER};
    char key[NAME_SIZE], label[NAME_SIZE];

    if (!any_filled(p)) {
        import_note(p->out, mem_format("column '%s' is empty and left out", p->plan->name));
        return 0;
    }
    v.unit = p->unit[0] != '\0' ? p->unit : NULL;
    if (named_result(p)) {
        v.role = ROLE_RESULT;
        v.group = GROUP_RESULT;
    } else if (p->category || !cells_pass(p, &v, reads_as_number, true)) {
        v.kind = VARIABLE_CATEGORY;
        v.unit = NULL;
    }
    snprintf(label, sizeof label, "%s",
             v.kind == VARIABLE_NUMBER || p->category ? p->base : p->plan->name);
    if (variable_find(&p->out->variables, label) != NULL) /* a cause; see find_known() */
        snprintf(label, sizeof label, "%.100s, result", p->base);
    make_key(p, label, key);
    v.key = key;
    v.label = label;
    p->plan->use = COLUMN_VARIABLE;
    p->plan->variable = p->out->variables.count;
    if (variable_add(&p->out->variables, &v, p->e) != 0)
        return error_where(p->e, "column '%s'", p->plan->name);
    say_new(p, &p->out->variables.items[p->plan->variable]);
    return 0;
}

static const struct variable *find_known(const struct planning *p)
{
    const struct variable_list *all = &p->out->variables;
    const struct variable *v;

    if (named_result(p)) { /* the user's own cause stays; a result of that name is added */
        v = variable_find_result(all, p->plan->name);
        return v != NULL && v->own && v->role != ROLE_RESULT ? NULL : v;
    }
    v = variable_find(all, p->plan->name);
    if (v != NULL || (p->unit[0] == '\0' && !p->category))
        return v;
    v = variable_find(all, p->base);
    if (p->category)
        return v;
    /* A category has no unit: "(second cylinder)" behind "Gas" is part of the name. */
    return v != NULL && v->kind == VARIABLE_NUMBER ? v : NULL;
}

static bool base_shared(const struct planning *p)
{
    for (size_t i = 0; i < p->table->header.count; i++) {
        struct column_plan plan = {.name = p->table->header.cells[i]};
        struct planning other = {.plan = &plan};

        split_name(&other);
        if (i != p->column && text_same(other.base, p->base))
            return true;
    }
    return false;
}

/* "Gap (left)" and "Gap (right)" in one table are two names, not units. */
static void join_name(struct planning *p)
{
    const struct variable *known;

    if (p->unit[0] == '\0' || unit_find(p->unit, strlen(p->unit), DIMENSIONS) != NULL ||
        !base_shared(p))
        return;
    known = variable_find(&p->out->variables, p->base);
    if (known != NULL && (size_t)(known - p->out->variables.items) < p->out->own_from)
        return;
    snprintf(p->base, sizeof p->base, "%s", p->plan->name);
    p->unit[0] = '\0';
}

/* Other programs write row names in front without a name: those are the marks. */
static int plan_nameless(struct planning *p)
{
    bool marks = p->column == 0;

    if (!any_filled(p))
        return 0;
    for (size_t i = 0; i < p->table->header.count; i++)
        marks = marks && !text_same(p->table->header.cells[i], "mark");
    if (!marks)
        return error_set(p->e, ERROR_INPUT,
                         "column %zu has no name in the first row; name it or take it out",
                         p->column + 1);
    p->plan->use = COLUMN_MARK;
    p->plan->name = "mark";
    import_note(p->out, mem_copy("column 1 has no name and is taken as the mark"));
    return 0;
}

static int plan_column(struct planning *p)
{
    const struct variable *v;

    if (p->plan->name[0] == '\0')
        return plan_nameless(p);
    if (text_same(p->plan->name, "trial") || text_same(p->plan->name, "id"))
        return 0;
    for (enum column_use use = COLUMN_MARK; use < COLUMN_VARIABLE; use++)
        if (text_same(coupon_columns[use].name, p->plan->name)) {
            p->plan->use = use;
            return 0;
        }
    if (strlen(p->plan->name) > NAME_LONGEST || strpbrk(p->plan->name, "\n\r\t") != NULL)
        return error_set(p->e, ERROR_INPUT,
                         "column %zu: a name takes one line of at most %d letters", p->column + 1,
                         NAME_LONGEST);
    split_name(p);
    join_name(p);
    v = find_known(p);
    if (v != NULL && text_same(p->plan->name, v->key))
        p->unit[0] = '\0';
    return v != NULL ? plan_known(p, v) : plan_own(p);
}

static bool same_use(const struct column_plan *a, const struct column_plan *b)
{
    return a->use != COLUMN_LEFT_OUT && a->use == b->use &&
           (a->use != COLUMN_VARIABLE || a->variable == b->variable);
}

static int check_twins(const struct column_plan *plans, size_t last, struct error *e)
{
    for (size_t i = 0; i < last; i++)
        if (same_use(&plans[i], &plans[last]))
            return error_set(e, ERROR_INPUT,
                             "columns %zu ('%s') and %zu ('%s') mean the same; take one out or "
                             "rename it",
                             i + 1, plans[i].name, last + 1, plans[last].name);
    return 0;
}

static int check_results(const struct csv_table *table, const struct import_options *options,
                         struct error *e)
{
    for (size_t i = 0; i < options->result_count; i++) {
        bool found = false;

        for (size_t j = 0; j < table->header.count && !found; j++) {
            struct column_plan plan = {.name = table->header.cells[j]};
            struct planning p = {.plan = &plan};

            split_name(&p);
            found = is_named(&options->results[i], 1, &p);
        }
        if (!found)
            return error_set(e, ERROR_INPUT, "there is no column '%s' to be a result",
                             options->results[i]);
    }
    return 0;
}

int columns_plan(const struct csv_table *table, const struct import_options *options,
                 struct import *out, struct column_plan **plans, struct error *e)
{
    *plans = NULL;
    if (table->header.count > COLUMNS_MOST)
        return error_set(e, ERROR_INPUT, "%zu columns; at most %d can be read", table->header.count,
                         COLUMNS_MOST);
    if (table->header.count == 1 && strchr(table->header.cells[0], '|') != NULL)
        return error_set(
            e, ERROR_INPUT,
            "only one column, '%s'; a comma, a semicolon or a tab goes between columns",
            table->header.cells[0]);
    *plans = mem_zero(table->header.count, sizeof **plans);
    if (check_results(table, options, e) != 0)
        return -1;
    for (size_t i = 0; i < table->header.count; i++) {
        struct planning p = {.table = table,
                             .options = options,
                             .out = out,
                             .plan = &(*plans)[i],
                             .column = i,
                             .e = e};

        p.plan->name = table->header.cells[i];
        if (plan_column(&p) != 0 || check_twins(*plans, i, e) != 0)
            return -1;
    }
    return 0;
}

void columns_free(struct column_plan *plans, size_t count)
{
    for (size_t i = 0; plans != NULL && i < count; i++)
        free(plans[i].question);
    free(plans);
}
