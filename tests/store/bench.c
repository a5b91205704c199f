/*
 * What bench.sh measures with:
 *
 * - bench_store spent COMMAND… runs it; on stderr, behind what it says, CPU seconds and kB at peak
 * - bench_store load BOOK loads the last trial as the ranking does
 * - bench_store read BOOK [rich] reads the same columns with SQLite alone, in order, once
 *
 * The last two print coupons, the sum of all numbers, CPU seconds and bytes of memory a coupon.
 */
#include <math.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "analysis/trial_data.h"
#include "model/variable_key.h"

static double cpu_seconds(const struct rusage *used)
{
    return (double)(used->ru_utime.tv_sec + used->ru_stime.tv_sec) +
           (double)(used->ru_utime.tv_usec + used->ru_stime.tv_usec) / 1e6;
}

static struct rusage used_until_now(void)
{
    struct rusage used;

    getrusage(RUSAGE_SELF, &used);
    return used;
}

static int spent(char **command)
{
    struct rusage used;
    int status = 1;
    pid_t child = fork();

    if (child == 0) {
        execvp(command[0], command);
        _exit(127);
    }
    if (child < 0 || wait4(child, &status, 0, &used) != child)
        return 1;
    fprintf(stderr, "%.6f %ld\n", cpu_seconds(&used), used.ru_maxrss);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 1;
}

static int tell(long coupons, double sum, const struct rusage *before)
{
    struct rusage after = used_until_now();

    printf("%ld %.10g %.6f %.0f\n", coupons, sum, cpu_seconds(&after) - cpu_seconds(before),
           1024.0 * (double)(after.ru_maxrss - before->ru_maxrss) / (double)coupons);
    return coupons == 0;
}

/* The numbers of the frame but the count of passes, which stands in no column of the book. */
static double sum_of(const struct frame *f)
{
    double sum = 0;

    for (size_t i = 0; i < f->n; i++) {
        sum += f->y[i].low;
        for (size_t j = 0; j < f->k; j++)
            if (!f->columns[j].category && strcmp(f->columns[j].key, KEY_PASSES) != 0)
                sum += f->columns[j].x[i];
    }
    return sum;
}

static int load(const char *path)
{
    struct trial_question question = {.trial = NULL};
    struct trial_data data;
    struct session s;
    struct error e = {0};
    struct rusage before;
    int rc;

    if (session_open(&s, path, BOOK_READ, &e) < 0) {
        fprintf(stderr, "%s\n", e.text);
        return 1;
    }
    before = used_until_now();
    if (trial_data_load(&s, &question, &data, &e) < 0) {
        fprintf(stderr, "%s\n", e.text);
        return 1;
    }
    rc = tell((long)data.frame.n, sum_of(&data.frame), &before);
    trial_data_free(&data);
    session_close(&s);
    return rc;
}

/* The sum of the column `number` (-1: none); the others are fetched as well. */
static long read_columns(sqlite3 *sqlite, const char *sql, int number, double *sum)
{
    sqlite3_stmt *stmt = NULL;
    long rows = 0;

    if (sqlite3_prepare_v2(sqlite, sql, -1, &stmt, NULL) != SQLITE_OK)
        return -1;
    for (; sqlite3_step(stmt) == SQLITE_ROW; rows++)
        for (int i = 0; i < sqlite3_column_count(stmt); i++)
            if (sqlite3_column_type(stmt, i) == SQLITE_TEXT)
                *sum += sqlite3_column_text(stmt, i) == NULL;
            else
                *sum += (i == number ? 1 : 0) * sqlite3_column_double(stmt, i);
    sqlite3_finalize(stmt);
    return rows;
}

static int read_alone(const char *path, bool rich)
{
    static const char *const parts[] = {"SELECT * FROM pass ORDER BY coupon_id, number",
                                        "SELECT * FROM bend ORDER BY coupon_id",
                                        "SELECT * FROM face ORDER BY coupon_id, side",
                                        "SELECT * FROM flaw ORDER BY coupon_id, side, number"};
    struct rusage before = used_until_now();
    sqlite3 *sqlite = NULL;
    double sum = 0;
    long coupons;

    if (sqlite3_open_v2(path, &sqlite, SQLITE_OPEN_READONLY, NULL) != SQLITE_OK)
        return 1;
    coupons = read_columns(sqlite,
                           "SELECT id, mark, when_utc_ms, when_offset_min, who FROM coupon"
                           " ORDER BY id",
                           -1, &sum);
    read_columns(sqlite,
                 "SELECT coupon_id, variable_id, low, high, kind, iif(low IS NULL, words, NULL)"
                 " FROM value ORDER BY coupon_id, variable_id",
                 2, &sum);
    for (size_t i = 0; rich && i < sizeof parts / sizeof *parts; i++)
        read_columns(sqlite, parts[i], -1, &sum);
    sqlite3_close(sqlite);
    return tell(coupons, sum, &before);
}

int main(int argc, char **argv)
{
    if (argc > 2 && strcmp(argv[1], "spent") == 0)
        return spent(argv + 2);
    if (argc > 2 && strcmp(argv[1], "load") == 0)
        return load(argv[2]);
    if (argc > 2 && strcmp(argv[1], "read") == 0)
        return read_alone(argv[2], argc > 3 && strcmp(argv[3], "rich") == 0);
    fprintf(stderr, "bench_store: spent, load or read\n");
    return 2;
}
