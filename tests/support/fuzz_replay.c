/* Gives a fuzz target every file of a corpus folder, in the order of their names, so that what the
 * fuzzer once found is tested by every compiler. A folder without files is a failure. */
#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "lidmark/base.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static bool replay_file(const char *folder, const char *name)
{
    char path[4096];
    struct stat info;
    snprintf(path, sizeof path, "%s/%s", folder, name);
    if (stat(path, &info) != 0 || !S_ISREG(info.st_mode))
        return false;

    FILE *file = fopen(path, "rb");
    size_t size = (size_t)info.st_size;
    uint8_t *data = malloc(size + 1);
    if (file == NULL || data == NULL || fread(data, 1, size, file) != size) {
        fprintf(stderr, "%s: cannot be read\n", path);
        exit(EXIT_FAILURE);
    }
    fclose(file);
    printf("%s\n", path);
    fflush(stdout);
    LLVMFuzzerTestOneInput(data, size);
    free(data);
    return true;
}

int main(int argc, char **argv)
{
    int files = 0;
    for (int i = 1; i < argc; i++) {
        struct dirent **entries = NULL;
        int count = scandir(argv[i], &entries, NULL, alphasort);
        for (int k = 0; k < count; k++) {
            files += replay_file(argv[i], entries[k]->d_name) ? 1 : 0;
            free(entries[k]);
        }
        free(entries);
    }
    printf("%d files\n", files);
    return files > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
