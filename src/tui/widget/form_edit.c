#include "tui/widget/form_edit.h"

#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"
#include "tui/widget/prompt.h"

/* Asks about an unusual value. */
static bool keeps_it(struct ui *ui, const char *question)
{
    static const struct choice answers[] = {{L'k', "keep it, it is right"},
                                            {L'w', "write it again"}};

    return prompt_pick(ui, question, answers, 2, 0) == 0;
}

static void hand_over(struct ui *ui, struct form *f, const struct edit_owner *edit, void *owner,
                      int rows)
{
    struct field field = *form_field(f);
    char *text = mem_copy(line_text(&f->line)), *trimmed = text_trim(text);
    struct error e = {0};
    struct intake in = {.units = ui->session.units, .error = &e};
    int rc = edit->set_from_text(owner, &field, trimmed, &in);

    if (rc == 0 && intake_asks(&in)) {
        in.sure = keeps_it(ui, in.question);
        rc = in.sure ? edit->set_from_text(owner, &field, trimmed, &in) : 1;
    }
    free(text);
    if (rc < 0) {
        form_refuse(f, e.text);
    } else if (rc == 0) {
        form_accept(f, rows);
        edit->fill(owner);
    }
}

/* The choices of a field, and a last one for writing something else. */
static size_t list_choices(const struct field *field, struct choice **out)
{
    size_t count = 0, capacity = 0;
    char *text;

    *out = NULL;
    while ((text = choice_at(field->choices, count)) != NULL) {
        *out = array_reserve(*out, &capacity, count + 1, sizeof **out);
        (*out)[count++] = (struct choice){0, text};
    }
    *out = array_reserve(*out, &capacity, count + 1, sizeof **out);
    (*out)[count] = (struct choice){L'/', "write something else, or nothing"};
    return count;
}

static size_t index_of(const struct choice *choices, size_t count, const char *value)
{
    for (size_t i = 0; i < count; i++)
        if (text_same(choices[i].text, value))
            return i;
    return 0;
}

/* Shows the choices. True if one was chosen; the line then holds it. */
static bool choose(struct ui *ui, struct form *f)
{
    const struct field *field = form_field(f);
    struct choice *choices;
    size_t count = list_choices(field, &choices);
    int chosen =
        prompt_pick(ui, field->label, choices, count + 1, index_of(choices, count, field->value));

    if (chosen >= 0)
        form_write(f, (size_t)chosen < count ? choices[chosen].text : NULL);
    for (size_t i = 0; i < count; i++)
        free((char *)choices[i].text);
    free(choices);
    return chosen >= 0 && (size_t)chosen < count;
}

enum form_event edit_key(struct ui *ui, struct form *f, const struct edit_owner *edit, void *owner,
                         struct key k, int rows)
{
    enum form_event event;

    f->locked = session_read_only(&ui->session) != NULL;
    event = form_key(f, k, rows);
    if (event == FORM_LOCKED) {
        ui_read_only(ui);
        event = FORM_USED;
    }
    if (event == FORM_CHOOSE)
        event = choose(ui, f) ? FORM_WRITTEN : FORM_USED;
    if (event == FORM_WRITTEN) {
        hand_over(ui, f, edit, owner, rows);
        event = FORM_USED;
    }
    return event;
}
