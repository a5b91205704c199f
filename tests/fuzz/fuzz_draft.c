/*
 * Any bytes as a draft that was left. Everything on the card that comes of it can
 * be shown, and written as a draft again it is read back the same.
 */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "fuzz.h"
#include "model/part.h"
#include "tui/screen/draft.h"

static void show_rows(const struct part_row *rows, const void *base)
{
    char *summary = part_summary(rows, base, UNITS_INCH);

    must(summary[0] != '\0');
    free(summary);
}

static void show(const struct coupon *c, const struct variable_list *variables)
{
    char shown[512];

    show_rows(part_coupon_rows, c);
    show_rows(part_face_rows, c);
    show_rows(part_note_rows, c);
    show_rows(part_bend_rows, &c->bend);
    for (size_t i = 0; i < c->pass_count; i++)
        show_rows(part_pass_rows, &c->passes[i]);
    for (size_t i = 0; i < c->flaw_count; i++)
        show_rows(part_flaw_rows, &c->flaws[i]);
    for (size_t i = 0; i < c->photo_count; i++)
        must(c->photos[i].path != NULL);
    for (size_t i = 0; i < c->value_count; i++) {
        const struct variable *v = variable_find(variables, c->values[i].variable);

        must(v != NULL && v->group != GROUP_DERIVED && v->kind == c->values[i].kind);
        value_show(shown, sizeof shown, &c->values[i], v, UNITS_INCH);
        must(shown[0] != '\0');
    }
}

/* All of it again, as the screens would write it. */
static char *write_again(const struct draft *d)
{
    struct text accepted = {0}, typed = {0};
    char *all;

    draft_write(d, &accepted, &typed);
    for (size_t i = 0; i < MOST_ANSWERS; i++) {
        draft_line(&typed, "question", d->answers[i].question);
        draft_line(&typed, "answer", d->answers[i].text);
    }
    all = mem_format("%s" DRAFT_TYPING "\n%s", text_str(&accepted), text_str(&typed));
    text_free(&accepted);
    text_free(&typed);
    return all;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    char *text = mem_copy_part((const char *)data, size), *first, *second;
    struct variable_list variables;
    struct draft draft;

    variable_list_init(&variables);
    draft_read(&variables, text, &draft);
    show(&draft.coupon, &variables);
    first = write_again(&draft);
    draft_free(&draft);
    free(text);
    text = mem_copy(first);
    draft_read(&variables, text, &draft);
    second = write_again(&draft);
    must(strcmp(first, second) == 0);
    draft_free(&draft);
    free(text);
    free(first);
    free(second);
    variable_list_free(&variables);
    return 0;
}
