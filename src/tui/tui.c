#include "tui/tui.h"

#include <stdlib.h>
#include <string.h>

#include "app/session.h"
#include "base/mem.h"
#include "base/print.h"
#include "tui/screen/rack.h"
#include "tui/term/signals.h"
#include "tui/widget/layers.h"

static int run_session(struct ui *ui, const struct tui_options *options, char **kept_in,
                       struct error *e)
{
    if (session_open(&ui->session, options->book, BOOK_CREATE, e) < 0)
        return -1;
    if (options->units_given)
        ui->session.units = options->units;
    drafts_open(&ui->drafts, ui->session.book);
    screen_rack(ui);
    *kept_in = mem_copy(drafts_where(&ui->drafts));
    for (size_t i = 0; i < MOST_ANSWERS; i++)
        answer_set(&ui->left[i], NULL, NULL);
    drafts_close(&ui->drafts);
    session_close(&ui->session);
    if (ui->failure.kind != ERROR_NONE || ui->unsaved.kind != ERROR_NONE) {
        *e = ui->failure.kind != ERROR_NONE ? ui->failure : ui->unsaved;
        return -1;
    }
    return ui->term.ended_by == 0 ? 0 : 128 + ui->term.ended_by;
}

/* The terminal has been given back. */
static void say_where(const struct ui *ui, const char *kept_in)
{
    if (ui->lost)
        print_line(stderr, "coldlap: what was not saved could be kept nowhere, and is lost");
    else if (kept_in != NULL)
        print_line(stderr, "coldlap: " SIGNALS_WORDS, kept_in);
}

int tui_run(const struct tui_options *options, struct error *e)
{
    struct ui ui;
    char *kept_in = NULL;
    int rc = -1;

    memset(&ui, 0, sizeof ui);
    if (options->keys != NULL && script_load(options->keys, &ui.script, e) < 0)
        return -1;
    if (term_start(&ui.term, ui.script != NULL, e) == 0) {
        rc = run_session(&ui, options, &kept_in, e);
        term_stop(&ui.term);
        say_where(&ui, kept_in);
    }
    free(kept_in);
    script_free(ui.script);
    if (ui.term.ended_by != 0)
        signals_end_by(ui.term.ended_by);
    return rc;
}
