#include "base/rename.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <sys/stat.h>

int rename_new(const char *from, const char *to)
{
    struct stat is;

    if (renameat2(AT_FDCWD, from, AT_FDCWD, to, RENAME_NOREPLACE) == 0)
        return 0;
    /* Some file systems (memory sticks) cannot rename without overwriting: a look has to do there.
     */
    if (lstat(to, &is) != 0)
        return rename(from, to);
    errno = EEXIST;
    return -1;
}
