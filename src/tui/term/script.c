#include "tui/term/script.h"

#include <assert.h>
#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"
#include "tui/term/dump.h"
#include "tui/term/term.h"

enum step_kind { STEP_KEY, STEP_PASTE, STEP_RESIZE, STEP_SAVE, STEP_SAVE_LOOKS };

struct step {
    enum step_kind kind;
    struct key key;
    int columns, rows;
    char *argument; /* file, or text to paste */
    bool replace;   /* a file that exists */
};

struct script {
    struct step *steps;
    size_t count, capacity, at;
};

static struct step *add_step(struct script *s, enum step_kind kind)
{
    s->steps = array_reserve(s->steps, &s->capacity, s->count + 1, sizeof *s->steps);
    s->steps[s->count].kind = kind;
    return &s->steps[s->count++];
}

static int read_keys(struct script *s, enum step_kind kind, char *rest, struct error *e)
{
    char *more = NULL;

    for (char *name = strtok_r(rest, " \t", &more); name != NULL;
         name = strtok_r(NULL, " \t", &more)) {
        struct key key;

        if (!key_parse(name, &key))
            return error_set(e, ERROR_INPUT, "no key is called '%s'", name);
        add_step(s, kind)->key = key;
    }
    return 0;
}

static int read_text(struct script *s, enum step_kind kind, char *rest, struct error *e)
{
    size_t count = mbstowcs(NULL, rest, 0);
    wchar_t *wide;

    if (count == (size_t)-1)
        return error_set(e, ERROR_INPUT, "this is not text in the characters of this locale");
    wide = mem_zero(count + 1, sizeof *wide);
    mbstowcs(wide, rest, count + 1);
    for (size_t i = 0; i < count; i++)
        add_step(s, kind)->key = (struct key){.code = PRESS_CHAR, .ch = wide[i]};
    free(wide);
    return 0;
}

static int read_paste(struct script *s, enum step_kind kind, char *rest, struct error *e)
{
    (void)e;
    add_step(s, kind)->argument = mem_copy(rest);
    return 0;
}

static int read_resize(struct script *s, enum step_kind kind, char *rest, struct error *e)
{
    char *end;
    long columns = strtol(rest, &end, 10), rows = *end == 'x' ? strtol(end + 1, &end, 10) : 0;
    struct step *step;

    if (columns < 1 || rows < 1 || end[strspn(end, " \t")] != '\0')
        return error_set(e, ERROR_INPUT, "'%s' is not a size such as 100x30", rest);
    if (columns > TERM_MAX_COLUMNS || rows > TERM_MAX_ROWS)
        return error_set(e, ERROR_INPUT, "'%s' is larger than %dx%d, the largest screen there is",
                         rest, TERM_MAX_COLUMNS, TERM_MAX_ROWS);
    step = add_step(s, kind);
    step->columns = (int)columns;
    step->rows = (int)rows;
    return 0;
}

static int read_save(struct script *s, enum step_kind kind, char *rest, struct error *e)
{
    static const char force[] = "--force ";
    bool replace = text_starts(rest, force);
    struct step *step;

    rest += replace ? sizeof force - 1 : 0;
    if (*rest == '\0')
        return error_set(e, ERROR_INPUT, "a file to save the screen into is to follow");
    step = add_step(s, kind);
    step->argument = mem_copy(rest);
    step->replace = replace;
    return 0;
}

static const struct {
    const char *word;
    enum step_kind kind;
    int (*read)(struct script *s, enum step_kind kind, char *rest, struct error *e);
} words[] = {
    {"key", STEP_KEY, read_keys},      {"text", STEP_KEY, read_text},
    {"paste", STEP_PASTE, read_paste}, {"resize", STEP_RESIZE, read_resize},
    {"save", STEP_SAVE, read_save},    {"save-looks", STEP_SAVE_LOOKS, read_save},
};

static int read_line(struct script *s, char *line, struct error *e)
{
    char *rest = line + strcspn(line, " \t");
    size_t length = (size_t)(rest - line);

    if (*line == '\0' || *line == '#')
        return 0;
    if (*rest != '\0')
        rest++;
    for (size_t i = 0; i < sizeof words / sizeof *words; i++)
        if (strlen(words[i].word) == length && strncmp(words[i].word, line, length) == 0)
            return words[i].read(s, words[i].kind, rest, e);
    return error_set(e, ERROR_INPUT,
                     "'%.*s' is not a step; key, text, paste, resize, save and save-looks are",
                     (int)length, line);
}

int script_load(const char *path, struct script **out, struct error *e)
{
    struct script *s = mem_zero(1, sizeof *s);
    FILE *in = fopen(path, "r");
    char *line = NULL;
    size_t capacity = 0;
    int failed = 0;

    *out = NULL;
    if (in == NULL) {
        script_free(s);
        return error_set(e, ERROR_SYSTEM, "%s: %s", path, strerror(errno));
    }
    for (int number = 1; failed == 0 && getline(&line, &capacity, in) > 0; number++) {
        line[strcspn(line, "\r\n")] = '\0';
        failed = read_line(s, line, e);
        if (failed != 0)
            error_where(e, "%s line %d", path, number);
    }
    free(line);
    fclose(in);
    if (failed != 0)
        script_free(s);
    else
        *out = s;
    return failed;
}

void script_free(struct script *s)
{
    if (s == NULL)
        return;
    for (size_t i = 0; i < s->count; i++)
        free(s->steps[i].argument);
    free(s->steps);
    free(s);
}

bool script_more(const struct script *s)
{
    return s != NULL && s->at < s->count;
}

struct key script_step(struct script *s, const char *book, struct error *e)
{
    const struct step *step;

    assert(script_more(s));
    step = &s->steps[s->at++];

    switch (step->kind) {
    case STEP_KEY:
        return step->key;
    case STEP_PASTE:
        return (struct key){.code = PRESS_PASTE, .text = step->argument};
    case STEP_RESIZE:
        term_resize(step->columns, step->rows);
        break;
    case STEP_SAVE:
    case STEP_SAVE_LOOKS:
        if (dump_screen(step->argument, book, step->replace, step->kind == STEP_SAVE_LOOKS, e) < 0)
            return (struct key){.code = PRESS_GONE};
        break;
    }
    return (struct key){.code = PRESS_NONE};
}
