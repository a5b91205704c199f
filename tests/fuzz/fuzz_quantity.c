/*
 * Any bytes as a quantity or a result cell, in every dimension and both systems. What is taken must
 * be finite, show an entry that reads back as the same value, and survive its plain form; what is
 * refused must say why in one line.
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "fuzz.h"
#include "model/variable.h"

static void check_refusal(const struct error *e)
{
    must(e->kind == ERROR_INPUT);
    must(e->text[0] != '\0' && text_valid(e->text) && strchr(e->text, '\n') == NULL);
}

static void check_shown(double value, enum dimension d)
{
    char out[128];

    for (enum unit_system s = UNITS_METRIC; s <= UNITS_INCH; s++) {
        quantity_format(out, sizeof out, value, d, s);
        must(out[0] != '\0' && text_valid(out));
    }
}

static void check_quantity(const char *text, enum dimension d, enum unit_system s)
{
    struct quantity q, again;
    struct error e = {0};

    if (quantity_parse(text, d, s, &q, &e) != 0) {
        check_refusal(&e);
        return;
    }
    must(isfinite(q.value));
    must(text_valid(q.entry));
    must(quantity_parse(q.entry, d, s, &again, &e) == 0);
    must(again.value == q.value);
    must(strcmp(again.entry, q.entry) == 0);
    check_shown(q.value, d);
}

static void check_measure(const char *text, enum dimension d, enum unit_system s)
{
    struct measure m, again;
    struct error e = {0};
    char entry[ENTRY_SIZE], plain[96], shown[256];
    const struct quantity_form as = {d, s, NULL}, metric = {d, UNITS_METRIC, NULL};

    if (measure_parse(text, &as, &m, entry, &e) != 0) {
        check_refusal(&e);
        must(!measure_known(m));
        return;
    }
    measure_format_plain(plain, sizeof plain, m);
    must(measure_parse(plain, &metric, &again, NULL, &e) == 0);
    must(measure_same(m, again));
    measure_format(shown, sizeof shown, m, d, s);
    must(text_valid(shown));
    if (entry[0] != '\0') {
        must(measure_parse(entry, &as, &again, NULL, &e) == 0);
        must(measure_same(m, again));
    }
}

static void check_judging(const char *text)
{
    char why[512];
    double value;

    if (!text_number(text, NULL, &value))
        return;
    for (size_t i = 0; i < variable_table_count; i++)
        if (variable_table[i].kind == VARIABLE_NUMBER)
            must((variable_judge(&variable_table[i], value, UNITS_INCH, why, sizeof why) ==
                  VALUE_USUAL) == (why[0] == '\0'));
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = mem_copy_part((const char *)data, size);

    for (enum dimension d = 0; d < DIMENSIONS; d++)
        for (enum unit_system s = UNITS_METRIC; s <= UNITS_INCH; s++) {
            check_quantity(text, d, s);
            check_measure(text, d, s);
        }
    check_judging(text);
    free(text);
    return 0;
}
