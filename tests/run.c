/* Runs the one suite of a test file; prints every failure, and a summary last. */
#include "run.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>

unsigned test_seed(unsigned usual)
{
    const char *set = getenv("COLDLAP_SEED");
    unsigned seed = set == NULL ? usual : (unsigned)strtoul(set, NULL, 10);

    fprintf(stderr, "COLDLAP_SEED=%u\n", seed);
    return seed;
}

int main(void)
{
    SRunner *runner;
    int failed;

    setlocale(LC_CTYPE, "C.UTF-8");
    setenv("COLDLAP_NO_BACKUP", "1", 1);   /* but where they are tested */
    setenv("CK_DEFAULT_TIMEOUT", "60", 0); /* seconds a test; 4 are too few where much else runs */
    runner = srunner_create(suite());
    srunner_run_all(runner, CK_ENV);
    failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
