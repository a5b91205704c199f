/*
 * Any lines as parts of a coupon on the command line; the first letter says which: p a pass, b the
 * bend, f the face, any other a flaw. What is refused is refused in one line; what is on the coupon
 * can be shown, and is written in a form that reads back as the same.
 */
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "cli/parts.h"
#include "fuzz.h"

static void check_row(const struct part_row *row, const void *base, enum part_id id)
{
    char *shown = part_show(row, base, UNITS_INCH), *written = part_write(row, base), *again;
    struct coupon c;

    must(text_valid(shown));
    coupon_init(&c);
    if (written != NULL) {
        void *copy = part_add(&c, id);

        part_read(row, copy, written);
        again = part_write(row, copy);
        must(again != NULL && strcmp(again, written) == 0);
        free(again);
    }
    coupon_free(&c);
    free(written);
    free(shown);
}

static void check_coupon(const struct coupon *c)
{
    for (enum part_id id = 0; id < PARTS; id++)
        for (size_t i = 0; i < part_count(c, id); i++)
            for (const struct part_row *row = part_tables[id].rows; row->key != NULL; row++)
                check_row(row, part_item(c, id, i), id);
}

static void check_line(struct entry_target *t, const char *line)
{
    struct error e = {0};
    const char *rest = line + (*line != '\0');
    int rc = *line == 'p'   ? part_pass(t, rest, &e)
             : *line == 'b' ? part_bend(t, rest, &e)
             : *line == 'f' ? part_face(t, rest, &e)
                            : part_flaw(t, rest, &e);

    if (rc < 0) {
        must(e.kind == ERROR_INPUT || e.kind == ERROR_USAGE);
        must(e.text[0] != '\0' && strchr(e.text, '\n') == NULL);
    } else {
        must(e.kind == ERROR_NONE);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = mem_copy_part((const char *)data, size), *rest = text, *line;
    struct session session = {.units = size % 2 == 0 ? UNITS_METRIC : UNITS_INCH};
    struct page questions = {0};
    struct coupon c;
    struct entry_target target = {&session, &c, &questions};

    coupon_init(&c);
    variable_list_init(&session.variables);
    while ((line = strsep(&rest, "\n")) != NULL)
        check_line(&target, line);
    check_coupon(&c);
    variable_list_free(&session.variables);
    page_free(&questions);
    coupon_free(&c);
    free(text);
    return 0;
}
