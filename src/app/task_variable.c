#include "app/task_variable.h"

#include "store/journal.h"
#include "store/variables.h"

int task_variable_add(struct session *s, const struct variable *own, struct error *e)
{
    if (variable_add(&s->variables, own, e) < 0)
        return -1;
    journal_name(s->book, "making");
    if (own_variable_save(s->book, variable_find(&s->variables, own->key), e) < 0) {
        variable_drop_last(&s->variables);
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
    t = PAGE_TABLE(p, {.title = "key"}, {.title = "kind"}, {.title = "unit"},
                   {.title = "what it is"});
    for (size_t i = 0; i < s->variables.count; i++) {
        const struct variable *v = &s->variables.items[i];
        const char *unit = v->kind == VARIABLE_NUMBER ? variable_unit(v, s->units) : "";
        size_t row = PAGE_ROW(t, v->key, v->key, NULL, unit, v->help == NULL ? v->label : v->help);

        page_table_cell(t, row, 1, "%s%s", v->own ? "own " : "", kind_of(v));
    }
}
