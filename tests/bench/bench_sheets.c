/* How long a whole sheet set takes, and the schedule: bench_sheets PLAN...
 *
 * Each plan is printed in every size, derivation not counted, as a PDF in memory; median and least of
 * a few repeats. One line of JSON for each case. The goal: the set of a house in 300 ms. */
#include <stdlib.h>

#include "paper/paper.h"

enum { REPEATS = 7 };

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

static void report(const char *plan, const char *what, double *seconds, size_t bytes)
{
    qsort(seconds, REPEATS, sizeof *seconds, compare);
    printf(
        "{\"plan\": \"%s\", \"what\": \"%s\", \"ms\": %.1f, \"least_ms\": %.1f, \"bytes\": %zu}\n",
        plan, what, seconds[REPEATS / 2] * 1e3, seconds[0] * 1e3, bytes);
}

static void bench_sheets(const char *plan, const Envelope *envelope, PaperSize size)
{
    double seconds[REPEATS];
    size_t length = 0;
    SheetOptions options = sheet_options_usual(envelope->plan);
    options.size = size;
    for (int i = 0; i < REPEATS; i++) {
        char *pdf;
        Fault fault;
        fault_clear(&fault);
        double start = clock_seconds();
        must(sheets_make(envelope, &options, &pdf, &length, &fault) == STATUS_OK, fault.reason);
        seconds[i] = clock_seconds() - start;
        mem_free(pdf);
    }
    report(plan, paper_size_word(size), seconds, length);
}

static void bench_schedule(const char *plan, const Envelope *envelope)
{
    double seconds[REPEATS];
    size_t length = 0;
    for (int i = 0; i < REPEATS; i++) {
        TextBuffer csv = {0};
        double start = clock_seconds();
        must(schedule_make(envelope, &csv) == STATUS_OK, "no memory");
        seconds[i] = clock_seconds() - start;
        length = (size_t)csv.length;
        text_free(&csv);
    }
    report(plan, "schedule", seconds, length);
}

int main(int count, char **paths)
{
    Fault fault;
    fault_clear(&fault);
    Catalog *catalog = catalog_built_in(&fault);
    must(catalog != NULL, fault.reason);
    for (int i = 1; i < count; i++) {
        Plan *plan;
        Envelope *envelope;
        must(plan_load(paths[i], catalog, &plan, NULL, &fault) == STATUS_OK, fault.reason);
        must(envelope_make(plan, &envelope, &fault) == STATUS_OK, fault.reason);
        for (int size = 0; size < PAPER_SIZE_COUNT; size++)
            bench_sheets(paths[i], envelope, (PaperSize)size);
        bench_schedule(paths[i], envelope);
        envelope_free(envelope);
        plan_free(plan);
    }
    catalog_free(catalog);
    return EXIT_SUCCESS;
}
