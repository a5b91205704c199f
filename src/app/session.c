#include "app/session.h"

#include <limits.h>
#include <pwd.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/text.h"
#include "store/journal.h"
#include "store/settings.h"
#include "store/variables.h"

static const char *const unit_names[] = {[UNITS_METRIC] = "metric", [UNITS_INCH] = "inch"};

static bool given(const char *text)
{
    return text != NULL && *text != '\0';
}

int session_choose_book(const char *named, char **out, struct error *e)
{
    const char *set = getenv("COLDLAP_BOOK"), *data = getenv("XDG_DATA_HOME");
    const char *home = getenv("HOME");

    if (given(named) || given(set))
        *out = mem_copy(given(named) ? named : set);
    else if (given(data) && *data == '/') /* by its specification a relative one is ignored */
        *out = mem_format("%s/coldlap/book.coldlap", data);
    else if (given(home))
        *out = mem_format("%s/.local/share/coldlap/book.coldlap", home);
    else
        return error_set(e, ERROR_SYSTEM,
                         "HOME is not set, so the book has no place; name it with --book FILE or "
                         "COLDLAP_BOOK, or set HOME or XDG_DATA_HOME");
    return 0;
}

const char *units_name(enum unit_system units)
{
    return unit_names[units];
}

int units_parse(const char *text, enum unit_system *out, struct error *e)
{
    for (size_t i = 0; i < sizeof unit_names / sizeof *unit_names; i++)
        if (text_same(text, unit_names[i])) {
            *out = (enum unit_system)i;
            return 0;
        }
    return error_set(e, ERROR_USAGE, "'%s' is no system of units; it is metric or inch", text);
}

static int read_settings(struct session *s, struct error *e)
{
    char *units = NULL;
    int rc = setting_get(s->book, "units", &units, e);

    if (rc == 0 && units != NULL)
        rc = units_parse(units, &s->units, e);
    free(units);
    return rc < 0 ? rc : setting_get(s->book, "welder", &s->who, e);
}

/* Who the user of this process is, where no shell has said it. */
static const char *name_of_user(void)
{
    const struct passwd *user = getpwuid(geteuid());

    return user == NULL ? NULL : user->pw_name;
}

static void sign(struct session *s)
{
    const char *bench = getenv("COLDLAP_BENCH"), *who = getenv("LOGNAME");
    char host[HOST_NAME_MAX + 1] = "";

    if (!given(bench) && gethostname(host, sizeof host - 1) == 0)
        bench = host;
    if (!given(who))
        who = getenv("USER");
    journal_sign(s->book, given(bench) ? bench : NULL, given(who) ? who : name_of_user());
}

int session_open(struct session *s, const char *named, enum book_mode mode, struct error *e)
{
    char *path = NULL;
    int rc;

    memset(s, 0, sizeof *s);
    variable_list_init(&s->variables);
    rc = session_choose_book(named, &path, e);
    if (rc == 0)
        rc = book_open(&s->book, path, mode, e);
    if (rc == 0)
        rc = own_variables_load(s->book, &s->variables, e);
    if (rc == 0)
        rc = read_settings(s, e);
    if (rc == 0)
        sign(s);
    if (rc < 0)
        session_close(s);
    free(path);
    return rc;
}

void session_close(struct session *s)
{
    variable_list_free(&s->variables);
    book_close(s->book);
    free(s->who);
    memset(s, 0, sizeof *s);
}

const char *session_book_name(const struct session *s)
{
    return book_path(s->book);
}

const char *session_read_only(const struct session *s)
{
    return book_read_only(s->book);
}

bool session_moved(const struct session *s, struct error *e)
{
    bool moved = book_moved(s->book);

    if (moved)
        error_set(e, ERROR_SYSTEM, BOOK_MOVED_TEXT, session_book_name(s));
    return moved;
}

void session_rest(struct session *s)
{
    book_rest(s->book);
}

long session_changes(const struct session *s)
{
    return book_change_counter(s->book);
}

int session_set_units(struct session *s, enum unit_system units, struct error *e)
{
    journal_name(s->book, "change");
    if (setting_set(s->book, "units", units_name(units), e) < 0)
        return -1;
    s->units = units;
    return 0;
}
