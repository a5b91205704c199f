#include "app/task_variable.h"

#include "store/variables.h"

int task_variable_add(struct session *s, const struct variable *own, struct error *e)
{
    struct variable_list before = s->variables;

    if (variable_add(&s->variables, own, e) < 0)
        return -1;
    if (own_variable_save(s->book, variable_find(&s->variables, own->key), e) < 0) {
        s->variables.count = before.count;
        return -1;
    }
    return 0;
}

static const char *kind_of(const struct variable *v)
{
    if (v->group == GROUP_DERIVED)
        return "worked out";
    return v->role == ROLE_RESULT ? "result" : v->kind == VARIABLE_CATEGORY ? "category" : "number";
}

void task_variable_page(const struct session *s, struct page *p)
{
    struct block *t;

    page_add(p, BLOCK_TITLE, "What can be said about a coupon");
    t = page_add_table(p);
    page_table_column(t, "key", false, 0);
    page_table_column(t, "kind", false, 0);
    page_table_column(t, "unit", false, 0);
    page_table_column(t, "what it is", false, 0);
    for (size_t i = 0; i < s->variables.count; i++) {
        const struct variable *v = &s->variables.items[i];
        size_t row = page_table_row(t, v->key);

        page_table_cell(t, row, 0, "%s", v->key);
        page_table_cell(t, row, 1, "%s%s", v->own ? "own " : "", kind_of(v));
        page_table_cell(t, row, 2, "%s",
                        v->kind == VARIABLE_NUMBER ? variable_unit(v, s->units) : "");
        page_table_cell(t, row, 3, "%s", v->help == NULL ? v->label : v->help);
    }
}
