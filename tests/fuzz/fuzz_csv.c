/*
 * Any bytes as a file to import. Every row of a readable table is either taken or listed with a
 * reason, and what was taken comes back the same from the table written of it.
 */
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "exchange/export.h"
#include "exchange/mapping.h"
#include "fuzz.h"

static bool one_line(const char *text)
{
    return text[0] != '\0' && text_valid(text) && strchr(text, '\n') == NULL;
}

static void check_refusal(const struct error *e)
{
    must(e->kind == ERROR_INPUT);
    must(one_line(e->text));
}

static void check_notes(const struct import *i, const struct csv_table *t)
{
    must(i->coupons.count + i->rows_rejected == t->count);
    must((i->reject_count == 0) == (i->rows_rejected == 0));
    for (size_t n = 0; n < i->reject_count; n++)
        must(i->rejects[n].line > 0 && one_line(i->rejects[n].reason));
    for (size_t n = 0; n < i->note_count; n++)
        must(one_line(i->notes[n].text));
}

/* In a book every coupon has a mark; here those without get one. */
static void give_marks(struct coupon_list *list)
{
    for (size_t i = 0; i < list->count; i++)
        if (list->items[i].mark == NULL)
            list->items[i].mark = mem_format("given by the program %zu", i);
}

static bool same_text(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static void check_same(const struct coupon *a, const struct coupon *b)
{
    must(strcmp(a->mark, b->mark) == 0);
    must(same_text(a->who, b->who) && same_text(a->note, b->note));
    must(same_text(a->struck_why, b->struck_why));
    must(a->when.utc_ms == b->when.utc_ms);
    must(a->value_count == b->value_count);
    for (size_t i = 0; i < a->value_count; i++)
        must(value_same(&a->values[i], coupon_value(b, a->values[i].variable)));
}

static void check_round(const struct import *first)
{
    const char **results = mem_zero(first->variables.count, sizeof *results);
    struct import_options options = {UNITS_INCH, results, 0};
    struct variable_list builtin;
    struct csv_table table;
    struct import second;
    struct text csv = {0};
    struct error e = {0};

    variable_list_init(&builtin);
    free(export_csv(&csv, &first->coupons, &first->variables, true));
    must(csv_table_parse(text_str(&csv), csv.length, &table, &e) == 0);
    /* A result no coupon has is not in the table. */
    for (size_t i = first->own_from; i < first->variables.count; i++)
        for (size_t c = 0; c < first->coupons.count; c++)
            if (first->variables.items[i].role == ROLE_RESULT &&
                coupon_value(&first->coupons.items[c], first->variables.items[i].key) != NULL) {
                results[options.result_count++] = first->variables.items[i].key;
                break;
            }
    if (import_table(&table, &builtin, &options, &second, &e) != 0) {
        fprintf(stderr, "%s\n%s", e.text, text_str(&csv));
        abort();
    }
    must(second.rows_rejected == 0);
    must(second.coupons.count == first->coupons.count);
    for (size_t i = 0; i < first->coupons.count; i++)
        check_same(&first->coupons.items[i], &second.coupons.items[i]);
    import_free(&second);
    csv_table_free(&table);
    text_free(&csv);
    variable_list_free(&builtin);
    free(results);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const char *const result = "strength";
    struct variable_list known;
    struct csv_table table;
    struct import import;
    struct error e = {0};

    if (csv_table_parse((const char *)data, size, &table, &e) != 0) {
        check_refusal(&e);
        return 0;
    }
    variable_list_init(&known);
    for (size_t named = 0; named < 2; named++) {
        struct import_options options = {UNITS_METRIC, &result, named};

        if (import_table(&table, &known, &options, &import, &e) != 0) {
            check_refusal(&e);
            continue;
        }
        check_notes(&import, &table);
        give_marks(&import.coupons);
        if (import.coupons.count > 0)
            check_round(&import);
        import_free(&import);
    }
    variable_list_free(&known);
    csv_table_free(&table);
    return 0;
}
