#include "base/digest.h"

#include <errno.h>
#include <sha256.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

void digest_text(const char *text, char out[DIGEST_SIZE])
{
    SHA256Data((const uint8_t *)text, strlen(text), out);
}

int digest_file(const char *path, char out[DIGEST_SIZE], struct error *e)
{
    struct stat info;

    if (stat(path, &info) < 0)
        return error_set(e, ERROR_SYSTEM, "%s: %s", path, strerror(errno));
    if (!S_ISREG(info.st_mode))
        return error_set(e, ERROR_INPUT, "%s is not a file", path);
    if (SHA256File(path, out) == NULL)
        return error_set(e, ERROR_SYSTEM, "%s cannot be read: %s", path, strerror(errno));
    return 0;
}
