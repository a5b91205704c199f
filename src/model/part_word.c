#include "model/part_word.h"

#include <assert.h>
#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/mem.h"
#include "base/text.h"
#include "model/coupon.h"

/* Words from 0, which is "not known", for the user and for the book and files. Without codes the
 * number itself is kept there. */
struct word {
    const char *shown, *code;
};
static const struct word end_words[] = {[BEND_NOT_DONE] = {"not bent yet", "not_done"},
                                        [BEND_BROKE] = {"broke in two", "broke"},
                                        [BEND_TORE] = {"tore", "tore"},
                                        [BEND_HELD] = {"held to the stop", "held"}};
static const struct word direction_words[] = {
    [BEND_DIRECTION_UNKNOWN] = {"not said", "unknown"},
    [BEND_ROOT_OPENING] = {"root opening", "root_opening"},
    [BEND_FACE_OPENING] = {"face opening", "face_opening"},
    [BEND_SIDE] = {"sideways", "side"}};
static const struct word side_words[] = {{.shown = ""}, {.shown = "1"}, {.shown = "2"}};
static const struct word yes_words[] = {{.shown = "no"}, {.shown = "yes"}};

static const struct {
    const struct word *words;
    int count;
} lists[] = {
    [PART_SIDE] = {side_words, 3},
    [PART_ENDED] = {end_words, 4},
    [PART_DIRECTION] = {direction_words, 4},
    [PART_YES] = {yes_words, 2},
    [PART_WHEN] = {NULL, 0},
};

/* An enumeration is kept like an int (C11 6.7.2.2, gcc and clang: an unsigned one). */
static_assert(sizeof(enum bend_end) == sizeof(int), "read as an int");
static_assert(sizeof(enum bend_direction) == sizeof(int), "read as an int");

int part_whole(const struct part_row *row, const void *base)
{
    const void *from = (const char *)base + row->offset;

    assert(row->kind != PART_NUMBER && row->kind != PART_WHEN && !part_is_text(row));
    return row->kind == PART_YES ? *(const bool *)from : *(const int *)from;
}

void part_set_whole(const struct part_row *row, void *base, int value)
{
    void *to = (char *)base + row->offset;

    assert(row->kind != PART_NUMBER && row->kind != PART_WHEN && !part_is_text(row));
    if (row->kind == PART_YES)
        *(bool *)to = value != 0;
    else
        *(int *)to = value;
}

const char *part_word(enum part_kind kind, int value)
{
    return value < lists[kind].count ? lists[kind].words[value].shown : NULL;
}

const char *part_code(const struct part_row *row, const void *base)
{
    int value = part_whole(row, base);

    return value >= 0 && value < lists[row->kind].count ? lists[row->kind].words[value].code : NULL;
}

static int find_code(enum part_kind kind, const char *code)
{
    for (int i = 0; code != NULL && i < lists[kind].count; i++)
        if (lists[kind].words[i].code != NULL && strcmp(lists[kind].words[i].code, code) == 0)
            return i;
    return -1;
}

bool part_set_code(const struct part_row *row, void *base, const char *code)
{
    int found = find_code(row->kind, code);

    if (found >= 0)
        part_set_whole(row, base, found);
    return found >= 0;
}

/* A code as typed: "root-opening", "Root opening". */
static int find_typed_code(enum part_kind kind, const char *text)
{
    char *code = mem_copy(text);
    int found;

    for (char *c = code; *c != '\0'; c++)
        *c = *c == ' ' || *c == '-' ? '_' : (char)tolower((unsigned char)*c);
    found = find_code(kind, code);
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
    return begin == 1 ? found : find_typed_code(kind, text);
}
