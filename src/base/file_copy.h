/* Copying a file byte by byte. */
#ifndef BASE_FILE_COPY_H
#define BASE_FILE_COPY_H

/* Makes, or overwrites, `to` with what is in `from`, for its owner alone, and puts it on the disk.
 * -1 with errno; `to` may hold a part then. A thing that is no file is EINVAL. */
int file_copy(const char *from, const char *to);

#endif
