#include "base/file_copy.h"

#include <errno.h>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

static int pour(int from, int to)
{
    static char block[1 << 16];
    ssize_t got;

    while ((got = read(from, block, sizeof block)) > 0)
        for (ssize_t done = 0, put; done < got; done += put)
            if ((put = write(to, block + done, (size_t)(got - done))) < 0)
                return -1;
    return got < 0 || fsync(to) < 0 ? -1 : 0;
}

int file_copy(const char *from, const char *to)
{
    int in = open(from, O_RDONLY | O_NONBLOCK | O_CLOEXEC), out = -1, rc = -1, why;
    struct stat is;

    if (in >= 0 && fstat(in, &is) == 0 && !S_ISREG(is.st_mode))
        errno = EINVAL;
    else if (in >= 0)
        out = open(to, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    if (out >= 0)
        rc = pour(in, out);
    why = errno;
    if (in >= 0)
        close(in);
    if (out >= 0)
        close(out);
    errno = why;
    return rc;
}
