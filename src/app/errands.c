#include "app/errands.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

enum { PATH_SIZE = 4096, LOOKED_INTO = 50, DATE_SIZE = 32 };

static void entries_free(Errands *errands)
{
    for (int i = 0; i < errands->entry_count; i++) {
        mem_free((char *)errands->entries[i].name);
        mem_free((char *)errands->entries[i].date);
    }
    errands->entry_count = 0;
}

void errands_free(Errands *errands)
{
    entries_free(errands);
    mem_free(errands->entries);
    mem_free(errands->path);
    mem_free(errands->told);
    mem_free(errands->whole);
    mem_free(errands->bytes);
    *errands = (Errands){.clock = errands->clock};
}

static bool is_plan(const char *name)
{
    size_t length = strlen(name), tail = strlen(".lidmark");
    return length > tail && strcmp(name + length - tail, ".lidmark") == 0;
}

/* "today 14:05", "19 Feb", "19 Feb 2024": no locale decides. */
static void date_text(time_t when, char text[DATE_SIZE])
{
    static const char *const months[] = {"Jan", "Feb", "Mar", "Apr", "May", "Jun",
                                         "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"};
    struct tm then, today;
    time_t now = time(NULL);
    text[0] = '\0';
    if (!localtime_r(&when, &then) || !localtime_r(&now, &today))
        return;
    if (then.tm_year == today.tm_year && then.tm_yday == today.tm_yday)
        snprintf(text, DATE_SIZE, "today %02d:%02d", then.tm_hour, then.tm_min);
    else if (then.tm_year == today.tm_year)
        snprintf(text, DATE_SIZE, "%d %s", then.tm_mday, months[then.tm_mon]);
    else
        snprintf(text, DATE_SIZE, "%d %s %d", then.tm_mday, months[then.tm_mon],
                 then.tm_year + 1900);
}

/* How many plans lie in a folder, -1 when it cannot be read. */
static int plans_in(const char *path)
{
    int count = 0;
    DIR *folder = opendir(path);
    if (!folder)
        return -1;
    for (struct dirent *entry = readdir(folder); entry; entry = readdir(folder))
        count += is_plan(entry->d_name);
    closedir(folder);
    return count;
}

static bool add_entry(Errands *errands, const char *folder, const char *name, int looked_into)
{
    char path[PATH_SIZE], date[DATE_SIZE];
    struct stat about;
    int length = snprintf(path, sizeof path, "%s/%s", folder, name);
    if (length < 0 || (size_t)length >= sizeof path || stat(path, &about) != 0)
        return true;
    bool is_folder = S_ISDIR(about.st_mode);
    if (name[0] == '.' || (!is_folder && !(S_ISREG(about.st_mode) && is_plan(name))))
        return true;
    if (array_reserve((void **)&errands->entries, &errands->entry_capacity,
                      errands->entry_count + 1, sizeof *errands->entries) != STATUS_OK)
        return false;
    date_text(about.st_mtime, date);
    FolderEntry entry = {.name = text_copy(name),
                         .date = text_copy(is_folder ? "" : date),
                         .folder = is_folder,
                         .plans = -1,
                         .bytes = (double)about.st_size};
    if (is_folder && looked_into < LOOKED_INTO)
        entry.plans = plans_in(path);
    errands->entries[errands->entry_count++] = entry;
    return entry.name && entry.date;
}

/* Folders first, then by name. */
static int compare_entries(const void *left, const void *right)
{
    const FolderEntry *a = left, *b = right;
    if (a->folder != b->folder)
        return a->folder ? -1 : 1;
    return strcmp(a->name, b->name);
}

static Status list_folder(Errands *errands, const char *path)
{
    DIR *folder = opendir(path);
    bool ok = true;
    if (!folder)
        return fault_set(&errands->fault, STATUS_FILE, "%s", strerror(errno));
    int looked_into = 0;
    for (struct dirent *entry = readdir(folder); entry && ok; entry = readdir(folder)) {
        int before = errands->entry_count;
        ok = add_entry(errands, path, entry->d_name, looked_into);
        if (errands->entry_count > before && errands->entries[before].folder)
            looked_into++;
    }
    closedir(folder);
    if (!ok) {
        entries_free(errands);
        return fault_set(&errands->fault, STATUS_MEMORY, "there is not enough memory");
    }
    if (errands->entry_count > 0)
        qsort(errands->entries, (size_t)errands->entry_count, sizeof *errands->entries,
              compare_entries);
    return STATUS_OK;
}

/* A path as the system takes it: "~" is the person's own folder. */
static char *real_path(const char *path)
{
    const char *home = getenv("HOME");
    if (home && path[0] == '~' && (path[1] == '/' || path[1] == '\0'))
        return text_format("%s%s", home, path + 1);
    return text_copy(path);
}

/* The same from the root on, so that the folders above it can be shown. */
static char *whole_path(const char *path)
{
    char here[PATH_SIZE];
    char *real = real_path(path), *whole = NULL;
    if (!real || real[0] == '/' || !getcwd(here, sizeof here))
        return real;
    whole = strcmp(real, ".") == 0 ? text_copy(here) : text_format("%s/%s", here, real);
    mem_free(real);
    return whole;
}

static void open_file(Errands *errands, Input *answer)
{
    *answer = (Input){.kind = INPUT_OPENED, .text = errands->told, .whole = errands->whole};
    if (file_read(errands->path, &errands->bytes, &answer->length, &errands->fault) != STATUS_OK)
        answer->fault = &errands->fault;
    answer->bytes = errands->bytes ? errands->bytes : "";
}

static void save_file(Errands *errands, const Wish *wish, Input *answer)
{
    struct tm now;
    time_t seconds = time(NULL);
    *answer = (Input){.kind = INPUT_SAVED,
                      .text = errands->told,
                      .whole = errands->whole,
                      .clock = errands->clock};
    if (file_save(errands->path, wish->bytes, wish->length, &errands->fault) != STATUS_OK)
        answer->fault = &errands->fault;
    if (errands->clock || !localtime_r(&seconds, &now))
        return;
    snprintf(errands->clock_text, sizeof errands->clock_text, "%02d:%02d", now.tm_hour, now.tm_min);
    answer->clock = errands->clock_text;
}

bool errand_do(Errands *errands, const Wish *wish, Input *answer)
{
    entries_free(errands);
    mem_free(errands->path);
    mem_free(errands->told);
    mem_free(errands->whole);
    mem_free(errands->bytes);
    errands->bytes = NULL;
    errands->told = text_copy(wish->path);
    errands->whole = whole_path(wish->path);
    fault_clear(&errands->fault);
    errands->path = real_path(wish->path);
    if (!errands->path || !errands->told || !errands->whole)
        return false;
    switch (wish->kind) {
    case WISH_OPEN:
        open_file(errands, answer);
        return true;
    case WISH_SAVE:
        save_file(errands, wish, answer);
        return true;
    case WISH_LIST:
        *answer = (Input){.kind = INPUT_LISTED, .text = errands->whole, .bytes = errands->told};
        if (list_folder(errands, errands->whole) != STATUS_OK)
            answer->fault = &errands->fault;
        answer->entries = errands->entries;
        answer->entry_count = errands->entry_count;
        return true;
    default:
        return false;
    }
}
