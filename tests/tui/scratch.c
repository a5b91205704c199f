#include "scratch.h"

#include <check.h>
#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"
#include "base/text.h"

const char *program_path(void)
{
    const char *path = getenv("COLDLAP");

    ck_assert_msg(path != NULL, "COLDLAP must name the program under test");
    return path;
}

char *command_output(const char *book, const char *arguments)
{
    char *line = mem_format("LC_ALL=C.UTF-8 COLDLAP_NOW=2026-03-07T09:00:00+01:00 '%s' --book '%s' "
                            "%s 2>/dev/null",
                            program_path(), book, arguments);
    FILE *from = popen(line, "r");
    struct text all = {0};
    char bytes[4096];
    size_t got;

    ck_assert(from != NULL);
    while ((got = fread(bytes, 1, sizeof bytes, from)) > 0)
        text_add_part(&all, bytes, got);
    ck_assert_msg(pclose(from) == 0, "failed: %s", line);
    free(line);
    return text_steal(&all);
}

static int remove_one(const char *path, const struct stat *about, int kind, struct FTW *where)
{
    (void)about;
    (void)kind;
    (void)where;
    return remove(path);
}

void scratch_begin(void)
{
    const char *parent = getenv("TMPDIR");
    char *folder = mem_format("%s/coldlap-tui-XXXXXX", parent == NULL ? "/tmp" : parent);

    ck_assert(mkdtemp(folder) != NULL);
    setenv("COLDLAP_SCRATCH", folder, 1);
    free(folder);
}

void scratch_end(void)
{
    nftw(getenv("COLDLAP_SCRATCH"), remove_one, 8, FTW_DEPTH | FTW_PHYS);
}

void scratch_enter(void)
{
    char *folder = mem_format("%s/XXXXXX", getenv("COLDLAP_SCRATCH")), *state;

    ck_assert(mkdtemp(folder) != NULL);
    ck_assert_int_eq(chdir(folder), 0);
    state = mem_format("%s/state", folder);
    setenv("XDG_STATE_HOME", state, 1);
    free(state);
    free(folder);
}

static void make_bench(const char *book)
{
    static const char *const commands[] = {
        "trial corner --question 'Which change keeps the corner from opening?'",
        "log --trial corner 'process=135 MAG solid wire' wire_class=ER70S-6 wire_diameter=1.2mm "
        "'gas=Ar 82 CO2 18' thickness=6mm thickness_2=4mm joint=tee sides=one volts=18.5V "
        "wire_feed_speed=6m/min leg=6mm --pass 'side=1 arc=20s length=100mm volts=18.5 amps=140' "
        "--bend 'ended=broke before=90 after=42' --face 100 --flaw '0-12 4013 cold start'",
        "log sides=both --pass 'side=1 arc=20s length=100mm volts=18.5 amps=141' "
        "--pass 'side=2 arc=20s length=100mm volts=18.5 amps=139 pause=2m' "
        "--bend 'ended=held before=90 after=0'",
        ("log sides=one preheat=120C --pass 'side=1 arc=20s length=100mm volts=18.5 amps=140' "
         "--bend 'ended=tore before=90 after=30'"),
        "log preheat=20C wire_diameter=.045in --bend 'ended=broke before=90 after=49'",
        "log sides=both preheat=120C --bend 'ended=held before=90 after=0'",
        "log sides=one preheat=20C --bend 'ended=broke before=90 after=51' --note 'same as 04'",
        "log wire_lot=B",
        "strike 07 --why 'wrong wire on the spool'",
    };

    for (size_t i = 0; i < sizeof commands / sizeof *commands; i++)
        free(command_output(book, commands[i]));
}

static char *bench_path(void)
{
    return mem_format("%s/bench.coldlap", getenv("COLDLAP_SCRATCH"));
}

void scratch_begin_with_bench(void)
{
    char *book;

    scratch_begin();
    book = bench_path();
    make_bench(book);
    free(book);
}

void scratch_bench(void)
{
    char *book = bench_path(), *copy = mem_format("cp '%s' b.coldlap", book);

    scratch_enter();
    ck_assert_int_eq(system(copy), 0);
    free(copy);
    free(book);
}
