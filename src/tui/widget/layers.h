/*
 * The running front end: terminal, script, book, and the layers that are drawn over one another.
 *
 * A screen or a prompt is a function that pushes a layer, asks ui_key() for one key after another,
 * and returns when it is done. Everything seen is redrawn from the layers before each wait, so
 * nothing has to be repaired after a resize or when a prompt closes; and before it is drawn,
 * everything written in the layers is kept as a draft, so that nothing is lost when the program
 * ends, however it ends.
 */
#ifndef TUI_WIDGET_LAYERS_H
#define TUI_WIDGET_LAYERS_H

#include "app/drafts.h"
#include "app/keys.h"
#include "app/session.h"
#include "base/error.h"
#include "tui/term/key.h"
#include "tui/term/paint.h"
#include "tui/term/script.h"
#include "tui/term/term.h"
#include "tui/widget/screen_layout.h"

typedef void layer_painter(struct canvas *c, const void *state);

/* What is being written and not stored, as the lines of a draft (app/drafts.h). */
struct unsaved {
    struct text accepted, typed;
    bool there; /* else there is nothing that would be lost */
};
typedef void layer_keeper(struct unsaved *u, const void *state);

struct layer {
    layer_painter *draw; /* NULL: nothing is seen of it */
    layer_keeper *keep;  /* NULL: nothing is written in it */
    const void *state;
    struct layer *below;
};

/* What was typed in a question. */
enum { MOST_ANSWERS = 2 };
struct answer {
    char *question, *text; /* NULL: none */
};

/* Copies of both, in place of what was there; NULLs release it. */
void answer_set(struct answer *a, const char *question, const char *text);
void answer_keep(struct unsaved *u, const struct answer *a);

struct ui {
    struct term term;
    struct script *script; /* NULL: only the keyboard */
    struct session session;
    struct drafts drafts;
    struct answer left[MOST_ANSWERS]; /* from a draft: where their questions begin when asked */
    struct layer *top;
    enum tone tone;       /* of the words said last */
    char words[512];      /* "" when there is nothing to say */
    struct error failure; /* of the script */
    bool playing;         /* the last key was the script's */
    bool working;         /* see ui_working() */
    struct error unsaved; /* the first that the system refused while the script was playing */
    bool gone;            /* PRESS_GONE was given */
    bool lost;            /* what is written now could be kept nowhere */
    bool said_lost;       /* that has been said */
};

/* `draw` and `keep` may be NULL. */
void ui_push(struct ui *ui, struct layer *layer, layer_painter *draw, layer_keeper *keep,
             const void *state);
void ui_pop(struct ui *ui);

/* Keeps the draft, redraws, and waits for the next key. What was said is forgotten when one comes.
 * After PRESS_GONE every later call gives PRESS_GONE as well. */
struct key ui_key(struct ui *ui);
/* There is more to do between keys: unless a key has arrived the next ui_key() gives a tick at
 * once, and a script waits until nobody says so any more. */
void ui_working(struct ui *ui);
/* Redraws now, for when work is about to take a while. */
void ui_show(struct ui *ui);

/* Words for the bottom lines, seen until the next key. */
void ui_say(struct ui *ui, enum tone tone, const char *format, ...)
    __attribute__((format(printf, 3, 4)));
void ui_say_error(struct ui *ui, const struct error *e);
/* True when `rc` is negative; the error has been said then. */
bool ui_failed(struct ui *ui, int rc, const struct error *e);
/* True when nothing can be stored in the book, which is said then. Asked before anything is begun
 * that would have to be stored. */
bool ui_read_only(struct ui *ui);
/* What the key is for in this context. ACTION_REFUSED, with the reason said, for what writes when
 * the book can only be read. */
enum action ui_action(struct ui *ui, struct key k, enum key_context context);
/* Switches between metric and inch, and says so. */
void ui_switch_units(struct ui *ui);
/* An answer that was given and is not stored yet: it goes to the draft, and is there again when the
 * question is asked again, as after a failed save. "" and NULL forget it. */
void ui_answered(struct ui *ui, const char *question, const char *text);
/* Fills in the words of a layout: those said last, else `otherwise` (NULL: none) in this tone. */
void ui_words(const struct ui *ui, struct screen_layout *l, const char *otherwise, enum tone tone);
/* The body a screen has now, for moving by pages. */
struct area ui_body(void);

#endif
