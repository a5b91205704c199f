/* Runs the one suite of a test file; prints every failure, and a summary last. */
#include "run.h"

#include <locale.h>
#include <stdlib.h>

int main(void)
{
    SRunner *runner;
    int failed;

    setlocale(LC_CTYPE, "C.UTF-8");
    runner = srunner_create(suite());
    srunner_run_all(runner, CK_ENV);
    failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
