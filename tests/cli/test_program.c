/* The program as a person calls it: arguments in; exit code, answer and message out. */
#include <fcntl.h>
#include <setjmp.h>
#include <spawn.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include "lidmark/base.h"

#include <cmocka.h>

extern char **environ;

enum { ARGUMENTS = 12, PARTS = 4 };

typedef struct Row {
    char *arguments[ARGUMENTS];
    int exit;
    const char *out[PARTS], *err[PARTS]; /* what has to be in them; none: they have to be empty */
} Row;

/* ---- running ----------------------------------------------------------------------------------- */

/* Runs the program with its streams in the files out and err. */
static int run_program(char *const *arguments, const char *out)
{
    char *texts[ARGUMENTS + 2] = {LIDMARK_PROGRAM};
    int ended;
    pid_t child;
    for (int i = 0; i < ARGUMENTS && arguments[i] != NULL; i++)
        texts[i + 1] = arguments[i];

    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, 1, out, O_WRONLY | O_CREAT | O_TRUNC, 0600);
    posix_spawn_file_actions_addopen(&actions, 2, "err", O_WRONLY | O_CREAT | O_TRUNC, 0600);
    assert_int_equal(posix_spawn(&child, LIDMARK_PROGRAM, &actions, NULL, texts, environ), 0);
    posix_spawn_file_actions_destroy(&actions);
    assert_int_equal(waitpid(child, &ended, 0), child);
    assert_true(WIFEXITED(ended));
    return WEXITSTATUS(ended);
}

static char *whole_file(const char *path)
{
    char *bytes;
    size_t length;
    assert_int_equal(file_read(path, &bytes, &length, NULL), STATUS_OK);
    return bytes;
}

static void check_parts(const char *path, const char *const *parts, const Row *row)
{
    char *text = whole_file(path);
    bool wrong = parts[0] == NULL && text[0] != '\0';
    for (int i = 0; i < PARTS && parts[i] != NULL; i++)
        wrong |= strstr(text, parts[i]) == NULL;
    if (wrong)
        print_error("%s %s ...: %s should %s%s, but is:\n%s\n",
                    row->arguments[0] != NULL ? row->arguments[0] : "",
                    row->arguments[0] != NULL && row->arguments[1] != NULL ? row->arguments[1] : "",
                    path, parts[0] != NULL ? "hold: " : "be empty",
                    parts[0] != NULL ? parts[0] : "", text);
    mem_free(text);
    assert_false(wrong);
}

static void check_rows(const Row *rows, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        int code = run_program(rows[i].arguments, "out");
        check_parts("out", rows[i].out, &rows[i]);
        check_parts("err", rows[i].err, &rows[i]);
        assert_int_equal(code, rows[i].exit);
    }
}

#define CHECK(rows) check_rows(rows, sizeof(rows) / sizeof((rows)[0]))

/* ---- the tables -------------------------------------------------------------------------------- */

static void help_and_version(void **state)
{
    (void)state;
    static const Row rows[] = {
        {{"--version"}, 0, {"lidmark 0."}, {0}},
        {{"--help"},
         0,
         {"lidmark [PLAN]", "lidmark totals PLAN [--json]", "Exit codes: 0 done"},
         {0}},
        {{"a.lidmark", "--help"}, 0, {"lidmark [PLAN]", "--theme "}, {0}},
        {{"totals", "--help"}, 0, {"lidmark totals PLAN", "--json ", "--catalog FILE "}, {0}},
        {{"totals", "--nonsense", "--help"}, 0, {"lidmark totals PLAN"}, {0}},
    };
    CHECK(rows);
}

static void wrong_usage(void **state)
{
    (void)state;
    static const Row rows[] = {
        {{"garden", "a"}, 2, {0}, {"\"garden\" is neither a command nor a plan", "--help"}},
        {{""}, 2, {0}, {"\"\" is neither a command nor a plan"}},
        {{"--nonsense"}, 2, {0}, {"there is no option --nonsense", "Usage: lidmark [PLAN]"}},
        {{"totals"}, 2, {0}, {"there is no PLAN", "Usage: lidmark totals PLAN [--json]"}},
        {{"totals", "a", "b"}, 2, {0}, {"there is no use for \"b\"", "Usage:"}},
        {{"totals", "a", "--jso"}, 2, {0}, {"there is no option --jso", "Usage:"}},
        {{"totals", "a", "--catalog"}, 2, {0}, {"--catalog needs a FILE", "Usage:"}},
        {{"totals", "--", "--help", "b"}, 2, {0}, {"there is no use for \"b\"", "Usage:"}},
    };
    CHECK(rows);
}

static void the_window_without_a_display(void **state)
{
    (void)state;
    static const Row rows[] = {
        {{0}, 1, {0}, {"display"}},
        {{"data/cabin.lidmark"}, 1, {0}, {"display"}},
        {{"data"}, 1, {0}, {"display"}},
        {{"data/cabin.lidmark", "b.lidmark"}, 2, {0}, {"there is no use for \"b.lidmark\""}},
        {{"data/cabin.lidmark", "--theme", "night"}, 2, {0}, {"day, dark, sun"}},
        {{"data/cabin.lidmark", "--scale", "1.5x"}, 2, {0}, {"--scale", "1.5x"}},
        {{"data/cabin.lidmark", "--scale", "9"}, 2, {0}, {"--scale", "9"}},
        {{"data/cabin.lidmark", "--catalog", "data/cabin.lidmark"}, 1, {0}, {"cabin.lidmark"}},
    };
    unsetenv("DISPLAY");
    unsetenv("WAYLAND_DISPLAY");
    unsetenv("SDL_VIDEODRIVER");
    CHECK(rows);
}

static void totals(void **state)
{
    (void)state;
    static const Row rows[] = {
        {{"totals", "data/cabin.lidmark"}, 0, {"Cabin\n"}, {0}},
        {{"totals", "data/cabin.lidmark", "--json"},
         0,
         {"\"plan\": \"Cabin\"", "\"perimeter_mm\": 22000", "\"floor_area_mm2\": 28000000",
          "\"total_mm\": 52000"},
         {0}},
        {{"totals", "--json", "data/empty.lidmark"},
         0,
         {"\"perimeter_mm\": 0", "\"walls\": []"},
         {"data/empty.lidmark: note: "}},
        {{"totals", "data/rounded.lidmark"},
         0,
         {"Rounded"},
         {"data/rounded.lidmark: note: 2 lengths were rounded", "/levels/0/height_mm"}},
    };
    CHECK(rows);
}

static void flow(void **state)
{
    (void)state;
    static const Row rows[] = {
        {{"flow", "data/cabin.lidmark"}, 0, {"Cabin"}, {0}},
        {{"flow", "data/cabin.lidmark", "--json", "--seals", "none"},
         0,
         {"\"seals\": \"none\"", "\"at_50_pa\": {\"volume_mm3\": 67200000000"},
         {0}},
        {{"flow", "data/cabin.lidmark", "--seals", "some"}, 2, {0}, {"--seals", "some", "Usage:"}},
        {{"flow", "data/cabin.lidmark", "--today", "2026-05-27"}, 0, {"Cabin"}, {0}},
        {{"flow", "data/cabin.lidmark", "--today", "27.5.2026"}, 2, {0}, {"--today", "2026-05-27"}},
        {{"flow", "data/overlap.lidmark"}, 1, {0}, {"data/overlap.lidmark: "}},
    };
    CHECK(rows);
}

static void picture_usage(void **state)
{
    (void)state;
    static const Row rows[] = {
        {{"picture", "data/cabin.lidmark", "-o", "x.png"},
         2,
         {0},
         {"--level, --section and --fan-test"}},
        {{"picture", "data/cabin.lidmark", "--section", "--level", "L1", "-o", "x.png"},
         2,
         {0},
         {"--level, --section and --fan-test"}},
        {{"picture", "data/cabin.lidmark", "--section", "--attic", "-o", "x.png"},
         2,
         {0},
         {"--attic goes with --level"}},
        {{"picture", "data/cabin.lidmark", "--level", "L1"}, 2, {0}, {"there is no -o FILE"}},
        {{"picture", "data/cabin.lidmark", "--level", "L1", "-o", "x.gif"}, 2, {0}, {"x.gif"}},
        {{"picture", "data/cabin.lidmark", "--level", "L7", "-o", "x.png"},
         2,
         {0},
         {"there is no level \"L7\"", "There are: L1, L2"}},
        {{"picture", "data/empty.lidmark", "--level", "L1", "-o", "x.png"}, 1, {0}, {"nothing"}},
        {{"picture", "data/empty.lidmark", "--section", "-o", "x.png"}, 1, {0}, {"empty"}},
        {{"picture", "data/cabin.lidmark", "--fan-test", "T1", "-o", "x.png"},
         2,
         {0},
         {"there is no fan test \"T1\""}},
        {{"picture", "data/cabin.lidmark", "--fan-test", "T1", "--line", "0", "-o", "x.png"},
         2,
         {0},
         {"--line goes with --section"}},
        {{"picture", "data/cabin.lidmark", "--section", "--line", "0 0 4'", "-o", "x.png"},
         2,
         {0},
         {"has no length where \"\" stands"}},
        {{"picture", "data/cabin.lidmark", "--section", "--line", "0 0 4' 1 2", "-o", "x.png"},
         2,
         {0},
         {"more than four lengths"}},
        {{"picture", "data/cabin.lidmark", "--section", "--line", "1 1 1 1", "-o", "x.png"},
         1,
         {0},
         {"no length"}},
        {{"picture", "data/cabin.lidmark", "--level", "L1", "-o", "no/x.png"},
         1,
         {0},
         {"no/x.png: cannot be saved: there is no such file or folder"}},
    };
    CHECK(rows);
    assert_int_not_equal(access("x.png", F_OK), 0);
}

/* Runs the arguments twice and checks that the file they write begins with start and is the same both
 * times. Returns its bytes. */
static char *written_file(char *const *arguments, const char *path, const char *start)
{
    char *bytes[2];
    size_t length[2];
    for (int i = 0; i < 2; i++) {
        unlink(path);
        assert_int_equal(run_program(arguments, "out"), 0);
        assert_int_equal(file_read(path, &bytes[i], &length[i], NULL), STATUS_OK);
    }
    assert_int_equal(length[0], length[1]);
    assert_memory_equal(bytes[0], bytes[1], length[0]);
    assert_memory_equal(bytes[0], start, strlen(start));
    mem_free(bytes[1]);
    return bytes[0];
}

static void pictures(void **state)
{
    (void)state;
    static const char png[] = "\x89PNG\r\n\x1A\n", svg[] = "<?xml";
    static char *const rows[][ARGUMENTS] = {
        {"picture", "data/cabin.lidmark", "-o", "level.png", "--level", "L1"},
        {"picture", "data/cabin.lidmark", "-o", "level.svg", "--level", "L1"},
        {"picture", "data/cabin.lidmark", "-o", "attic.svg", "--level", "L1", "--attic"},
        {"picture", "data/cabin.lidmark", "-o", "section.png", "--section"},
        {"picture", "data/cabin.lidmark", "-o", "section.svg", "--section"},
        {"picture", "data/cabin.lidmark", "-o", "line.svg", "--section", "--line", "0 1m 4m 2m"},
        {"picture", "data/cabin.lidmark", "-o", "line.png", "--section", "--line",
         "0; 3' 2\"; 4 m; 9'"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        mem_free(written_file(rows[i], rows[i][3], strstr(rows[i][3], ".svg") ? svg : png));

    char *level = whole_file("level.svg"), *attic = whole_file("attic.svg");
    assert_string_not_equal(level, attic);
    mem_free(level);
    mem_free(attic);
}

static void sheets_usage(void **state)
{
    (void)state;
    static const Row rows[] = {
        {{"sheets", "data/cabin.lidmark"}, 2, {0}, {"there is no -o FILE.pdf"}},
        {{"sheets", "data/cabin.lidmark", "-o", "x.pdf", "--size", "a5"},
         2,
         {0},
         {"\"a5\"", "letter, tabloid, arch-d, a4, a3, a1"}},
        {{"sheets", "data/cabin.lidmark", "-o", "x.pdf", "--scale", "1:47"}, 2, {0}, {"1:47"}},
        {{"sheets", "data/cabin.lidmark", "-o", "x.pdf", "--trade", "magic"},
         2,
         {0},
         {"there is no trade \"magic\"", "framing, electrical"}},
        {{"sheets", "data/missing.lidmark", "-o", "x.pdf"}, 1, {0}, {"data/missing.lidmark"}},
        {{"sheets", "data/cabin.lidmark", "-o", "data"}, 1, {0}, {"data: ", "folder"}},
        {{"schedule", "data/cabin.lidmark"}, 2, {0}, {"there is no -o FILE.csv"}},
        {{"schedule", "data/cabin.lidmark", "-o", "no/x.csv"}, 1, {0}, {"no/x.csv: "}},
    };
    CHECK(rows);
    assert_int_not_equal(access("x.pdf", F_OK), 0);
}

static void sheets(void **state)
{
    (void)state;
    static char *const rows[][ARGUMENTS] = {
        {"sheets", "data/cabin.lidmark", "-o", "usual.pdf"},
        {"sheets", "data/cabin.lidmark", "-o", "letter.pdf", "--size", "letter"},
        {"sheets", "data/cabin.lidmark", "-o", "scale.pdf", "--size=a4", "--scale", "1:100"},
        {"sheets", "data/cabin.lidmark", "-o", "trade.pdf", "--trade", "electrical"},
        {"sheets", "data/cabin.lidmark", "-o", "mono.pdf", "--mono"},
    };
    setenv("SOURCE_DATE_EPOCH", "1780000000", 1);
    char *usual = written_file(rows[0], "usual.pdf", "%PDF-");
    for (size_t i = 1; i < sizeof rows / sizeof rows[0]; i++) {
        char *other = written_file(rows[i], rows[i][3], "%PDF-");
        struct stat first, second;
        assert_int_equal(stat("usual.pdf", &first), 0);
        assert_int_equal(stat(rows[i][3], &second), 0);
        assert_true(first.st_size != second.st_size || /* the option did something */
                    memcmp(usual, other, (size_t)first.st_size) != 0);
        mem_free(other);
    }
    mem_free(usual);
    unsetenv("SOURCE_DATE_EPOCH");
}

static void schedule(void **state)
{
    (void)state;
    static char *const arguments[ARGUMENTS] = {"schedule", "data/cabin.lidmark", "-o", "x.csv"};
    char *text = written_file(arguments, "x.csv", "");
    assert_non_null(strstr(text, "1J"));
    assert_non_null(strstr(text, "1E"));
    mem_free(text);
}

static void replay_scripts(void **state)
{
    (void)state;
    static const Row rows[] = {
        {{"replay", "data/cabin.lidmark"}, 2, {0}, {"there is no SCRIPT", "Usage:"}},
        {{"replay", "data/cabin.lidmark", "data/hole.replay"}, 0, {0}, {0}},
        {{"replay", "-", "data/start.replay"}, 0, {0}, {0}},
        {{"replay", "data/cabin.lidmark", "data/start.replay"},
         1,
         {0},
         {"data/start.replay:1:", "not \"start\""}},
        {{"replay", "data/cabin.lidmark", "data/wrong-expectation.replay"},
         1,
         {0},
         {"data/wrong-expectation.replay:3:", "hand is \"pick\""}},
        {{"replay", "data/cabin.lidmark", "data/no-action.replay"},
         1,
         {0},
         {"data/no-action.replay:3:1: ", "whistle"}},
        {{"replay", "data/cabin.lidmark", "data/missing.replay"},
         1,
         {0},
         {"data/missing.replay: ", "no such file"}},
        {{"replay", "data/missing.lidmark", "data/hole.replay"}, 1, {0}, {"data/missing.lidmark"}},
    };
    CHECK(rows);
}

static void replay_writes(void **state)
{
    (void)state;
    static char *const picture[ARGUMENTS] = {"replay", "data/cabin.lidmark", "data/hole.replay",
                                             "--picture", "end.png"};
    static char *const saved[ARGUMENTS] = {"replay", "data/cabin.lidmark", "data/hole.replay",
                                           "--save", "end.lidmark"};
    static char *const before[ARGUMENTS] = {"totals", "data/cabin.lidmark", "--json"};
    static char *const after[ARGUMENTS] = {"totals", "end.lidmark", "--json"};
    mem_free(written_file(picture, "end.png", "\x89PNG\r\n\x1A\n"));
    mem_free(written_file(saved, "end.lidmark", "{"));

    assert_int_equal(run_program(before, "out"), 0);
    char *first = whole_file("out");
    assert_int_equal(run_program(after, "out"), 0);
    char *second = whole_file("out");
    assert_string_equal(first, second);
    mem_free(first);
    mem_free(second);
}

static void bad_input(void **state)
{
    (void)state;
    static const Row rows[] = {
        {{"totals", "data/missing.lidmark"}, 1, {0}, {"data/missing.lidmark: ", "no such file"}},
        {{"totals", "data"}, 1, {0}, {"data: ", "folder"}},
        {{"totals", "data/not-json.lidmark"}, 1, {0}, {"data/not-json.lidmark:2:"}},
        {{"totals", "data/unknown-kind.lidmark"},
         1,
         {0},
         {"data/unknown-kind.lidmark:4:", "conditoned", "/spaces/0/kind"}},
        {{"totals", "data/overlap.lidmark"},
         1,
         {0},
         {"data/overlap.lidmark: ", "Kitchen", "Bedroom"}},
        {{"picture", "data/empty.lidmark", "--level", "L1", "-o", "no.svg"},
         1,
         {0},
         {"data/empty.lidmark: ", "nothing on the level \"Ground floor\"", "another level"}},
        {{"picture", "data/empty.lidmark", "--level", "L1", "--attic", "-o", "no.svg"},
         1,
         {0},
         {"data/empty.lidmark: ", "no lid to draw"}},
        {{"picture", "data/empty.lidmark", "--section", "-o", "no.svg"},
         1,
         {0},
         {"data/empty.lidmark: ", "nothing to cut"}},
        {{"totals", "data/cabin.lidmark", "--catalog", "data/cabin.lidmark"},
         1,
         {0},
         {"data/cabin.lidmark"}},
        {{"totals", "data/cabin.lidmark", "--catalog", "data/missing.json"},
         1,
         {0},
         {"data/missing.json: "}},
    };
    CHECK(rows);
}

static void a_catalog_of_the_users_own(void **state)
{
    (void)state;
    char *catalog = text_format("%s/assets/catalog.json", LIDMARK_SOURCE_DIR);
    char *built_in[ARGUMENTS] = {"totals", "--json", "data/cabin.lidmark"};
    char *own[ARGUMENTS] = {"totals", "--json", "data/cabin.lidmark", "--catalog", catalog};
    assert_int_equal(run_program(built_in, "out"), 0);
    char *first = whole_file("out");
    assert_int_equal(run_program(own, "out"), 0);
    char *second = whole_file("out");
    assert_string_equal(first, second);
    mem_free(first);
    mem_free(second);
    mem_free(catalog);
}

static void an_answer_that_cannot_be_written(void **state)
{
    (void)state;
    static char *const rows[][ARGUMENTS] = {
        {"totals", "data/cabin.lidmark"}, {"--help"}, {"--version"}, {"totals", "--help"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        assert_int_equal(run_program(rows[i], "/dev/full"), 1);
        char *text = whole_file("err");
        assert_non_null(strstr(text, "standard output: cannot be written"));
        mem_free(text);
    }
}

/* A plan that has the name of what is to be written stays as it is, also when it is named otherwise. */
static void the_plan_is_not_written_over(void **state)
{
    (void)state;
    char *before = whole_file("data/cabin.lidmark");
    static Row rows[] = {
        {{"picture", "own.svg", "--section", "-o", "own.svg"}, 2, {0}, {"own.svg", "another file"}},
        {{"picture", "own.svg", "--level", "L1", "-o", "./own.svg"}, 2, {0}, {"the plan itself"}},
        {{"sheets", "own.svg", "-o", "other.pdf"}, 2, {0}, {"the plan itself"}},
        {{"schedule", "own.svg", "-o", "own.svg"}, 2, {0}, {"the plan itself"}},
    };
    unlink("other.pdf");
    assert_int_equal(file_save("own.svg", before, strlen(before), NULL), STATUS_OK);
    assert_int_equal(symlink("own.svg", "other.pdf"), 0);
    check_rows(rows, sizeof rows / sizeof *rows);
    char *after = whole_file("own.svg");
    assert_string_equal(after, before);
    mem_free(before);
    mem_free(after);
    unlink("other.pdf");
}

/* The plans of the test under a short name, so that messages are the same everywhere. */
static int link_data(void **state)
{
    (void)state;
    unlink("data");
    return symlink(LIDMARK_SOURCE_DIR "/tests/cli/data", "data");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(help_and_version),
        cmocka_unit_test(wrong_usage),
        cmocka_unit_test(the_window_without_a_display),
        cmocka_unit_test(totals),
        cmocka_unit_test(flow),
        cmocka_unit_test(picture_usage),
        cmocka_unit_test(pictures),
        cmocka_unit_test(sheets_usage),
        cmocka_unit_test(sheets),
        cmocka_unit_test(schedule),
        cmocka_unit_test(replay_scripts),
        cmocka_unit_test(replay_writes),
        cmocka_unit_test(bad_input),
        cmocka_unit_test(a_catalog_of_the_users_own),
        cmocka_unit_test(an_answer_that_cannot_be_written),
        cmocka_unit_test(the_plan_is_not_written_over),
    };
    return cmocka_run_group_tests(tests, link_data, NULL);
}
