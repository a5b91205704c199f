#include "model/part_word.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/mem.h"
#include "base/text.h"
#include "model/coupon.h"

static const char *const end_words[] = {[BEND_NOT_DONE] = "not bent yet",
                                        [BEND_BROKE] = "broke in two",
                                        [BEND_TORE] = "tore",
                                        [BEND_HELD] = "held to the stop"};
static const char *const direction_words[] = {[BEND_DIRECTION_UNKNOWN] = "not said",
                                              [BEND_ROOT_OPENING] = "root opening",
                                              [BEND_FACE_OPENING] = "face opening",
                                              [BEND_SIDE] = "sideways"};
static const char *const side_words[] = {"", "1", "2"};
static const char *const yes_words[] = {"no", "yes"};

static int end_from_code(const char *code)
{
    enum bend_end end;

    return bend_end_from_code(code, &end) ? (int)end : -1;
}

static int direction_from_code(const char *code)
{
    enum bend_direction direction;

    return bend_direction_from_code(code, &direction) ? (int)direction : -1;
}

static const struct {
    const char *const *words;
    int count;
    int (*from_code)(const char *code); /* NULL: the book has the number itself */
} lists[] = {
    [PART_SIDE] = {side_words, 3, NULL},
    [PART_ENDED] = {end_words, 4, end_from_code},
    [PART_DIRECTION] = {direction_words, 4, direction_from_code},
    [PART_YES] = {yes_words, 2, NULL},
};

int part_whole(const struct part_row *row, const void *base)
{
    const void *from = (const char *)base + row->offset;

    if (row->kind == PART_YES)
        return *(const bool *)from;
    if (row->kind == PART_ENDED)
        return (int)*(const enum bend_end *)from;
    if (row->kind == PART_DIRECTION)
        return (int)*(const enum bend_direction *)from;
    return *(const int *)from;
}

void part_set_whole(const struct part_row *row, void *base, int value)
{
    void *to = (char *)base + row->offset;

    if (row->kind == PART_YES)
        *(bool *)to = value != 0;
    else if (row->kind == PART_ENDED)
        *(enum bend_end *)to = (enum bend_end)value;
    else if (row->kind == PART_DIRECTION)
        *(enum bend_direction *)to = (enum bend_direction)value;
    else
        *(int *)to = value;
}

const char *part_word(enum part_kind kind, int value)
{
    return value < lists[kind].count ? lists[kind].words[value] : NULL;
}

/* Codes are written in small letters and with underscores. */
static int find_code(enum part_kind kind, const char *text)
{
    char *code = mem_copy(text);
    int found = -1;

    for (char *c = code; *c != '\0'; c++)
        *c = *c == ' ' || *c == '-' ? '_' : (char)tolower((unsigned char)*c);
    if (lists[kind].from_code != NULL)
        found = lists[kind].from_code(code);
    free(code);
    return found;
}

int part_word_find(enum part_kind kind, const char *text)
{
    int found = -1, begin = 0;
    const char *word;

    for (int i = 0; (word = part_word(kind, i)) != NULL; i++) {
        if (text_same(word, text))
            return i;
        if (*text != '\0' && strncasecmp(word, text, strlen(text)) == 0) {
            found = i;
            begin++;
        }
    }
    return begin == 1 ? found : find_code(kind, text);
}
