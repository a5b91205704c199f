#include "app/commands.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "model/part.h"

/* A row takes a few lines, not one a field. */
/* clang-format off */
#define OPTIONS(...) (const struct command_option[]){__VA_ARGS__, {.name = NULL}}

#define TRIAL {.name = "trial", .argument = "NAME", \
               .help = "the trial; without it, the one logged into last"}
#define JSON {.name = "json", .help = "print one JSON object instead of text"}
#define RESULT {.name = "result", .argument = "NAME", \
                .help = "the result to judge by; without it, the one that decides the trial"}
#define WITHOUT {.name = "without", .argument = "VARIABLE", .repeats = true, \
                 .help = "leave this variable out"}
#define STRUCK {.name = "struck", .help = "coupons that were struck out as well"}
#define NOTE {.name = "note", .argument = "TEXT", .help = "a free note"}

/* What `log` and `change` can set of a coupon beside its variables. */
#define COUPON_OPTIONS(pass, bend, flaw, without_mark, without_when) \
    {.name = "pass", .argument = "\"KEY=VALUE ...\"", .repeats = true, .help = (pass), \
     .rows = part_pass_rows}, \
    {.name = "bend", .argument = "\"KEY=VALUE ...\"", .help = (bend), .rows = part_bend_rows}, \
    {.name = "face", .argument = "LENGTH", .rows = part_face_rows}, \
    {.name = "flaw", .argument = "\"FROM-TO NUMBER [NOTE]\"", .repeats = true, .help = (flaw)}, \
    {.name = "photo", .argument = "FILE", .repeats = true, .help = "attach a photograph"}, \
    {.name = "mark", .argument = "MARK", .rows = part_coupon_rows, .help = (without_mark)}, \
    {.name = "when", .argument = "TIME", .rows = part_coupon_rows, .help = (without_when)}, \
    {.name = "who", .argument = "NAME", .rows = part_coupon_rows}, \
    {.name = "note", .argument = "TEXT", .rows = part_note_rows}, \
    {.name = "yes", .help = "do not ask about unusual values"}

const struct command_option command_global_options[] = {
    {.name = "book", .argument = "FILE",
     .help = "the book; else COLDLAP_BOOK, else coldlap/book.coldlap in the data directory"},
    {.name = "units", .argument = "metric|inch", .help = "show numbers in these units, this once"},
    {.name = "keys", .argument = "FILE", .help = "read keys for the screens from a script"},
    {.name = "help", .help = "say what coldlap, or one command, does"},
    {.name = "version", .help = "print the version"},
    {.name = NULL},
};

#define BY_MARK "A mark that several trials have is looked for in the trial logged into last; " \
                "TRIAL/MARK says which."

static const struct command_usage commands[] = {
    {.name = "log", .arguments = "[KEY=VALUE]...", .summary = "log a coupon",
     .detail = "The coupon starts as a copy of the last one of its trial; say only what changed. "
               "Values take the units people write (5/16in, .045in, 11 ga, 250F, 12 ipm); a bare "
               "number takes the book's units. 'bend_angle=135+' means at least 135: folded to "
               "the stop and unbroken.",
     .options = OPTIONS(
         TRIAL,
         COUPON_OPTIONS("a pass", "the bend",
                        "a flaw on the face, from and to along the bead, with its ISO 6520-1 "
                        "number",
                        "without it the next free one", "without it, now"),
         {.name = "fresh", .help = "start empty instead of from the last coupon"}),
     .example = "coldlap log sides=both volts=18.5V bend_angle=135+"},
    {.name = "change", .arguments = "MARK [KEY=VALUE]...", .summary = "change a logged coupon",
     .detail = "KEY= with nothing behind it takes the value away. What was there before is kept "
               "in the book's history. " BY_MARK,
     .options = OPTIONS(
         COUPON_OPTIONS("add a pass, or with number=N change that one", "set what is given of it",
                        "add a flaw", NULL, NULL),
         {.name = "to-trial", .argument = "NAME", .help = "put it into this trial"},
         {.name = "clear", .argument = "passes|bend|face", .repeats = true,
          .help = "take this away first"}),
     .example = "coldlap change 03 preheat=120C"},
    {.name = "list", .summary = "list the coupons of a trial",
     .options = OPTIONS(TRIAL, STRUCK, JSON), .example = "coldlap list"},
    {.name = "show", .arguments = "MARK", .summary = "show one coupon with its figures",
     .detail = BY_MARK, .options = OPTIONS(JSON), .example = "coldlap show 03"},
    {.name = "strike", .arguments = "[MARK]",
     .summary = "strike a coupon or a trial out, with a reason",
     .detail = "It stays in the book and can come back; it no longer counts. A trial is struck out "
               "with its coupons, and its name is free then. " BY_MARK,
     .options = OPTIONS(
         {.name = "trial", .argument = "NAME", .help = "this trial, instead of a coupon"},
         {.name = "why", .argument = "TEXT", .help = "the reason; it is kept"}),
     .example = "coldlap strike 03 --why 'wrong wire on the spool'"},
    {.name = "restore", .arguments = "[MARK]",
     .summary = "bring a struck-out coupon or trial back",
     .detail = "A trial comes back with the coupons that were struck out with it. " BY_MARK,
     .options = OPTIONS(
         {.name = "trial", .argument = "NAME", .help = "this trial, instead of a coupon"}),
     .example = "coldlap restore 03"},
    {.name = "history", .arguments = "[MARK]", .summary = "show what was done in the book",
     .detail = "Who did what when, at which bench; of a coupon also what changed, from and to. "
               "The last 20 changes are shown. A change that was undone is listed as well, and a "
               "coupon it had made is found by its mark. " BY_MARK,
     .options = OPTIONS({.name = "all", .help = "every change, not only the last 20"}, JSON),
     .example = "coldlap history 03"},
    {.name = "undo", .arguments = "[NUMBER]", .summary = "undo the last change, or one by number",
     .detail = "Without NUMBER the last change made at this bench; 'coldlap history' shows the "
               "numbers. It is refused when the same coupon, trial, variable or setting was "
               "changed after it: undo that change first. What is undone stays in the history and "
               "can be redone.",
     .example = "coldlap undo"},
    {.name = "redo", .arguments = "[NUMBER]",
     .summary = "do a change again that was undone",
     .detail = "Without NUMBER the change undone last at this bench.",
     .example = "coldlap redo 12"},
    {.name = "import", .arguments = "FILE", .summary = "bring in coupons from a CSV table",
     .detail = "One row a coupon, the first row names the columns: keys of the variable table, "
               "'key (unit)', or names of your own, which become your own variables. '135+' means "
               "at least, '<=40' at most, '40..60' between, empty missing. Nothing comes in "
               "unless all rows are good. '-' reads standard input.",
     .options = OPTIONS(
         TRIAL,
         {.name = "result", .argument = "NAME", .repeats = true, .help = "this column is a result"},
         {.name = "skip-bad", .help = "bring in the good rows even when some are bad"}),
     .example = "coldlap import --trial benches --result strength coupons.csv"},
    {.name = "export", .arguments = "[FILE]", .summary = "hand out the coupons of a trial",
     .detail = "Without FILE, or with '-', to standard output. A FILE that is there already is "
               "left alone unless --force is given; a book or another database always is.",
     .options = OPTIONS(
         TRIAL,
         {.name = "format", .argument = "csv|json",
          .help = "csv is one row a coupon; json has everything"},
         STRUCK, {.name = "force", .help = "replace FILE when it is there already"}),
     .example = "coldlap export"},
    {.name = "rank", .summary = "rank the variables by what they did to the result",
     .detail = "Says which change made the difference, by how much, how sure that is, and what "
               "cannot be told apart.",
     .options = OPTIONS(
         TRIAL, RESULT,
         {.name = "with", .argument = "VARIABLE", .repeats = true,
          .help = "rank this derived variable instead of those it is worked out from"},
         WITHOUT,
         {.name = "anyway",
          .help = "also show each effect weighed with the chance that there is none"},
         {.name = "shuffle", .argument = "COUNT",
          .help = "a second opinion from shuffling the coupons this many times"},
         JSON),
     .example = "coldlap rank"},
    {.name = "next", .summary = "say which coupons to weld next",
     .options = OPTIONS(
         TRIAL, RESULT, WITHOUT,
         {.name = "count", .argument = "N", .help = "how many coupons, 1 to 12"}, JSON),
     .example = "coldlap next --count 2"},
    {.name = "compare", .arguments = "[VARIABLE [LEVEL LEVEL]]",
     .summary = "put two levels of one variable, or two groups of coupons, side by side",
     .detail = "Either VARIABLE, with two of its levels or all, or --coupons 01,02 --against "
               "03,04.",
     .options = OPTIONS(
         TRIAL, RESULT,
         {.name = "coupons", .argument = "MARKS",
          .help = "compare these coupons (marks with commas between)"},
         {.name = "against", .argument = "MARKS", .help = "with these"}, JSON),
     .example = "coldlap compare sides"},
    {.name = "trial", .arguments = "[NAME]", .summary = "list the trials, or make or change one",
     .options = OPTIONS(
         {.name = "rename", .argument = "NEW", .help = "call it so from now on"},
         {.name = "struck", .help = "list the trials that were struck out as well"},
         {.name = "question", .argument = "TEXT", .help = "what the trial is to answer"},
         {.name = "result", .argument = "NAME", .help = "the result that decides it"},
         {.name = "stop", .argument = "ANGLE", .help = "the bend angle at which folding ends"},
         {.name = "levels", .argument = "VARIABLE=A,B,...", .repeats = true,
          .help = "a variable under trial and the levels at hand"},
         NOTE),
     .example = "coldlap trial"},
    {.name = "variable", .arguments = "[NAME]",
     .summary = "list the variables, or make one of your own",
     .options = OPTIONS(
         {.name = "unit", .argument = "UNIT",
          .help = "a number in this unit; without it a category"},
         {.name = "number", .help = "a bare number, without unit"},
         {.name = "result", .help = "a result, not a cause"},
         {.name = "help-text", .argument = "TEXT", .help = "how it is measured"}),
     .example = "coldlap variable"},
    {.name = "calc", .arguments = "KIND [KEY=VALUE]...",
     .summary = "work out a figure of the trade: heat, cooling, carbon, preheat, fillet, hinge, "
                "bend, wire, duty, stock",
     .detail = "'calc KIND --help' shows its arguments, formula and source.",
     .options = OPTIONS(JSON),
     .example = "coldlap calc heat volts=20 amps=300 speed=150 process=135"},
    {.name = "feed", .arguments = "[MACHINE DIAL LENGTH TIME]",
     .summary = "keep what a dial position really feeds, or list it",
     .detail = "Let the wire run for some seconds at a dial position, without an arc, and measure "
               "what came out: 'coldlap feed blue 3 410mm 6s'. Readings are kept per machine; "
               "'coldlap calc wire machine=blue dial=3.5' reads between them, with the "
               "uncertainty.",
     .options = OPTIONS(NOTE), .example = "coldlap feed"},
    {.name = "units", .arguments = "[metric|inch]",
     .summary = "say which units the book shows, or switch them",
     .detail = "Stored values do not change.", .example = "coldlap units"},
    {.name = "demo", .arguments = "[FILE]", .summary = "make a book with an invented trial",
     .example = "coldlap demo demo.coldlap"},
    {.name = "check", .summary = "check the book", .example = "coldlap check"},
    {.name = "backup", .arguments = "FILE", .summary = "copy the book, also while it is in use",
     .example = "coldlap backup /media/stick/book.coldlap"},
    {.name = "backups", .summary = "list the automatic backups of the book",
     .detail = "One is made before the first change of a day, and before an older book is brought "
               "up to date. 'man 5 coldlap' says where, and how long they are kept.",
     .example = "coldlap backups"},
    {.name = "put-back", .arguments = "FILE", .summary = "take a backup in place of the book",
     .detail = "FILE is any book that is in order; it stays. The book that was there is kept beside "
               "the new one under another name. Do not copy over a book by hand: what a crash has "
               "left beside it would be written into the copy.",
     .example = "coldlap put-back /media/stick/book.coldlap"},
    {.name = "recover", .arguments = "NEWFILE", .summary = "make a new book of what can be read of a damaged one",
     .detail = "Says what is missing. The damaged book stays as it is; 'coldlap put-back NEWFILE' "
               "takes the new one in its place.",
     .example = "coldlap recover recovered.coldlap"},
    {.name = "help", .arguments = "[COMMAND]", .summary = "say what coldlap, or one command, does",
     .example = "coldlap help log"},
};
/* clang-format on */

const struct command_usage *command_at(size_t i)
{
    return i < sizeof commands / sizeof *commands ? &commands[i] : NULL;
}

const struct command_usage *command_find(const char *name)
{
    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
        if (strcmp(commands[i].name, name) == 0)
            return &commands[i];
    return NULL;
}

/* A sentence as part of another: no capital, no full stop. */
static void add_phrase(struct text *t, const char *sentence)
{
    size_t length = strlen(sentence), start = t->length;

    text_add_part(t, sentence, length - (length > 0 && sentence[length - 1] == '.'));
    t->s[start] = (char)tolower((unsigned char)t->s[start]);
}

/* "ended (broke, tore, held)": the words to choose from; else what the number is, where the key
 * alone does not say it. */
static void add_key(struct text *t, const struct part_row *row)
{
    char *choices = part_choices(row);

    text_add(t, row->key);
    if (choices != NULL || !text_same(row->key, row->as.label)) {
        text_add(t, " (");
        for (const char *c = choices; c != NULL && *c != '\0'; c++)
            text_add_part(t, *c == '|' ? ", " : c, *c == '|' ? 2 : 1);
        if (choices == NULL)
            add_phrase(t, row->as.label);
        text_add(t, ")");
    }
    free(choices);
}

char *command_option_help(const struct command_option *option)
{
    const struct part_row *row =
        option->rows != NULL ? part_find(option->rows, option->name) : NULL;
    struct text t = {0};

    if (row != NULL)
        add_phrase(&t, row->as.help);
    if (option->help != NULL)
        text_addf(&t, "%s%s", row != NULL ? "; " : "", option->help);
    for (size_t i = 0; row == NULL && option->rows != NULL && option->rows[i].key != NULL; i++) {
        text_add(&t, i == 0 ? ": " : ", ");
        add_key(&t, &option->rows[i]);
    }
    if (option->repeats)
        text_add(&t, "; may be repeated");
    return text_steal(&t);
}
