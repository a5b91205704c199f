/* Runs the fuzz target over every file of the folders named, with any compiler. */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/mem.h"
#include "base/text.h"
#include "fuzz.h"

static int replay(const char *path)
{
    struct text bytes = {0};
    char block[4096];
    FILE *file = fopen(path, "rb");
    size_t got;

    if (file == NULL) {
        perror(path);
        return -1;
    }
    while ((got = fread(block, 1, sizeof block, file)) > 0)
        text_add_part(&bytes, block, got);
    fclose(file);
    LLVMFuzzerTestOneInput((const uint8_t *)text_str(&bytes), bytes.length);
    text_free(&bytes);
    return 0;
}

/* The number of inputs run, or a negative number. */
static int replay_folder(const char *folder)
{
    DIR *dir = opendir(folder);
    struct dirent *entry;
    int count = 0;

    if (dir == NULL) {
        perror(folder);
        return -1;
    }
    while (count >= 0 && (entry = readdir(dir)) != NULL) {
        char *path = mem_format("%s/%s", folder, entry->d_name);

        if (entry->d_name[0] != '.')
            count = replay(path) == 0 ? count + 1 : -1;
        free(path);
    }
    closedir(dir);
    return count;
}

int main(int argc, char **argv)
{
    for (int i = 1; i < argc; i++) {
        int count = replay_folder(argv[i]);

        if (count <= 0) {
            fprintf(stderr, "%s: no inputs\n", argv[i]);
            return EXIT_FAILURE;
        }
        printf("%s: %d inputs\n", argv[i], count);
    }
    return argc > 1 ? EXIT_SUCCESS : EXIT_FAILURE;
}
