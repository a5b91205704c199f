/*
 * Directories and books for the tests of the screens, and the program's command line to fill them.
 */
#ifndef TESTS_TUI_SCRATCH_H
#define TESTS_TUI_SCRATCH_H

/* The program under test, which COLDLAP names. */
const char *program_path(void);
/* Runs a command of the program under test on `book`, its standard output returned (caller frees);
 * the test ends unless it exits with 0. */
char *command_output(const char *book, const char *arguments);
/* Fixtures of a whole test case: a directory for everything its tests write. */
void scratch_begin(void);
/* The same with the book scratch_bench() copies, made once through the command line. */
void scratch_begin_with_bench(void);
void scratch_end(void);
/* Enters a fresh directory with the book b.coldlap: one trial, seven coupons, one of them struck
 * out. */
void scratch_bench(void);
/* Makes a fresh directory the working directory, so that books can have short, fixed names, with
 * the state folder below it. */
void scratch_enter(void);

#endif
