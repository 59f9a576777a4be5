#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "lidmark/base.h"
#include "support/fail_every.h"

#include <cmocka.h>

/* Every test works in an empty folder of its own, which others may look into. */
static char folder[] = "file-test-XXXXXX";

static int enter_folder(void **state)
{
    (void)state;
    memcpy(folder, "file-test-XXXXXX", sizeof folder);
    return mkdtemp(folder) != NULL && chmod(folder, 0755) == 0 && chdir(folder) == 0 ? 0 : -1;
}

static int leave_folder(void **state)
{
    (void)state;
    file_fail_after(-1);
    char command[64];
    snprintf(command, sizeof command, "chmod -R u+w %s; rm -rf %s", folder, folder);
    return chdir("..") == 0 && system(command) == 0 ? 0 : -1;
}

static int things_in(const char *path)
{
    int count = 0;
    DIR *entries = opendir(path);
    assert_non_null(entries);
    for (struct dirent *entry = readdir(entries); entry != NULL; entry = readdir(entries))
        count += strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0;
    closedir(entries);
    return count;
}

static void save_text(const char *path, const char *text)
{
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(file_save(path, text, strlen(text), &fault), STATUS_OK);
    assert_int_equal(fault.status, STATUS_OK);
}

static void assert_holds(const char *path, const char *text)
{
    char *bytes;
    size_t length;
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(file_read(path, &bytes, &length, &fault), STATUS_OK);
    assert_int_equal(length, strlen(text));
    assert_string_equal(bytes, text);
    mem_free(bytes);
}

static void assert_not_saved(const char *path, const char *reason)
{
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(file_save(path, "new", 3, &fault), STATUS_FILE);
    assert_int_equal(fault.status, STATUS_FILE);
    assert_string_equal(fault.file, path);
    assert_non_null(strstr(fault.reason, reason));
}

static unsigned mode_of(const char *path)
{
    struct stat info;
    assert_int_equal(stat(path, &info), 0);
    return (unsigned)info.st_mode & 07777u;
}

/* ---- reading --------------------------------------------------------------------------------- */

static void reads_what_was_saved(void **state)
{
    (void)state;
    Random random = {8};
    static const size_t sizes[] = {0, 1, 2, 4095, 4096, 65535, 65536, 65537, 3000000};
    for (size_t i = 0; i < sizeof sizes / sizeof sizes[0]; i++) {
        char *bytes = mem_alloc(sizes[i], 1), *back;
        size_t length;
        for (size_t k = 0; k < sizes[i]; k++)
            bytes[k] = (char)random_next(&random);
        assert_int_equal(file_save("bytes", bytes, sizes[i], NULL), STATUS_OK);
        assert_int_equal(file_read("bytes", &back, &length, NULL), STATUS_OK);
        assert_int_equal(length, sizes[i]);
        assert_memory_equal(back, bytes, length);
        assert_int_equal(back[length], 0);
        mem_free(bytes);
        mem_free(back);
    }
    assert_int_equal(things_in("."), 1);
}

static void says_why_it_cannot_read(void **state)
{
    (void)state;
    static const char *const rows[][2] = {
        {"missing", "no such file"}, {".", "folder"}, {"missing/file", "no such file"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        char *bytes = folder;
        size_t length = 1;
        Fault fault;
        fault_clear(&fault);
        assert_int_equal(file_read(rows[i][0], &bytes, &length, &fault), STATUS_FILE);
        assert_null(bytes);
        assert_int_equal(length, 0);
        assert_string_equal(fault.file, rows[i][0]);
        assert_non_null(strstr(fault.reason, rows[i][1]));
        assert_true(fault.advice[0] != '\0');
    }
}

static void a_file_beyond_the_limit_is_refused(void **state)
{
    (void)state;
    char *bytes;
    size_t length;
    Fault fault;
    int file = open("huge", O_WRONLY | O_CREAT, 0600);
    assert_int_equal(ftruncate(file, (off_t)FILE_READ_LIMIT + 1), 0); /* a hole: takes no disk */
    close(file);
    assert_int_equal(file_read("huge", &bytes, &length, &fault), STATUS_FILE);
    assert_non_null(strstr(fault.reason, "too large"));
}

static void reads_a_pipe(void **state)
{
    (void)state;
    char *bytes;
    size_t length;
    assert_int_equal(mkfifo("pipe", 0600), 0);
    pid_t child = fork();
    if (child == 0) {
        int file = open("pipe", O_WRONLY);
        for (int i = 0; i < 20000; i++)
            if (write(file, "0123456789", 10) != 10)
                _exit(1);
        _exit(0);
    }
    assert_int_equal(file_read("pipe", &bytes, &length, NULL), STATUS_OK);
    assert_int_equal(waitpid(child, NULL, 0), child);
    assert_int_equal(length, 200000);
    assert_memory_equal(bytes + 199990, "0123456789", 11);
    mem_free(bytes);
}

/* ---- saving ---------------------------------------------------------------------------------- */

static void a_new_file_gets_the_usual_mode(void **state)
{
    (void)state;
    mode_t old = umask(027);
    save_text("new", "text");
    umask(old);
    assert_int_equal(mode_of("new"), 0640);
    assert_holds("new", "text");
}

static void the_mode_is_kept(void **state)
{
    (void)state;
    save_text("file", "old");
    assert_int_equal(chmod("file", 0604), 0);
    save_text("file", "new");
    assert_int_equal(mode_of("file"), 0604);
    assert_holds("file", "new");
    assert_int_equal(things_in("."), 1);
}

static void links_are_followed(void **state)
{
    (void)state;
    struct stat info;
    assert_int_equal(mkdir("far", 0755), 0);
    save_text("far/file", "old");
    assert_int_equal(symlink("file", "far/second"), 0);
    assert_int_equal(symlink("far/second", "first"), 0);
    save_text("first", "new");
    assert_holds("far/file", "new");
    assert_int_equal(lstat("first", &info), 0);
    assert_true(S_ISLNK(info.st_mode));
    assert_int_equal(things_in("far"), 2);
    assert_int_equal(things_in("."), 2);

    /* a link to a file that is not there yet, and one with a whole path */
    char target[600];
    assert_non_null(getcwd(target, sizeof target - 16));
    strcat(target, "/far/later");
    assert_int_equal(symlink(target, "whole"), 0);
    save_text("whole", "made");
    assert_holds("far/later", "made");

    assert_int_equal(symlink("round", "round"), 0);
    assert_not_saved("round", "circle");
}

static void a_full_disk_leaves_the_old_file(void **state)
{
    (void)state;
    char text[100000];
    memset(text, 'x', sizeof text);
    save_text("file", "old");
    static const long room[] = {0, 1, 2, 4096, 99999};
    for (size_t i = 0; i < sizeof room / sizeof room[0]; i++) {
        Fault fault;
        fault_clear(&fault);
        file_fail_after(room[i]);
        assert_int_equal(file_save("file", text, sizeof text, &fault), STATUS_FILE);
        file_fail_after(-1);
        assert_non_null(strstr(fault.reason, "no space left on device"));
        assert_holds("file", "old");
        assert_int_equal(things_in("."), 1);
    }
    file_fail_after(sizeof text);
    assert_int_equal(file_save("file", text, sizeof text, NULL), STATUS_OK);
    file_fail_after(0);
    assert_not_saved("other", "no space left on device");
    assert_int_equal(things_in("."), 1);
}

/* Root may write anywhere, so permissions are tried as nobody, in a process of its own. */
static void as_nobody(void (*check)(void))
{
    pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
            _exit(2);
        check();
        _exit(0);
    }
    int ended;
    assert_int_equal(waitpid(child, &ended, 0), child);
    assert_true(WIFEXITED(ended));
    assert_int_equal(WEXITSTATUS(ended), 0);
}

static void require(bool holds, int code)
{
    if (!holds)
        _exit(code);
}

static void try_read_only_folder(void)
{
    Fault fault;
    fault_clear(&fault);
    require(file_save("shut/file", "new", 3, &fault) == STATUS_FILE, 3);
    require(strstr(fault.reason, "no permission") != NULL, 4);
    require(file_save("shut/other", "new", 3, &fault) == STATUS_FILE, 5);
}

static void a_read_only_folder_stays_as_it_is(void **state)
{
    (void)state;
    assert_int_equal(mkdir("shut", 0755), 0);
    save_text("shut/file", "old");
    assert_int_equal(chmod("shut/file", 0666), 0);
    assert_int_equal(chmod("shut", 0555), 0);
    as_nobody(try_read_only_folder);
    assert_holds("shut/file", "old");
    assert_int_equal(things_in("shut"), 1);
}

static void try_read_only_file(void)
{
    Fault fault;
    fault_clear(&fault);
    require(file_save("open/file", "new", 3, &fault) == STATUS_FILE, 3);
    require(strstr(fault.reason, "no permission") != NULL, 4);
    require(file_save("open/other", "new", 3, &fault) == STATUS_OK, 5);
}

static void a_read_only_file_is_not_replaced(void **state)
{
    (void)state;
    assert_int_equal(mkdir("open", 0777), 0);
    assert_int_equal(chmod("open", 0777), 0);
    save_text("open/file", "old");
    assert_int_equal(chmod("open/file", 0444), 0);
    as_nobody(try_read_only_file);
    assert_holds("open/file", "old");
    assert_int_equal(things_in("open"), 2);
}

static void no_place_to_save(void **state)
{
    (void)state;
    assert_int_equal(mkdir("folder", 0755), 0);
    save_text("file", "old");
    assert_not_saved("folder", "folder");
    assert_not_saved("missing/file", "no such file or folder");
    assert_not_saved("file/below", "no folder");
    assert_not_saved("", "no such file or folder");
    char name[300];
    memset(name, 'n', sizeof name);
    name[299] = '\0';
    assert_not_saved(name, "too long");
    assert_int_equal(things_in("."), 2);
    assert_holds("file", "old");
}

static void a_device_is_written_straight(void **state)
{
    (void)state;
    struct stat info;
    save_text("/dev/null", "text");
    assert_int_equal(stat("/dev/null", &info), 0);
    assert_true(S_ISCHR(info.st_mode));
}

/* ---- memory ---------------------------------------------------------------------------------- */

static Status save_and_read(void *context)
{
    (void)context;
    char *bytes = NULL;
    size_t length;
    Status status = file_save("link", "whole", 5, NULL);
    if (status == STATUS_OK)
        status = file_read("link", &bytes, &length, NULL);
    mem_free(bytes);
    return status;
}

static void every_allocation_may_fail(void **state)
{
    (void)state;
    save_text("file", "old");
    assert_int_equal(symlink("file", "link"), 0);
    assert_true(fail_every_allocation(save_and_read, NULL) > 4);
    assert_holds("file", "whole");
    assert_int_equal(things_in("."), 2);
}

#define IN_FOLDER(test) cmocka_unit_test_setup_teardown(test, enter_folder, leave_folder)

int main(void)
{
    const struct CMUnitTest tests[] = {
        IN_FOLDER(reads_what_was_saved),
        IN_FOLDER(says_why_it_cannot_read),
        IN_FOLDER(a_file_beyond_the_limit_is_refused),
        IN_FOLDER(reads_a_pipe),
        IN_FOLDER(a_new_file_gets_the_usual_mode),
        IN_FOLDER(the_mode_is_kept),
        IN_FOLDER(links_are_followed),
        IN_FOLDER(a_full_disk_leaves_the_old_file),
        IN_FOLDER(a_read_only_folder_stays_as_it_is),
        IN_FOLDER(a_read_only_file_is_not_replaced),
        IN_FOLDER(no_place_to_save),
        IN_FOLDER(a_device_is_written_straight),
        IN_FOLDER(every_allocation_may_fail),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
