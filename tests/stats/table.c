#include "table.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"

struct cells {
    char *text;  /* cut up in place */
    char **cell; /* rows × columns */
    size_t rows, columns;
};

static size_t count_of(const char *text, char wanted, const char *end)
{
    size_t count = 0;

    for (; *text != '\0' && text != end; text++)
        count += *text == wanted;
    return count;
}

static void cut(const char *text, struct cells *t)
{
    char *at = t->text = mem_copy(text);

    t->columns = 1 + count_of(text, ',', strchr(text, '\n'));
    t->rows = count_of(text, '\n', NULL) + (text[strlen(text) - 1] != '\n');
    t->cell = mem_zero(t->rows * t->columns, sizeof *t->cell);
    for (size_t i = 0; i < t->rows * t->columns; i++)
        t->cell[i] = (char *)"";
    for (size_t row = 0; row < t->rows && *at != '\0'; row++) {
        char *end = at + strcspn(at, "\n"), *next = *end == '\0' ? end : end + 1;

        *end = '\0';
        for (size_t j = 0; j < t->columns && at != NULL; j++)
            t->cell[row * t->columns + j] = strsep(&at, ",");
        at = next;
    }
}

static struct measure result(const char *cell)
{
    const char *end, *dots = strstr(cell, "..");
    double low, high;

    if (dots != NULL && text_number(cell, &end, &low) && text_number(dots + 2, &end, &high))
        return measure_between(low, high);
    if (strncmp(cell, "<=", 2) == 0 && text_number(cell + 2, &end, &high))
        return measure_at_most(high);
    if (!text_number(cell, &end, &low))
        return measure_missing();
    return *end == '+' ? measure_at_least(low) : measure_exact(low);
}

static bool numbers(const struct cells *t, size_t column)
{
    const char *end;
    double value;

    for (size_t i = 1; i < t->rows; i++) {
        const char *cell = t->cell[i * t->columns + column];

        if (*cell != '\0' && (!text_number(cell, &end, &value) || *end != '\0'))
            return false;
    }
    return true;
}

static void fill(struct frame *f, const struct cells *t, size_t row, size_t column, size_t place)
{
    const char *cell = t->cell[row * t->columns + column], *end;
    double value;

    if (*cell == '\0')
        return;
    if (f->columns[place].category)
        frame_set_level(f, row - 1, place, cell);
    else if (text_number(cell, &end, &value))
        frame_set_number(f, row - 1, place, value);
}

void table_to_frame(const char *text, double range, struct frame *out)
{
    struct cells t;
    size_t first;

    cut(text, &t);
    first = strcmp(t.cell[0], "mark") == 0;
    frame_init(out, "result", t.cell[t.columns - 1], "", range);
    for (size_t j = first; j + 1 < t.columns; j++)
        frame_add_column(out, t.cell[j], t.cell[j], "", !numbers(&t, j));
    for (size_t i = 1; i < t.rows; i++) {
        char mark[24];

        snprintf(mark, sizeof mark, "%zu", i);
        frame_add_row(out, first ? t.cell[i * t.columns] : mark,
                      result(t.cell[(i + 1) * t.columns - 1]));
        for (size_t j = first; j + 1 < t.columns; j++)
            fill(out, &t, i, j, j - first);
    }
    frame_sort_levels(out);
    free(t.cell);
    free(t.text);
}

char *table_read_file(const char *path)
{
    FILE *file = fopen(path, "r");
    struct text text = {0};
    char part[4096];
    size_t bytes;

    if (file == NULL)
        return NULL;
    while ((bytes = fread(part, 1, sizeof part, file)) > 0)
        text_add_part(&text, part, bytes);
    fclose(file);
    return text_steal(&text);
}
