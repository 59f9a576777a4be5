#include "window/memory_file.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

char *memory_file_path(const char *given)
{
    const char *state = getenv("XDG_STATE_HOME"), *home = getenv("HOME");
    if (given)
        return text_copy(given);
    if (state && state[0] == '/')
        return text_format("%s/lidmark/recent", state);
    return home && home[0] ? text_format("%s/.local/state/lidmark/recent", home) : NULL;
}

static void make_folders(const char *path)
{
    char *folder = text_copy(path);
    for (char *slash = folder ? strchr(folder + 1, '/') : NULL; slash;
         slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        mkdir(folder, 0700); /* those that are there stay as they are */
        *slash = '/';
    }
    mem_free(folder);
}

void memory_file_write(const char *path, const char *bytes, size_t length)
{
    if (!path)
        return;
    make_folders(path);
    file_save(path, bytes, length, NULL);
}
