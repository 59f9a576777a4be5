/* How fast plans are read, written, copied and changed: bench_plan PLAN...
 *
 * One line of JSON for each case. Without a plan on the command line a plan of many rooms is made. */
#include <stdlib.h>
#include <string.h>

#include "lidmark/plan.h"

enum { REPEATS = 7, ROOMS = 20000, STEPS = 1000 };

static void must(bool holds, const char *what)
{
    if (holds)
        return;
    fprintf(stderr, "%s\n", what);
    exit(EXIT_FAILURE);
}

static int compare(const void *a, const void *b)
{
    double left = *(const double *)a, right = *(const double *)b;
    return (left > right) - (left < right);
}

static void report(const char *name, const char *what, double *seconds, size_t bytes)
{
    qsort(seconds, REPEATS, sizeof *seconds, compare);
    printf("{\"case\": \"%s\", \"plan\": \"%s\", \"bytes\": %zu, \"ms\": %.3f, \"least_ms\": %.3f, "
           "\"mb_s\": %.1f}\n",
           name, what, bytes, seconds[REPEATS / 2] * 1e3, seconds[0] * 1e3,
           (double)bytes / seconds[REPEATS / 2] / 1e6);
}

static void bench_reading(const char *what, const char *bytes, size_t length,
                          const Catalog *catalog)
{
    double seconds[REPEATS];
    for (int i = 0; i < REPEATS; i++) {
        Plan *plan;
        double start = clock_seconds();
        must(plan_read(bytes, length, what, catalog, &plan, NULL, NULL) == STATUS_OK, "not read");
        plan_free(plan);
        seconds[i] = clock_seconds() - start;
    }
    report("read", what, seconds, length);
}

static void bench_writing(const char *what, const Plan *plan)
{
    double seconds[REPEATS];
    size_t length = 0;
    for (int i = 0; i < REPEATS; i++) {
        TextBuffer text = {0};
        double start = clock_seconds();
        must(plan_write(plan, &text) == STATUS_OK, "not written");
        seconds[i] = clock_seconds() - start;
        length = (size_t)text.length;
        text_free(&text);
    }
    report("write", what, seconds, length);
}

static void bench_copying(const char *what, const Plan *plan, size_t length)
{
    double seconds[REPEATS];
    for (int i = 0; i < REPEATS; i++) {
        double start = clock_seconds();
        Plan *copy = plan_copy(plan);
        must(copy != NULL, "not copied");
        plan_free(copy);
        seconds[i] = clock_seconds() - start;
    }
    report("copy", what, seconds, length);
}

/* Steps that each put a hole into the plan, then all undone and done again. */
static void bench_changes(const char *what, const Plan *plan)
{
    double seconds[REPEATS];
    for (int i = 0; i < REPEATS; i++) {
        PlanDoc *doc = doc_new(plan_copy(plan));
        double start = clock_seconds();
        must(doc != NULL, "no document");
        for (int k = 0; k < STEPS; k++) {
            PlanRecord record;
            must(plan_record_new(doc_plan(doc), PLAN_PENETRATIONS, &record) == STATUS_OK,
                 "no hole");
            must(doc_begin(doc, "a hole") == STATUS_OK, "no step");
            must(doc_insert(doc, PLAN_PENETRATIONS, 0, &record) == STATUS_OK, "not put in");
            doc_commit(doc);
        }
        while (doc_undo(doc))
            continue;
        while (doc_redo(doc))
            continue;
        seconds[i] = clock_seconds() - start;
        doc_free(doc);
    }
    report("1000 steps", what, seconds, 0);
}

static void bench_all(const char *what, const char *bytes, size_t length, const Catalog *catalog)
{
    Plan *plan;
    bench_reading(what, bytes, length, catalog);
    must(plan_read(bytes, length, what, catalog, &plan, NULL, NULL) == STATUS_OK, "not read");
    bench_writing(what, plan);
    bench_copying(what, plan, length);
    bench_changes(what, plan);
    plan_free(plan);
}

static void make_rooms(TextBuffer *text)
{
    text_add(text, "{\"format\": \"lidmark-plan\", \"version\": 1, \"levels\": [{\"id\": \"L\", "
                   "\"floor_mm\": 0, \"height_mm\": 2400}], \"spaces\": [");
    for (int i = 0; i < ROOMS; i++) {
        int x = i % 100 * 4000, y = i / 100 * 3000;
        text_addf(text,
                  "%s{\"id\": \"room-%d\", \"level\": \"L\", \"name\": \"Room %d\", \"kind\": "
                  "\"conditioned\", \"outline_mm\": [[%d, %d], [%d, %d], [%d, %d], [%d, %d]]}",
                  i > 0 ? ",\n" : "", i, i, x, y, x + 4000, y, x + 4000, y + 3000, x, y + 3000);
    }
    text_add(text, "]}");
}

int main(int argc, char **argv)
{
    Catalog *catalog = catalog_built_in(NULL);
    must(catalog != NULL, "no catalog");
    for (int i = 1; i < argc; i++) {
        char *bytes;
        size_t length;
        must(file_read(argv[i], &bytes, &length, NULL) == STATUS_OK, argv[i]);
        bench_all(argv[i], bytes, length, catalog);
        mem_free(bytes);
    }
    if (argc < 2) {
        TextBuffer text = {0};
        make_rooms(&text);
        bench_all("20000 rooms", text.bytes, (size_t)text.length, catalog);
        text_free(&text);
    }
    catalog_free(catalog);
    return EXIT_SUCCESS;
}
