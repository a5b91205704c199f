#include "tui/hints.h"

#include <string.h>

#include "base/text.h"

static bool hinted(const struct action *a, int place)
{
    return (a->places & place) != 0 && a->key != NULL && a->hint != NULL;
}

/* How to find help and the way out is said last and always. */
static bool always(const struct action *a)
{
    return hint_is(a, "keys") || hint_is(a, "back") || hint_is(a, "quit");
}

static void add(struct text *line, const struct action *a)
{
    text_addf(line, "%s%s %s", line->length > 0 ? " · " : "", a->key, a->hint);
}

char *hint_line(int place, int columns)
{
    struct text first = {0}, last = {0};
    const struct action *a;

    for (size_t i = 0; (a = action_at(i)) != NULL; i++)
        if (hinted(a, place) && always(a))
            add(&last, a);
    for (size_t i = 0; (a = action_at(i)) != NULL; i++) {
        struct text longer = {0};

        if (!hinted(a, place) || always(a))
            continue;
        text_add(&longer, text_str(&first));
        add(&longer, a);
        if (text_width(text_str(&longer)) + 3 + text_width(text_str(&last)) <= columns) {
            text_free(&first);
            first = longer;
        } else {
            text_free(&longer);
        }
    }
    text_addf(&first, "%s%s", first.length > 0 ? " · " : "", text_str(&last));
    text_free(&last);
    return text_take(&first);
}

const struct action *hint_action(struct key k, int place)
{
    char name[16];

    key_word(k, name, sizeof name);
    return *name == '\0' ? NULL : action_for_key(name, place);
}

bool hint_is(const struct action *a, const char *id)
{
    return a != NULL && strcmp(a->id, id) == 0;
}
