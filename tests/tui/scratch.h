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
void scratch_end(void);
/* The book b.coldlap of the screens that are kept: one trial, six coupons, one of them struck out,
 * made through the command line. */
void scratch_bench(void);
/* Makes a fresh directory the working directory, so that books can have short, fixed names. */
void scratch_enter(void);

#endif
