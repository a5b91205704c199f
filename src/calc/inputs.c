/*
 * From "key=value" to numbers in base units, row by row of a kind's argument table.
 *
 * A bare number takes the row's unit; a bare fraction of a length is inches, as everywhere in the
 * program. Behind the value may stand its own ±, in the same or a named unit, or in %.
 */
#include "calc/inputs.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "base/mem.h"
#include "base/text.h"
#include "model/amount.h"
#include "model/variable.h"

const struct unit *calc_unit(enum dimension dimension, const char *key)
{
    if (dimension == DIM_NUMBER || key == NULL)
        return unit_base(dimension);
    return unit_find(key, strlen(key), dimension);
}

void calc_inputs_start(struct calc_inputs *in)
{
    memset(in, 0, sizeof *in);
    for (size_t i = 0; i < CALC_ARGUMENTS; i++)
        in->value[i] = NAN;
}

void calc_inputs_free(struct calc_inputs *in)
{
    for (size_t i = 0; i < CALC_ARGUMENTS; i++)
        free(in->text[i]);
    memset(in, 0, sizeof *in);
}

/* True when `word` (length bytes) is one of the words in `list`; the case of letters is ignored. */
static bool word_in(const char *list, char separator, const char *word, size_t length, size_t *at)
{
    size_t n = 0;

    while (list != NULL && *list != '\0') {
        const char *end = strchr(list, separator);
        size_t size = end == NULL ? strlen(list) : (size_t)(end - list);

        if (size == length && strncasecmp(list, word, length) == 0) {
            if (at != NULL)
                *at = n;
            return true;
        }
        n++;
        list = end == NULL ? NULL : end + 1;
    }
    return false;
}

static int unknown_argument(const struct calc_kind *kind, const char *argument, size_t length,
                            struct error *e)
{
    struct text keys = {0};

    for (size_t i = 0; kind->arguments[i].key != NULL; i++)
        text_addf(&keys, "%s%s", i == 0 ? "" : ", ", kind->arguments[i].key);
    error_set(e, ERROR_USAGE, "calc %s has no argument '%.*s'; it takes %s", kind->name,
              (int)length, argument, text_str(&keys));
    text_free(&keys);
    return -1;
}

/* -1: there is none. */
static int find_row(const struct calc_kind *kind, const char *key, size_t length)
{
    for (int i = 0; kind->arguments[i].key != NULL; i++)
        if (word_in(kind->arguments[i].key, ' ', key, length, NULL) ||
            word_in(kind->arguments[i].also, ' ', key, length, NULL))
            return i;
    return -1;
}

/* The unit a number takes that has none of its own; NULL: the number is the base value. */
static const struct unit *bare_unit(const struct calc_argument *row, bool fraction)
{
    if (row->dimension == DIM_LENGTH && fraction)
        return unit_find("in", 2, DIM_LENGTH);
    if (row->dimension == DIM_SHARE && row->unit == NULL)
        return NULL;
    return calc_unit(row->dimension, row->unit);
}

int calc_read(const struct calc_argument *row, const char *text, struct calc_reading *out,
              struct error *e)
{
    bool share = row->dimension == DIM_SHARE && row->unit == NULL, fraction;
    struct quantity q;
    const char *end;
    double bare;

    if (row->dimension == DIM_COUNT || !amount_read(text, &end, &bare, &fraction) ||
        end[strspn(end, " ")] != '\0') {
        if (quantity_parse(text, row->dimension, UNITS_METRIC, &q, e) != 0)
            return error_where(e, "%s", row->key);
        *out = (struct calc_reading){.value = q.value, .unit = q.unit};
        memcpy(out->entry, q.entry, ENTRY_SIZE);
        return 0;
    }
    if (!isfinite(bare))
        return error_set(e, ERROR_INPUT, "%s: '%s' is no number", row->key, text);
    if (share && bare > 1 && bare < 2)
        return error_set(e, ERROR_INPUT, "%s: '%s' is unclear; write 0.95 or 95%%", row->key, text);
    out->unit = bare_unit(row, fraction);
    out->value = out->unit != NULL    ? unit_to_base(out->unit, bare)
                 : share && bare <= 1 ? 100 * bare
                                      : bare;
    snprintf(out->entry, ENTRY_SIZE, "%s%s%s", text, out->unit == NULL ? "" : " ",
             out->unit == NULL ? "" : out->unit->symbol);
    return 0;
}

/* A list being read. */
struct list {
    const char *at;
    bool decimal_comma;
};

static bool between_digits(const char *text, const char *comma)
{
    return comma > text && isdigit((unsigned char)comma[-1]) && isdigit((unsigned char)comma[1]);
}

static struct list list_start(const char *text)
{
    size_t commas = 0;

    for (const char *s = text; *s != '\0'; s++)
        commas += *s == ',' && between_digits(text, s);
    return (struct list){text, strchr(text, ';') != NULL ||
                                   (commas == 1 && strpbrk(text, ".:/-") == NULL)};
}

static const char *item_end(const struct list *list)
{
    const char *s = list->at;

    while (*s != '\0' && *s != ';' &&
           !(*s == ',' && !(list->decimal_comma && between_digits(list->at, s))))
        s++;
    return s;
}

/* The next item, trimmed. False at the end, or when one is too long: then list->at is not at the
 * end of the text. */
static bool list_next(struct list *list, char item[CALC_ITEM])
{
    const char *end;
    char *trimmed;

    list->at += strspn(list->at, " ;,");
    end = item_end(list);
    if (end == list->at || (size_t)(end - list->at) >= CALC_ITEM)
        return false;
    memcpy(item, list->at, (size_t)(end - list->at));
    item[end - list->at] = '\0';
    trimmed = text_trim(item);
    memmove(item, trimmed, strlen(trimmed) + 1);
    list->at = end;
    return true;
}

int calc_list_read(const char *key, const char *text,
                   int (*take)(char *item, void *context, struct error *e), void *context,
                   struct error *e)
{
    struct list list = list_start(text == NULL ? "" : text);
    char item[CALC_ITEM];

    for (size_t n = 0; n < CALC_ITEMS && list_next(&list, item); n++)
        if (take(item, context, e) != 0)
            return -1;
    if (*list.at == '\0')
        return 0;
    return error_set(e, ERROR_INPUT,
                     "%s: at most %d, each in less than %d letters, divided by semicolons", key,
                     CALC_ITEMS, CALC_ITEM);
}

char *calc_list_word(char **text)
{
    char *word = *text + strspn(*text, " \t");

    if (*word == '\0')
        return NULL;
    *text = word + strcspn(word, " \t");
    if (**text != '\0')
        *(*text)++ = '\0';
    return word;
}

/* "0.5", "0.5 V", "2%" behind the ±: a width in base units. */
static int read_error(const struct calc_argument *row, const char *text,
                      const struct calc_reading *value, double *error, struct error *e)
{
    const struct unit *unit = value->unit;
    const char *end;
    double width;

    if (!text_number(text, &end, &width) || width < 0)
        return error_set(e, ERROR_INPUT, "%s: '±%s' is no ±; write ±0.5 or ±2%%", row->key, text);
    end += strspn(end, " ");
    if (strcmp(end, "%") == 0 && row->dimension != DIM_SHARE) {
        *error = fabs(value->value) * width / 100;
        return 0;
    }
    if (*end != '\0')
        unit = unit_find(end, strlen(end), row->dimension);
    if (*end != '\0' && unit == NULL)
        return error_set(e, ERROR_INPUT, "%s: '%s' is no unit for this ±", row->key, end);
    *error = width * (unit == NULL ? 1 : unit->scale);
    if (*end == '\0' && row->dimension == DIM_SHARE && row->unit == NULL && width <= 1)
        *error = 100 * width;
    return 0;
}

static double usual_error(const struct calc_argument *row, double value)
{
    return row->error < 0 ? -row->error * fabs(value) : row->error;
}

/* Where the ± of `text` begins, with the length of its sign; NULL when there is none. */
static char *find_error(char *text, size_t *sign)
{
    static const char *const signs[] = {"±", "+-", "+/-"};

    for (size_t i = 0; i < sizeof signs / sizeof *signs; i++) {
        char *at = strstr(text, signs[i]);

        if (at != NULL) {
            *sign = strlen(signs[i]);
            return at;
        }
    }
    return NULL;
}

/* Temperatures apart, nothing that is read off a weld is below 0; and what a coupon's card would
 * refuse is refused here. */
static int check_limits(const struct calc_argument *row, double value, const char *text,
                        struct error *e)
{
    char why[512];

    if (row->dimension != DIM_TEMPERATURE && value < 0)
        return error_set(e, ERROR_INPUT, "%s: %s cannot be, it must be 0 or more", row->key, text);
    for (size_t i = 0; row->limits != NULL && i < variable_table_count; i++)
        if (strcmp(variable_table[i].key, row->limits) == 0 &&
            variable_judge(&variable_table[i], value, UNITS_METRIC, why, sizeof why) ==
                VALUE_IMPOSSIBLE)
            return error_set(e, ERROR_INPUT, "%s", why);
    return 0;
}

static int take_quantity(struct calc_inputs *in, const struct calc_argument *row, size_t i,
                         const char *text, struct error *e)
{
    char *work = mem_copy(text), *behind = NULL;
    struct calc_reading r = {0};
    size_t sign = 0;
    char *at = find_error(work, &sign);
    int rc;

    if (at != NULL) {
        behind = text_trim(at + sign);
        *at = '\0';
    }
    rc = calc_read(row, text_trim(work), &r, e);
    if (rc == 0 && behind != NULL)
        rc = read_error(row, behind, &r, &in->error[i], e);
    else if (rc == 0)
        in->error[i] = usual_error(row, r.value);
    if (rc == 0)
        rc = check_limits(row, r.value, r.entry, e);
    if (rc == 0) {
        in->value[i] = r.value;
        in->text[i] = behind == NULL ? mem_copy(r.entry) : mem_format("%s ± %s", r.entry, behind);
    }
    free(work);
    return rc;
}

static int take_choice(struct calc_inputs *in, const struct calc_argument *row, size_t i,
                       const char *text, struct error *e)
{
    size_t at;

    if (!word_in(row->choices, '|', text, strlen(text), &at))
        return error_set(e, ERROR_INPUT, "%s: '%s' is none of %s", row->key, text, row->choices);
    in->value[i] = (double)at;
    in->text[i] = mem_copy(text);
    return 0;
}

/* Takes a value, tidied, into its row. */
static int take(struct calc_inputs *in, const struct calc_kind *kind, size_t i, const char *text,
                struct error *e)
{
    const struct calc_argument *row = &kind->arguments[i];

    if (row->type == CALC_QUANTITY)
        return take_quantity(in, row, i, text, e);
    if (row->type == CALC_CHOICE)
        return take_choice(in, row, i, text, e);
    in->text[i] = mem_copy(text);
    return 0;
}

int calc_inputs_take(struct calc_inputs *in, const struct calc_kind *kind, const char *argument,
                     struct error *e)
{
    const char *equals = strchr(argument, '=');
    char *value;
    int row, rc;

    if (equals == NULL)
        return error_set(e, ERROR_USAGE, "'%s': arguments of calc are key=value, as in %s",
                         argument, kind->example);
    row = find_row(kind, argument, (size_t)(equals - argument));
    if (row < 0)
        return unknown_argument(kind, argument, (size_t)(equals - argument), e);
    if (in->given[row])
        return error_set(e, ERROR_USAGE, "%s is given twice", kind->arguments[row].key);
    value = mem_copy(equals + 1);
    if (*text_trim(value) == '\0')
        rc = error_set(e, ERROR_INPUT, "%s: the value is missing", kind->arguments[row].key);
    else
        rc = take(in, kind, (size_t)row, text_trim(value), e);
    in->given[row] = rc == 0;
    free(value);
    return rc;
}

/* "leg|leg1 throat": the first word of a rule goes with none of the others. */
static int check_rule(const struct calc_inputs *in, const struct calc_kind *kind, char *rule,
                      struct error *e)
{
    char *at, *first = strtok_r(rule, "| ", &at), *other;
    int a = find_row(kind, first, strlen(first)), b;

    while ((other = strtok_r(NULL, "| ", &at)) != NULL) {
        b = find_row(kind, other, strlen(other));
        if (in->given[a] && in->given[b])
            return error_set(e, ERROR_USAGE, "calc %s takes %s or %s, not both", kind->name, first,
                             other);
    }
    return 0;
}

int calc_inputs_check(const struct calc_inputs *in, const struct calc_kind *kind, struct error *e)
{
    char *rules = mem_copy(kind->either), *at = NULL, *rule;
    int rc = 0;

    for (rule = rules == NULL ? NULL : strtok_r(rules, ";", &at); rule != NULL && rc == 0;
         rule = strtok_r(NULL, ";", &at))
        rc = check_rule(in, kind, rule, e);
    free(rules);
    return rc;
}

void calc_inputs_put(struct calc_inputs *in, const struct calc_kind *kind,
                     const struct calc_entry *entry)
{
    int i = find_row(kind, entry->key, strlen(entry->key));
    struct error e;

    assert(i >= 0);
    if (entry->word != NULL) {
        in->given[i] = take_choice(in, &kind->arguments[i], (size_t)i, entry->word, &e) == 0;
    } else if (!isnan(entry->value)) {
        in->value[i] = entry->value;
        in->error[i] =
            entry->error > 0 ? entry->error : usual_error(&kind->arguments[i], entry->value);
        in->given[i] = true;
    }
}

void calc_inputs_usual(struct calc_inputs *in, const struct calc_kind *kind)
{
    struct error e;

    for (size_t i = 0; kind->arguments[i].key != NULL; i++)
        if (!in->given[i] && kind->arguments[i].usual != NULL)
            take(in, kind, i, kind->arguments[i].usual, &e);
}
