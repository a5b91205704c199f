#include "app/actions.h"

#include <string.h>

#define TRIAL                                                                                      \
    {                                                                                              \
        "trial", "NAME", "the trial; without it, the one logged into last", false                  \
    }
#define JSON                                                                                       \
    {                                                                                              \
        "json", NULL, "print one JSON object instead of text", false                               \
    }
#define RESULT                                                                                     \
    {                                                                                              \
        "result", "NAME", "the result to judge by; without it, the one that decides the trial",    \
            false                                                                                  \
    }
#define WITHOUT                                                                                    \
    {                                                                                              \
        "without", "VARIABLE", "leave this variable out", true                                     \
    }
#define INSTEAD                                                                                    \
    {                                                                                              \
        "with", "VARIABLE", "rank this derived variable instead of those it is worked out from",   \
            true                                                                                   \
    }
#define END                                                                                        \
    {                                                                                              \
        NULL, NULL, NULL, false                                                                    \
    }

const struct action_option action_global_options[] = {
    {"book", "FILE", "the book; else COLDLAP_BOOK, else coldlap/book.coldlap in the data directory",
     false},
    {"units", "metric|inch", "show numbers in these units, this once", false},
    {"keys", "FILE", "read keys for the screens from a script", false},
    {"help", NULL, "say what coldlap, or one command, does", false},
    {"version", NULL, "print the version", false},
    END,
};

static const struct action_option log_options[] = {
    TRIAL,
    {"mark", "MARK", "the mark stamped on it; without it the next free one", false},
    {"pass", "\"KEY=VALUE ...\"",
     "a pass: side, arc (time), length, volts, amps, feed, start (temperature), pause", true},
    {"bend", "\"KEY=VALUE ...\"",
     "the bend: ended (broke, tore, held), direction, before, after (included angles), or "
     "gap-before, gap-after and leg; former, radius, crack, load, lever",
     false},
    {"face", "LENGTH", "length of the broken face that was read", false},
    {"flaw", "\"FROM-TO NUMBER [NOTE]\"",
     "a flaw on the face, from and to along the bead, with its ISO 6520-1 number", true},
    {"photo", "FILE", "attach a photograph", true},
    {"who", "NAME", "who welded it", false},
    {"when", "TIME", "when it was welded: 2026-03-07 or 2026-03-07T14:05; without it, now", false},
    {"note", "TEXT", "a free note", false},
    {"fresh", NULL, "start empty instead of from the last coupon", false},
    {"yes", NULL, "do not ask about unusual values", false},
    END,
};

static const struct action_option change_options[] = {
    {"pass", "\"KEY=VALUE ...\"", "add a pass; number=N changes that one", true},
    {"bend", "\"KEY=VALUE ...\"", "set what is given of the bend", false},
    {"face", "LENGTH", "length of the broken face that was read", false},
    {"flaw", "\"FROM-TO NUMBER [NOTE]\"", "add a flaw", true},
    {"photo", "FILE", "attach a photograph", true},
    {"clear", "passes|bend|face", "take this away first", true},
    {"who", "NAME", "who welded it", false},
    {"when", "TIME", "when it was welded: 2026-03-07 or 2026-03-07T14:05", false},
    {"note", "TEXT", "a free note", false},
    {"mark", "MARK", "another mark", false},
    {"yes", NULL, "do not ask about unusual values", false},
    END,
};

static const struct action_option list_options[] = {
    TRIAL, {"struck", NULL, "coupons that were struck out as well", false}, JSON, END};
static const struct action_option show_options[] = {JSON, END};
static const struct action_option strike_options[] = {
    {"why", "TEXT", "the reason; it is kept", false}, END};
static const struct action_option import_options[] = {
    TRIAL,
    {"result", "NAME", "this column is a result", true},
    {"skip-bad", NULL, "bring in the good rows even when some are bad", false},
    END};
static const struct action_option export_options[] = {
    TRIAL,
    {"format", "csv|json", "csv is one row a coupon; json has everything", false},
    {"struck", NULL, "coupons that were struck out as well", false},
    {"force", NULL, "replace FILE when it is there already", false},
    END};
static const struct action_option rank_options[] = {
    TRIAL,
    RESULT,
    INSTEAD,
    WITHOUT,
    {"anyway", NULL, "also show each effect weighed with the chance that there is none", false},
    {"shuffle", "COUNT", "a second opinion from shuffling the coupons this many times", false},
    JSON,
    END};
static const struct action_option next_options[] = {
    TRIAL, RESULT, WITHOUT, {"count", "N", "how many coupons, 1 to 12", false}, JSON, END};
static const struct action_option compare_options[] = {
    TRIAL,
    RESULT,
    {"coupons", "MARKS", "compare these coupons (marks with commas between)", false},
    {"against", "MARKS", "with these", false},
    JSON,
    END};
static const struct action_option trial_options[] = {
    {"question", "TEXT", "what the trial is to answer", false},
    {"result", "NAME", "the result that decides it", false},
    {"stop", "ANGLE", "the bend angle at which folding ends", false},
    {"levels", "VARIABLE=A,B,...", "a variable under trial and the levels at hand", true},
    {"note", "TEXT", "a free note", false},
    END};
static const struct action_option variable_options[] = {
    {"unit", "UNIT", "a number in this unit; without it a category", false},
    {"number", NULL, "a bare number, without unit", false},
    {"result", NULL, "a result, not a cause", false},
    {"help-text", "TEXT", "how it is measured", false},
    END};
static const struct action_option feed_options[] = {{"note", "TEXT", "a free note", false}, END};
static const struct action_option calc_options[] = {JSON, END};

#define BY_MARK                                                                                    \
    "A mark that several trials have is looked for in the trial logged into last; TRIAL/MARK "     \
    "says "                                                                                        \
    "which."

static const struct action actions[] = {
    {"log", PLACE_COMMAND, NULL, NULL, "[KEY=VALUE]...", "log a coupon",
     "The coupon starts as a copy of the last one of its trial; say only what changed. Values take "
     "the units people write (5/16in, .045in, 11 ga, 250F, 12 ipm); a bare number takes the book's "
     "units. 'bend_angle=135+' means at least 135: folded to the stop and unbroken.",
     log_options, "coldlap log sides=both volts=18.5V bend_angle=135+"},
    {"change", PLACE_COMMAND, NULL, NULL, "MARK [KEY=VALUE]...", "change a logged coupon",
     "KEY= with nothing behind it takes the value away. What was there before is kept in the "
     "book's history. " BY_MARK,
     change_options, "coldlap change 03 preheat=120C"},
    {"list", PLACE_COMMAND, NULL, NULL, "", "list the coupons of a trial", NULL, list_options,
     "coldlap list"},
    {"show", PLACE_COMMAND, NULL, NULL, "MARK", "show one coupon with its figures", BY_MARK,
     show_options, "coldlap show 03"},
    {"strike", PLACE_COMMAND, NULL, NULL, "MARK", "strike a coupon out, with a reason",
     "It stays in the book and can come back; it no longer counts. " BY_MARK, strike_options,
     "coldlap strike 03 --why 'wrong wire on the spool'"},
    {"restore", PLACE_COMMAND, NULL, NULL, "MARK", "bring a struck-out coupon back", BY_MARK, NULL,
     NULL},
    {"import", PLACE_COMMAND, NULL, NULL, "FILE", "bring in coupons from a CSV table",
     "One row a coupon, the first row names the columns: keys of the variable table, 'key (unit)', "
     "or names of your own, which become your own variables. '135+' means at least, '<=40' at "
     "most, '40..60' between, empty missing. Nothing comes in unless all rows are good. '-' reads "
     "standard input.",
     import_options, NULL},
    {"export", PLACE_COMMAND, NULL, NULL, "[FILE]", "hand out the coupons of a trial",
     "Without FILE, or with '-', to standard output. A FILE that is there already is left alone "
     "unless --force is given; a book or another database always is.",
     export_options, "coldlap export"},
    {"rank", PLACE_COMMAND, NULL, NULL, "", "rank the variables by what they did to the result",
     "Says which change made the difference, by how much, how sure that is, and what cannot be "
     "told apart.",
     rank_options, "coldlap rank"},
    {"next", PLACE_COMMAND, NULL, NULL, "", "say which coupons to weld next", NULL, next_options,
     "coldlap next --count 2"},
    {"compare", PLACE_COMMAND, NULL, NULL, "[VARIABLE [LEVEL LEVEL]]",
     "put two levels of one variable, or two groups of coupons, side by side",
     "Either VARIABLE, with two of its levels or all, or --coupons 01,02 --against 03,04.",
     compare_options, "coldlap compare sides"},
    {"trial", PLACE_COMMAND, NULL, NULL, "[NAME]", "list the trials, or make or change one", NULL,
     trial_options, "coldlap trial"},
    {"variable", PLACE_COMMAND, NULL, NULL, "[NAME]", "list the variables, or make one of your own",
     NULL, variable_options, "coldlap variable"},
    {"calc", PLACE_COMMAND, NULL, NULL, "KIND [KEY=VALUE]...",
     "work out a figure of the trade: heat, cooling, carbon, preheat, fillet, hinge, bend, wire, "
     "duty, stock",
     "'calc KIND --help' shows its arguments, formula and source.", calc_options,
     "coldlap calc heat volts=20 amps=300 speed=150 process=135"},
    {"feed", PLACE_COMMAND, NULL, NULL, "[MACHINE DIAL LENGTH TIME]",
     "keep what a dial position really feeds, or list it",
     "Let the wire run for some seconds at a dial position, without an arc, and measure what came "
     "out: 'coldlap feed blue 3 410mm 6s'. Readings are kept per machine; 'coldlap calc wire "
     "machine=blue dial=3.5' reads between them, with the uncertainty.",
     feed_options, "coldlap feed"},
    {"units", PLACE_COMMAND, NULL, NULL, "[metric|inch]",
     "say which units the book shows, or switch them", "Stored values do not change.", NULL,
     "coldlap units"},
    {"demo", PLACE_COMMAND, NULL, NULL, "[FILE]", "make a book with an invented trial", NULL, NULL,
     NULL},
    {"check", PLACE_COMMAND, NULL, NULL, "", "check the book", NULL, NULL, "coldlap check"},
    {"backup", PLACE_COMMAND, NULL, NULL, "FILE", "copy the book, also while it is in use", NULL,
     NULL, NULL},
    {"help", PLACE_COMMAND, NULL, NULL, "[COMMAND]", "say what coldlap, or one command, does", NULL,
     NULL, "coldlap help log"},

    {"open", PLACE_RACK | PLACE_RANKING, "Enter", "open", NULL, "open what the cursor is on", NULL,
     NULL, NULL},
    {"edit", PLACE_CARD, "Enter", "write", NULL, "write into the field the cursor is on", NULL,
     NULL, NULL},
    {"new", PLACE_RACK, "n", "new coupon", NULL, "log a new coupon, set up like the last", NULL,
     NULL, NULL},
    {"ranking", PLACE_RACK | PLACE_CARD, "r", "ranking", NULL, "rank the variables of this trial",
     NULL, NULL, NULL},
    {"save", PLACE_CARD, "s", "save", NULL, "put the coupon into the book", NULL, NULL, NULL},
    {"pass", PLACE_CARD, "p", "add pass", NULL, "add a pass", NULL, NULL, NULL},
    {"flaw", PLACE_CARD, "f", "add flaw", NULL, "add a flaw on the broken face", NULL, NULL, NULL},
    {"photo", PLACE_CARD, "h", NULL, NULL, "attach a photograph", NULL, NULL, NULL},
    {"remove", PLACE_CARD, "d", NULL, NULL, "take the pass, flaw or value under the cursor away",
     NULL, NULL, NULL},
    {"result", PLACE_RANKING, "o", "other result", NULL, "rank by another result", NULL, NULL,
     NULL},
    {"trials", PLACE_RACK, "t", "trials", NULL, "choose or make a trial", NULL, NULL, NULL},
    {"find", PLACE_RACK, "/", "find", NULL, "show only coupons that hold a word", NULL, NULL, NULL},
    {"cross", PLACE_RACK, "x", "strike out", NULL, "strike a coupon out, or bring it back", NULL,
     NULL, NULL},
    {"struck", PLACE_RACK, "a", NULL, NULL, "show or hide struck-out coupons", NULL, NULL, NULL},
    {"switch", PLACE_SCREENS, "u", "units", NULL, "switch between metric and inch", NULL, NULL,
     NULL},
    {"keys", PLACE_SCREENS, "?", "keys", NULL, "show what every key does here", NULL, NULL, NULL},
    {"back", PLACE_CARD | PLACE_RANKING, "Esc", "back", NULL, "go back", NULL, NULL, NULL},
    {"quit", PLACE_RACK, "q", "quit", NULL, "leave coldlap", NULL, NULL, NULL},
};

const struct action *action_at(size_t i)
{
    return i < sizeof actions / sizeof *actions ? &actions[i] : NULL;
}

const struct action *action_find(const char *id)
{
    for (size_t i = 0; i < sizeof actions / sizeof *actions; i++)
        if (strcmp(actions[i].id, id) == 0)
            return &actions[i];
    return NULL;
}

const struct action *action_for_key(const char *key, int place)
{
    for (size_t i = 0; i < sizeof actions / sizeof *actions; i++)
        if (actions[i].key != NULL && (actions[i].places & place) != 0 &&
            strcmp(actions[i].key, key) == 0)
            return &actions[i];
    return NULL;
}
