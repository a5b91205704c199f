/*
 * How long the first screen and every key take on a pseudo-terminal, and how much memory the
 * program needs, at growing books, beside a curses program that does nothing:
 *
 *     bench_screen PROGRAM [COUPONS]...
 *
 * A time ends when the first bytes of the new screen arrive. `cpu` is what the program itself used
 * of it, which is what remains of the time on a machine with nothing else to do.
 */
#include <curses.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>
#include <utmp.h>

#include "base/array.h"
#include "base/mem.h"
#include "base/text.h"

enum { STARTS = 9, KEYS = 200, DEADLINE_MS = 120000, SETTLED_MS = 15, STILL_MS = 500 };

struct times {
    double *wall, *cpu; /* ms */
    size_t count, wall_capacity, cpu_capacity;
};

struct running {
    pid_t pid;
    int line;
    double start_ms;
};

static void fail(const char *what)
{
    fprintf(stderr, "bench_screen: %s\n", what);
    exit(1);
}

static double now_ms(void)
{
    struct timespec t;

    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec * 1e3 + (double)t.tv_nsec / 1e6;
}

static double number_in(pid_t pid, const char *file, const char *before)
{
    char path[64], bytes[8192], *at;
    FILE *in;
    size_t got;

    snprintf(path, sizeof path, "/proc/%d/%s", (int)pid, file);
    in = fopen(path, "r");
    if (in == NULL)
        return 0;
    got = fread(bytes, 1, sizeof bytes - 1, in);
    fclose(in);
    bytes[got] = '\0';
    at = strstr(bytes, before);
    return at == NULL ? 0 : strtod(at + strlen(before), NULL);
}

static double cpu_ms(pid_t pid)
{
    return number_in(pid, "schedstat", "") / 1e6;
}

static double most_memory_mb(pid_t pid)
{
    return number_in(pid, "status", "VmHWM:") / 1024;
}

static void add_time(struct times *t, double wall, double cpu)
{
    t->wall = array_reserve(t->wall, &t->wall_capacity, t->count + 1, sizeof *t->wall);
    t->cpu = array_reserve(t->cpu, &t->cpu_capacity, t->count + 1, sizeof *t->cpu);
    t->wall[t->count] = wall;
    t->cpu[t->count++] = cpu;
}

static int compare(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;

    return (x > y) - (x < y);
}

/* The one below which `share` of them lie. */
static double quantile(double *times, size_t count, double share)
{
    qsort(times, count, sizeof *times, compare);
    return times[(size_t)((double)(count - 1) * share + 0.5)];
}

static void print_times(const char *what, struct times *t, double tail)
{
    printf("  %-34s median %7.2f ms (cpu %6.2f), %.0f %% within %7.2f ms (cpu %6.2f)\n", what,
           quantile(t->wall, t->count, 0.5), quantile(t->cpu, t->count, 0.5), tail * 100,
           quantile(t->wall, t->count, tail), quantile(t->cpu, t->count, tail));
    fflush(stdout);
    free(t->wall);
    free(t->cpu);
    *t = (struct times){0};
}

static bool holds(const char *bytes, const char *text)
{
    return *bytes != '\0' && (text == NULL || strstr(bytes, text) != NULL);
}

/* A capital letter that is no end of a control sequence. */
static bool echoes(const char *bytes, const char *letter)
{
    for (const char *at = bytes; (at = strchr(at, *letter)) != NULL; at++)
        if (at == bytes || strchr("0123456789;[(", at[-1]) == NULL)
            return true;
    return false;
}

/* Reads until something has come that is looked for. */
static void await(struct running *r, bool (*met)(const char *bytes, const char *text),
                  const char *text)
{
    struct text all = {0};
    char bytes[8192];
    bool come = false;

    for (double end = now_ms() + DEADLINE_MS; !come && now_ms() < end;) {
        struct pollfd from = {.fd = r->line, .events = POLLIN};
        ssize_t got = poll(&from, 1, 1000) <= 0 ? 0 : read(r->line, bytes, sizeof bytes);

        text_add_part(&all, bytes, got < 0 ? 0 : (size_t)got);
        come = met(text_str(&all), text);
    }
    text_free(&all);
    if (!come)
        fail(text == NULL ? "no answer to a key" : text);
}

/* Until nothing has been written for so long. */
static void await_stillness(struct running *r, int ms)
{
    struct pollfd from = {.fd = r->line, .events = POLLIN};
    char bytes[8192];

    while (poll(&from, 1, ms) > 0 && read(r->line, bytes, sizeof bytes) > 0)
        continue;
}

static struct running start(const char *const argv[], const char *first)
{
    struct winsize size = {.ws_col = 132, .ws_row = 43};
    struct running r = {.start_ms = now_ms()};

    r.pid = forkpty(&r.line, NULL, NULL, &size);
    if (r.pid == 0) {
        setenv("TERM", "xterm-256color", 1);
        setenv("LC_ALL", "C.UTF-8", 1);
        execv(argv[0], (char *const *)(uintptr_t)argv);
        _exit(127);
    }
    await(&r, holds, first);
    return r;
}

static void press(struct running *r, const char *key, struct times *t)
{
    double cpu, wall;

    await_stillness(r, SETTLED_MS);
    cpu = cpu_ms(r->pid);
    wall = now_ms();
    if (write(r->line, key, strlen(key)) < 0)
        fail("the line is closed");
    await(r, holds, NULL);
    add_time(t, now_ms() - wall, cpu_ms(r->pid) - cpu);
}

/* While the letters before are looked for. */
static void type_letter(struct running *r, char letter, struct times *t)
{
    const char text[] = {letter, '\0'};
    double cpu = cpu_ms(r->pid), wall = now_ms();

    if (write(r->line, text, 1) < 0)
        fail("the line is closed");
    await(r, echoes, text);
    add_time(t, now_ms() - wall, cpu_ms(r->pid) - cpu);
}

/* It is not to be listened to any more. */
static void finish(struct running *r)
{
    kill(r->pid, SIGTERM);
    close(r->line);
    waitpid(r->pid, NULL, 0);
}

static void measure_starts(const char *const argv[], const char *first, const char *what)
{
    struct times t = {0};
    double memory = 0;

    for (int i = 0; i < STARTS; i++) {
        struct running r = start(argv, first);

        add_time(&t, now_ms() - r.start_ms, cpu_ms(r.pid));
        memory = most_memory_mb(r.pid);
        finish(&r);
    }
    print_times(what, &t, 1);
    printf("  %-34s %.1f MB\n", "", memory);
}

static void measure_moves(struct running *r)
{
    static const struct {
        const char *what, *keys[4];
    } moves[] = {
        {"Up, Down", {"\033OA", "\033OA", "\033OB", "\033OA"}},
        {"PageUp, PageDown", {"\033[5~", "\033[5~", "\033[6~", "\033[5~"}},
        {"Home, End", {"\033OH", "\033OF", "\033OH", "\033OF"}},
    };
    struct times t = {0};

    for (size_t m = 0; m < sizeof moves / sizeof *moves; m++) {
        for (int i = 0; i < KEYS; i++)
            press(r, moves[m].keys[i % 4], &t);
        print_times(moves[m].what, &t, 0.99);
    }
}

/* Every letter is typed as soon as the one before it is on the screen. */
static void measure_letters(struct running *r)
{
    static const char *const words[] = {"SPATTER", "BROKE", "SECOND", "VOLTS", "NOBODY"};
    struct times t = {0}, others = {0};

    for (int round = 0; round < 6; round++)
        for (size_t i = 0; i < sizeof words / sizeof *words; i++) {
            press(r, "/", &others);
            for (const char *letter = words[i]; *letter != '\0'; letter++)
                type_letter(r, *letter, &t);
            press(r, "\033", &others);
            await_stillness(r, STILL_MS);
        }
    print_times("a letter of a filter", &t, 0.99);
    free(others.wall);
    free(others.cpu);
}

/* How long until all of the book has been looked through for letters that are nowhere. */
static void measure_search(struct running *r, const char *letters, const char *what)
{
    double cpu = cpu_ms(r->pid), wall = now_ms();
    struct times t = {0};

    press(r, "/", &t);
    if (write(r->line, letters, strlen(letters)) < 0 || write(r->line, "\r", 1) < 0)
        fail("the line is closed");
    await(r, holds, "No coupon holds these letters");
    printf("  %-34s %7.0f ms (cpu %.0f)\n", what, now_ms() - wall, cpu_ms(r->pid) - cpu);
    press(r, "\033", &t);
    await_stillness(r, STILL_MS);
    free(t.wall);
    free(t.cpu);
}

/* Twelve variables, three passes, a bend, a face and two flaws a coupon; one in fifty struck out.
 */
static const char *const rows[] = {
    "PRAGMA synchronous = OFF; PRAGMA journal_mode = MEMORY; BEGIN",
    "INSERT OR IGNORE INTO variable (key, unit) VALUES ('process', NULL), ('wire_class', NULL),"
    " ('wire_diameter', 'mm'), ('gas', NULL), ('thickness', 'mm'), ('thickness_2', 'mm'),"
    " ('joint', NULL), ('sides', NULL), ('volts', 'V'), ('wire_feed_speed', 'mm/min'),"
    " ('leg', 'mm'), ('preheat', '°C')",
    "INSERT INTO coupon (id, uuid, revision, trial_id, mark, when_utc_ms, when_offset_min, who,"
    " note, struck_why, struck_utc_ms, struck_offset_min) WITH RECURSIVE n (i) AS (SELECT 1"
    " UNION ALL SELECT i + 1 FROM n WHERE i < ?1) SELECT i,"
    " printf('00000000-0000-7000-8000-%012d', i), 1, (SELECT max(id) FROM trial),"
    " printf('%02d', i), 1767225600000 + i * 60000, 60, 'Ana', iif(i % 1000 = 7, 'spatter', NULL),"
    " iif(i % 50 = 0, 'cold', NULL), iif(i % 50 = 0, 1767225600000, NULL),"
    " iif(i % 50 = 0, 60, NULL) FROM n",
    "INSERT INTO value (coupon_id, variable_id, low, words) SELECT c.id, v.id,"
    " iif(v.unit IS NULL, NULL, round(10 + c.id * (v.id + 3) % 7, 1)), iif(v.unit IS NULL,"
    " iif((c.id / v.id) % 2 = 0, 'first', 'second'), '') FROM coupon AS c CROSS JOIN variable AS v"
    " WHERE v.key IN ('process', 'wire_class', 'wire_diameter', 'gas', 'thickness', 'thickness_2',"
    " 'joint', 'sides', 'volts', 'wire_feed_speed', 'leg', 'preheat')",
    "INSERT INTO pass (coupon_id, number, side, arc_s, length_mm, volts, amps) SELECT c.id, "
    "p.value,"
    " 1, 20 + c.id % 5, 100, 18.5, 140 + c.id % 10 FROM coupon AS c CROSS JOIN"
    " json_each('[1, 2, 3]') AS p",
    "INSERT INTO bend (coupon_id, ended, direction, before_deg, after_deg) SELECT id,"
    " iif(id % 3 = 0, 'held', 'broke'), 'root_opening', 90, id % 90 FROM coupon",
    "INSERT INTO face (coupon_id, bead_mm, complete) SELECT id, 100, 1 FROM coupon",
    "INSERT INTO flaw (coupon_id, number, from_mm, to_mm, iso6520) SELECT c.id, p.value,"
    " 10 * p.value, 10 * p.value + 5, 4013 FROM coupon AS c CROSS JOIN json_each('[1, 2]') AS p",
    "COMMIT",
};

static void run_sql(sqlite3 *book, const char *sql, int coupons)
{
    while (*sql != '\0') {
        sqlite3_stmt *s;

        if (sqlite3_prepare_v2(book, sql, -1, &s, &sql) != SQLITE_OK)
            fail(sqlite3_errmsg(book));
        if (sqlite3_bind_parameter_count(s) > 0)
            sqlite3_bind_int(s, 1, coupons);
        while (sqlite3_step(s) == SQLITE_ROW)
            continue;
        if (sqlite3_finalize(s) != SQLITE_OK)
            fail(sqlite3_errmsg(book));
    }
}

static void make_book(const char *program, const char *path, int coupons)
{
    char *command = mem_format("'%s' --book '%s' trial bench --question 'Which change?' >/dev/null",
                               program, path);
    sqlite3 *book;

    if (system(command) != 0 || sqlite3_open(path, &book) != SQLITE_OK)
        fail("no book could be made");
    free(command);
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        run_sql(book, rows[i], coupons);
    sqlite3_close(book);
}

static void measure(const char *program, const char *folder, int coupons)
{
    char *path = mem_format("%s/b.coldlap", folder);
    char *last = mem_format("%d ", coupons - 1); /* the last one is struck out */
    const char *const argv[] = {program, "--book", path, NULL};
    struct running r;

    make_book(program, path, coupons);
    printf("%d coupons\n", coupons);
    measure_starts(argv, last, "first screen");
    r = start(argv, last);
    await_stillness(&r, STILL_MS);
    measure_moves(&r);
    measure_letters(&r);
    measure_search(&r, "of nobody", "all looked through, as written");
    measure_search(&r, "0000 mm", "all looked through, as shown");
    printf("  %-34s %.1f MB\n", "after all this", most_memory_mb(r.pid));
    finish(&r);
    remove(path);
    free(path);
    free(last);
}

/* The other program: one screen, and the end when the line goes. */
static int do_nothing(void)
{
    initscr();
    addstr("ready");
    refresh();
    while (getch() != ERR)
        continue;
    endwin();
    return 0;
}

int main(int argc, char **argv)
{
    static const int usual[] = {10000, 100000, 1000000};
    char folder[] = "/tmp/coldlap-bench-XXXXXX", self[] = "/proc/self/exe";
    const char *const nothing[] = {self, "nothing", NULL};

    if (argc > 1 && strcmp(argv[1], "nothing") == 0)
        return do_nothing();
    if (argc < 2 || mkdtemp(folder) == NULL)
        fail("name the program");
    printf("a curses program that does nothing\n");
    measure_starts(nothing, "ready", "first screen");
    for (int i = 2; i < argc; i++)
        measure(argv[1], folder, atoi(argv[i]));
    for (size_t i = 0; argc == 2 && i < sizeof usual / sizeof *usual; i++)
        measure(argv[1], folder, usual[i]);
    return remove(folder);
}
