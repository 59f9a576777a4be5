/* Files read whole, and saved whole or not at all. */
#include <errno.h>
#include <fcntl.h>
#include <stdatomic.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "lidmark/base.h"

enum { MOST_LINKS = 40, FIRST_READ = 1 << 16, NAME_TRIES = 100 };

/* ---- what went wrong ------------------------------------------------------------------------- */

typedef struct ErrorText {
    int error;
    const char *reason, *advice;
} ErrorText;

static const ErrorText error_texts[] = {
    {ENOENT, "there is no such file or folder", "Check the path"},
    {EACCES, "no permission", "Choose another place, or change the permissions"},
    {EPERM, "the system does not allow it", "Choose another place"},
    {EROFS, "it lies on a read-only disk", "Choose another place"},
    {EISDIR, "it is a folder", "Give the name of a file"},
    {ENOTDIR, "a part of the path is no folder", "Check the path"},
    {ENOSPC, "no space left on device", "Free some space, or choose another place"},
    {EDQUOT, "the disk quota is used up", "Free some space, or choose another place"},
    {EFBIG, "it is too large", ""},
    {ELOOP, "its symbolic links lead in a circle", "Check the path"},
    {ENAMETOOLONG, "its name is too long", "Choose a shorter name"},
};

/* Says that something ("cannot be read") failed for a file, from errno's value. */
static Status file_fault(Fault *fault, const char *path, const char *what, int error)
{
    fault_in(fault, path, 0, 0);
    if (error == ENOMEM)
        return fault_set(fault, STATUS_MEMORY, "%s: no memory left", what);
    for (size_t i = 0; i < sizeof error_texts / sizeof error_texts[0]; i++) {
        if (error_texts[i].error == error) {
            fault_advise(fault, "%s", error_texts[i].advice);
            return fault_set(fault, STATUS_FILE, "%s: %s", what, error_texts[i].reason);
        }
    }
    char reason[128];
    if (strerror_r(error, reason, sizeof reason) != 0)
        snprintf(reason, sizeof reason, "error %d", error);
    return fault_set(fault, STATUS_FILE, "%s: %s", what, reason);
}

/* ---- reading ----------------------------------------------------------------------------------- */

/* Reads until the end into text; returns 0 or what errno would say. */
static int read_all(int file, TextBuffer *text, int expected)
{
    if (array_reserve((void **)&text->bytes, &text->capacity, expected, 1) != STATUS_OK)
        return ENOMEM;
    for (;;) {
        if (text->length == FILE_READ_LIMIT)
            return EFBIG;
        if (array_reserve((void **)&text->bytes, &text->capacity, text->length + 2, 1) != STATUS_OK)
            return ENOMEM;
        int room = text->capacity - 1 - text->length;
        if (room > FILE_READ_LIMIT - text->length)
            room = FILE_READ_LIMIT - text->length;
        ssize_t got = read(file, text->bytes + text->length, (size_t)room);
        if (got > 0)
            text->length += (int)got;
        else if (got == 0)
            break;
        else if (errno != EINTR)
            return errno;
    }
    text->bytes[text->length] = '\0';
    return 0;
}

Status file_read(const char *path, char **bytes, size_t *length, Fault *fault)
{
    *bytes = NULL;
    *length = 0;
    int file = open(path, O_RDONLY | O_CLOEXEC);
    if (file < 0)
        return file_fault(fault, path, "cannot be opened", errno);

    TextBuffer text = {0};
    struct stat info;
    int error = fstat(file, &info) != 0 ? errno : 0;
    if (error == 0 && info.st_size > FILE_READ_LIMIT - 1)
        error = EFBIG;
    if (error == 0) /* two more: the closing zero, and a byte to find the end without growing */
        error = read_all(file, &text, S_ISREG(info.st_mode) ? (int)info.st_size + 2 : FIRST_READ);
    close(file);
    if (error != 0) {
        text_free(&text);
        return file_fault(fault, path, "cannot be read", error);
    }
    *bytes = text.bytes;
    *length = (size_t)text.length;
    return STATUS_OK;
}

/* ---- writing ----------------------------------------------------------------------------------- */

static atomic_long bytes_left = -1; /* below 0: no test makes writing fail */

void file_fail_after(long n)
{
    atomic_store(&bytes_left, n < 0 ? -1 : n);
}

/* write, with the disk of the size a test wants. */
static ssize_t seam_write(int file, const char *bytes, size_t length)
{
    long left = atomic_load(&bytes_left);
    if (left < 0)
        return write(file, bytes, length);
    if (left == 0) {
        errno = ENOSPC;
        return -1;
    }
    ssize_t written = write(file, bytes, length < (size_t)left ? length : (size_t)left);
    if (written > 0)
        atomic_fetch_sub(&bytes_left, (long)written);
    return written;
}

static int write_all(int file, const char *bytes, size_t length)
{
    while (length > 0) {
        ssize_t written = seam_write(file, bytes, length);
        if (written < 0 && errno == EINTR)
            continue;
        if (written < 0)
            return errno;
        bytes += written;
        length -= (size_t)written;
    }
    return 0;
}

/* The folder part of a path with its slash, "" when it has none; owned by the caller. */
static char *folder_of(const char *path)
{
    const char *slash = strrchr(path, '/');
    return text_format("%.*s", slash != NULL ? (int)(slash + 1 - path) : 0, path);
}

/* Where the link at path points, from where the program stands; owned by the caller. */
static char *link_target(const char *path)
{
    char target[4096];
    ssize_t length = readlink(path, target, sizeof target);
    if (length < 0 || (size_t)length >= sizeof target) {
        errno = length < 0 ? errno : ENAMETOOLONG;
        return NULL;
    }
    char *folder = target[0] == '/' ? text_copy("") : folder_of(path);
    char *joined = folder != NULL ? text_format("%s%.*s", folder, (int)length, target) : NULL;
    mem_free(folder);
    if (joined == NULL)
        errno = ENOMEM;
    return joined;
}

/* The path behind all symbolic links, also when there is no file there yet. *real is owned by the
 * caller. Returns 0 or what errno would say. */
static int follow_links(const char *path, char **real)
{
    struct stat info;
    *real = text_copy(path);
    if (*real == NULL)
        return ENOMEM;
    for (int i = 0; lstat(*real, &info) == 0 && S_ISLNK(info.st_mode); i++) {
        char *next = i < MOST_LINKS ? link_target(*real) : NULL;
        int error = i < MOST_LINKS ? errno : ELOOP;
        mem_free(*real);
        *real = next;
        if (next == NULL)
            return error;
    }
    return 0;
}

/* Opens a new file in the folder of path under a name nothing else has. */
static int open_temporary(const char *path, char **name)
{
    Random random = {random_seed_from_system()};
    char *folder = folder_of(path);
    int file = -1;
    *name = NULL;
    if (folder == NULL) {
        errno = ENOMEM;
        return -1;
    }
    for (int i = 0; i < NAME_TRIES && file < 0; i++) {
        mem_free(*name);
        *name =
            text_format("%s.lidmark-%016llx.tmp", folder, (unsigned long long)random_next(&random));
        if (*name == NULL) {
            errno = ENOMEM;
            break;
        }
        file = open(*name, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
        if (file < 0 && errno != EEXIST)
            break;
    }
    int error = errno;
    mem_free(folder);
    errno = error;
    return file;
}

/* Gives the new file the owner and mode of the old one. Only root may give files away; for anyone
 * else the file simply stays theirs. */
static int keep_mode(int file, const struct stat *old)
{
    struct stat info;
    if (fstat(file, &info) != 0)
        return errno;
    if ((info.st_uid != old->st_uid || info.st_gid != old->st_gid) &&
        fchown(file, old->st_uid, old->st_gid) != 0 && errno != EPERM)
        return errno;
    return fchmod(file, old->st_mode & 07777) != 0 ? errno : 0;
}

/* Makes the rename last through a power cut; a file system that cannot do it is no reason to fail. */
static void flush_folder(const char *path)
{
    char *folder = folder_of(path);
    int file = folder == NULL ? -1 : open(folder[0] != '\0' ? folder : ".", O_RDONLY | O_CLOEXEC);
    if (file >= 0) {
        fsync(file);
        close(file);
    }
    mem_free(folder);
}

/* old is NULL when there is no file yet. */
static int replace_file(const char *path, const struct stat *old, const char *bytes, size_t length)
{
    char *name;
    int file = open_temporary(path, &name);
    int error = file < 0 ? errno : 0;
    if (file >= 0) {
        if (old != NULL)
            error = keep_mode(file, old);
        if (error == 0)
            error = write_all(file, bytes, length);
        if (error == 0 && fsync(file) != 0)
            error = errno;
        if (close(file) != 0 && error == 0)
            error = errno;
        if (error == 0 && rename(name, path) != 0)
            error = errno;
        if (error == 0)
            flush_folder(path);
        else
            unlink(name);
    }
    mem_free(name);
    return error;
}

/* A pipe or device has no old content to keep and must not be replaced by a file. */
static int write_straight(const char *path, const char *bytes, size_t length)
{
    int file = open(path, O_WRONLY | O_CLOEXEC);
    if (file < 0)
        return errno;
    int error = write_all(file, bytes, length);
    if (close(file) != 0 && error == 0)
        error = errno;
    return error;
}

static int save(const char *path, const char *bytes, size_t length)
{
    struct stat info;
    bool exists = stat(path, &info) == 0;
    if (!exists && errno != ENOENT)
        return errno;
    if (exists && S_ISDIR(info.st_mode))
        return EISDIR;
    if (exists && !S_ISREG(info.st_mode))
        return write_straight(path, bytes, length);
    if (exists && access(path, W_OK) != 0)
        return errno;
    char *real;
    int error = follow_links(path, &real);
    if (error == 0)
        error = replace_file(real, exists ? &info : NULL, bytes, length);
    mem_free(real);
    return error;
}

Status file_save(const char *path, const char *bytes, size_t length, Fault *fault)
{
    int error = save(path, bytes, length);
    return error == 0 ? STATUS_OK : file_fault(fault, path, "cannot be saved", error);
}
