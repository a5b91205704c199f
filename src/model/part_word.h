/* The rows of parts that hold one of a few words, and the whole number kept for it. */
#ifndef MODEL_PART_WORD_H
#define MODEL_PART_WORD_H

#include "model/part.h"

/* The word for a value, from 0, which is "not known"; NULL behind the last and where a row has no
 * words of its own. */
const char *part_word(enum part_kind kind, int value);
/* The value meant by a word, by its beginning while only one begins so, or by the code the book has
 * for it ("root_opening", "root-opening"); -1 when there is none. */
int part_word_find(enum part_kind kind, const char *text);

#endif
