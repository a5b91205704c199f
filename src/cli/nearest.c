/* Edit distance with swaps of neighbours (optimal string alignment), over short words. */
#include "cli/nearest.h"

#include <ctype.h>
#include <string.h>

enum { LONGEST = 40 };

static int letter(const char *s, size_t i)
{
    return s[i] == '-' ? '_' : tolower((unsigned char)s[i]);
}

static int smaller(int a, int b)
{
    return a < b ? a : b;
}

static int distance(const char *a, const char *b)
{
    int d[LONGEST + 1][LONGEST + 1];
    size_t m = strlen(a), n = strlen(b);

    if (m > LONGEST || n > LONGEST)
        return LONGEST;
    for (size_t i = 0; i <= m; i++)
        d[i][0] = (int)i;
    for (size_t j = 0; j <= n; j++)
        d[0][j] = (int)j;
    for (size_t i = 1; i <= m; i++)
        for (size_t j = 1; j <= n; j++) {
            int change = letter(a, i - 1) != letter(b, j - 1);

            d[i][j] = smaller(smaller(d[i - 1][j], d[i][j - 1]) + 1, d[i - 1][j - 1] + change);
            if (i > 1 && j > 1 && letter(a, i - 1) == letter(b, j - 2) &&
                letter(a, i - 2) == letter(b, j - 1))
                d[i][j] = smaller(d[i][j], d[i - 2][j - 2] + 1);
        }
    return d[m][n];
}

void nearest_try(struct nearest *n, const char *typed, const char *word)
{
    int changes = distance(typed, word);
    int max = (int)strlen(typed) / 3; /* more changes make it another word */

    if (changes > (max < 1 ? 1 : max) || (n->word != NULL && changes >= n->changes))
        return;
    n->word = word;
    n->changes = changes;
}
