/* How long a repaint takes: bench_draw PLAN...
 *
 * Each level of each plan is painted whole on a picture of 1920 x 1080, as the window does for a
 * frame, and as a sheet into a PDF; then a made up plan of many rooms with 100 000 marks in view.
 * One line of JSON for each case. */
#include <stdlib.h>
#include <string.h>

#include "draw/plan_drawing.h"

enum {
    REPEATS = 15,
    WIDTH = 1920,
    HEIGHT = 1080,
    ROOMS_ACROSS = 50,
    ROOMS_DOWN = 20,
    MARKS = 100000
};

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

static void report(const char *name, const char *plan, const char *level, double *seconds,
                   int count)
{
    qsort(seconds, (size_t)count, sizeof *seconds, compare);
    printf("{\"case\": \"%s\", \"plan\": \"%s\", \"level\": \"%s\", \"ms\": %.3f, \"least_ms\": "
           "%.3f}\n",
           name, plan, level, seconds[count / 2] * 1e3, seconds[0] * 1e3);
}

static PlanView fitted(const Plan *plan, int level, double rp)
{
    GeomPoint low = {0, 0}, high = {0, 0};
    plan_bounds(plan, level, &low, &high);
    return view_fit(low, high, (PaintBox){0, 0, WIDTH, HEIGHT}, 90.0, rp);
}

/* The first frame after a change fills the painter's store; the rest are what panning costs. */
static void bench_screen(const char *name, const Envelope *envelope, int level,
                         unsigned char *pixels)
{
    const Plan *plan = envelope->plan;
    double seconds[REPEATS];
    PlanLook look = plan_look_usual(&theme_day, level);
    PlanView view = fitted(plan, level, 1.0);
    Painter *painter = painter_on_pixels(pixels, WIDTH, HEIGHT, WIDTH * 4);
    must(painter != NULL, "no memory");
    for (int i = -1; i < REPEATS; i++) {
        double start = clock_seconds();
        paint_box(painter, view.area);
        paint_fill(painter, theme_day.canvas, false);
        plan_draw(painter, envelope, &look, &view, NULL);
        painter_flush(painter);
        double taken = clock_seconds() - start;
        if (i < 0)
            report("screen first", name, plan->levels[level].id, &taken, 1);
        else
            seconds[i] = taken;
    }
    report("screen", name, plan->levels[level].id, seconds, REPEATS);
    must(painter_finish(painter, NULL, NULL, NULL) == STATUS_OK, "not drawn");
}

static void bench_sheet(const char *name, const Envelope *envelope, int level)
{
    const Plan *plan = envelope->plan;
    PlanLook look = plan_look_usual(&theme_paper, level);
    PlanView view = fitted(plan, level, THEME_RP_IN_POINTS);
    look.paper = look.run_tags = true;
    double start = clock_seconds();
    Painter *painter = painter_on_pdf(WIDTH, HEIGHT, "bench", "2026-01-01T00:00:00Z");
    must(painter != NULL, "no memory");
    plan_draw(painter, envelope, &look, &view, NULL);
    must(painter_finish(painter, NULL, NULL, NULL) == STATUS_OK, "not drawn");
    double taken = clock_seconds() - start;
    report("sheet", name, plan->levels[level].id, &taken, 1);
}

static void bench_plan(const char *name, const Plan *plan, bool sheets, unsigned char *pixels)
{
    Envelope *envelope = NULL;
    must(envelope_make(plan, &envelope, NULL) == STATUS_OK, "not derived");
    for (int level = 0; level < plan->level_count; level++) {
        bench_screen(name, envelope, level, pixels);
        if (sheets)
            bench_sheet(name, envelope, level);
    }
    envelope_free(envelope);
}

/* ---- many marks ------------------------------------------------------------------------------ */

static void add_rooms(TextBuffer *text)
{
    for (int i = 0; i < ROOMS_ACROSS * ROOMS_DOWN; i++) {
        int x = i % ROOMS_ACROSS * 4000, y = i / ROOMS_ACROSS * 4000;
        text_addf(text,
                  "%s{\"id\": \"S%d\", \"level\": \"L1\", \"name\": \"Room %d\", \"kind\": "
                  "\"conditioned\", \"outline_mm\": [[%d,%d],[%d,%d],[%d,%d],[%d,%d]]}",
                  i > 0 ? "," : "", i, i, x, y, x + 4000, y, x + 4000, y + 4000, x, y + 4000);
    }
}

static void add_marks(TextBuffer *text)
{
    static const char *const kinds[] = {"recessed_light", "surface_light", "duct_boot",
                                        "plumbing_vent", "wire_hole"};
    Random random = {1};
    for (int i = 0; i < MARKS; i++) {
        int x = random_int(&random, 0, ROOMS_ACROSS * 4000);
        int y = random_int(&random, 0, ROOMS_DOWN * 4000);
        text_addf(text,
                  "%s{\"id\": \"P%d\", \"tag\": \"%dE\", \"level\": \"L1\", \"kind\": \"%s\", "
                  "\"plane\": \"ceiling\", \"at_mm\": [%d,%d], \"method\": \"%s\"}",
                  i > 0 ? "," : "", i, i, kinds[i % 5], x, y, i % 3 != 0 ? "gasket" : "none");
    }
}

static Plan *many_marks(const Catalog *catalog)
{
    TextBuffer text = {0};
    Plan *plan = NULL;
    text_add(&text,
             "{\"format\": \"lidmark-plan\", \"version\": 1, \"name\": \"many\", \"levels\": "
             "[{\"id\": \"L1\", \"name\": \"L1\", \"floor_mm\": 0, \"height_mm\": 2400}], "
             "\"spaces\": [");
    add_rooms(&text);
    text_add(&text, "], \"penetrations\": [");
    add_marks(&text);
    text_add(&text, "]}");
    must(!text.failed, "no memory");
    must(plan_read(text.bytes, (size_t)text.length, "many", catalog, &plan, NULL, NULL) ==
             STATUS_OK,
         "not read");
    text_free(&text);
    return plan;
}

int main(int argc, char **argv)
{
    Catalog *catalog = catalog_built_in(NULL);
    unsigned char *pixels = mem_alloc((size_t)WIDTH * HEIGHT, 4);
    must(catalog != NULL && pixels != NULL, "no memory");
    for (int i = 1; i < argc; i++) {
        Plan *plan = NULL;
        must(plan_load(argv[i], catalog, &plan, NULL, NULL) == STATUS_OK, "not loaded");
        bench_plan(argv[i], plan, true, pixels);
        plan_free(plan);
    }
    Plan *many = many_marks(catalog);
    bench_plan("100000 marks", many, false, pixels);
    plan_free(many);
    mem_free(pixels);
    catalog_free(catalog);
    return EXIT_SUCCESS;
}
