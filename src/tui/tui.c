#include "tui/tui.h"

#include <string.h>

#include "app/session.h"
#include "tui/screen/rack.h"
#include "tui/term/signals.h"
#include "tui/widget/layers.h"

static int run_session(struct ui *ui, const struct tui_options *options, struct error *e)
{
    if (session_open(&ui->session, options->book, BOOK_CREATE, e) < 0)
        return -1;
    if (options->units_given)
        ui->session.units = options->units;
    screen_rack(ui);
    session_close(&ui->session);
    if (ui->failure.kind != ERROR_NONE || ui->unsaved.kind != ERROR_NONE) {
        *e = ui->failure.kind != ERROR_NONE ? ui->failure : ui->unsaved;
        return -1;
    }
    return ui->term.ended_by == 0 ? 0 : 128 + ui->term.ended_by;
}

int tui_run(const struct tui_options *options, struct error *e)
{
    struct ui ui;
    int rc = -1;

    memset(&ui, 0, sizeof ui);
    if (options->keys != NULL && script_load(options->keys, &ui.script, e) < 0)
        return -1;
    if (term_start(&ui.term, ui.script != NULL, e) == 0) {
        rc = run_session(&ui, options, e);
        term_stop(&ui.term);
    }
    script_free(ui.script);
    if (ui.term.ended_by != 0)
        signals_end_by(ui.term.ended_by);
    return rc;
}
