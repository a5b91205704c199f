#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "tui/form.h"

char *choice_at(const char *choices, size_t i)
{
    size_t length;

    if (choices == NULL)
        return NULL;
    for (; i > 0; i--) {
        choices = strchr(choices, '|');
        if (choices == NULL)
            return NULL;
        choices++;
    }
    length = strcspn(choices, "|");
    return mem_copy_part(choices, length);
}

static size_t choice_count(const char *choices)
{
    size_t count = 1;

    for (; *choices != '\0'; choices++)
        count += *choices == '|';
    return count;
}

/* Where `value` stands among the choices; `count` when it is none of them. */
static size_t choice_index(const char *choices, const char *value, size_t count)
{
    size_t at;

    for (at = 0; at < count; at++) {
        char *choice = choice_at(choices, at);
        bool same = text_same(choice, value);

        free(choice);
        if (same)
            break;
    }
    return at;
}

char *choice_step(const char *choices, const char *value, int by)
{
    size_t count, at;

    if (choices == NULL)
        return NULL;
    count = choice_count(choices);
    at = choice_index(choices, value, count);
    if (at == count)
        return choice_at(choices, by > 0 ? 0 : count - 1);
    return choice_at(choices, (at + (by > 0 ? 1 : count - 1)) % count);
}
