#include "base/folder.h"

#include <errno.h>
#include <fcntl.h>
#include <libgen.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/mem.h"

static int make_one(const char *path, mode_t mode, struct error *e)
{
    if (mkdir(path, mode) == 0 || errno == EEXIST)
        return 0;
    return error_set(e, ERROR_SYSTEM, "%s: the folder cannot be made: %s", path, strerror(errno));
}

int folder_make_above(const char *path, mode_t mode, struct error *e)
{
    char *copy = mem_copy(path);
    int rc = 0;

    for (char *slash = strchr(copy + 1, '/'); rc == 0 && slash != NULL;
         slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        rc = make_one(copy, mode, e);
        *slash = '/';
    }
    free(copy);
    return rc;
}

int folder_make(const char *path, mode_t mode, struct error *e)
{
    return folder_make_above(path, mode, e) < 0 ? -1 : make_one(path, mode, e);
}

int folder_sync_above(const char *path)
{
    char *copy = mem_copy(path);
    int fd = open(dirname(copy), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    int rc = fd < 0 || (fsync(fd) != 0 && errno != EINVAL) ? -1 : 0;

    if (fd >= 0)
        close(fd);
    free(copy);
    return rc;
}
