/* lidmark picture: one level, or the house in section, as PNG or SVG. */
#include <string.h>

#include "cli/choose.h"
#include "cli/commands.h"
#include "cli/house.h"
#include "draw/plan_drawing.h"
#include "draw/section.h"
#include "lidmark/air.h"

enum { OPTION_LEVEL, OPTION_SECTION, OPTION_OUT, OPTION_ATTIC, OPTION_CATALOG };

enum {
    LONG_SIDE = 1600, /* of the plan with its margin, in pixels */
    MARGIN = 130,
    FOOT = 60,       /* under the plan, for scale bar and north */
    LEAST_SIDE = 500 /* so that a long narrow plan keeps room for them */
};

/* The picture is half as large again as the same plan on the screen. */
static const double reference_pixel = 1.5;

/* True for .svg, false for .png; STATUS_USAGE for anything else. */
static Status read_form(const char *path, bool *svg, Fault *fault)
{
    const char *dot = strrchr(path, '.');
    *svg = dot != NULL && strcmp(dot, ".svg") == 0;
    if (*svg || (dot != NULL && strcmp(dot, ".png") == 0))
        return STATUS_OK;
    return fault_set(fault, STATUS_USAGE, "%s ends neither in .png nor in .svg", path);
}

static const char *level_id(const void *things, int index)
{
    const Plan *plan = things;
    return plan->levels[index].id;
}

/* Size of the whole picture for a plan of that box. */
static PaintBox page_for(GeomPoint low, GeomPoint high)
{
    double width = (double)high.x - low.x, height = (double)high.y - low.y;
    double longer = width > height ? width : height;
    double scale = (LONG_SIDE - 2 * MARGIN) / (longer > 0 ? longer : 1);
    PaintBox page = {0, 0, width * scale + 2 * MARGIN, height * scale + 2 * MARGIN};
    if (page.width < LEAST_SIDE)
        page.width = LEAST_SIDE;
    if (page.height < LEAST_SIDE)
        page.height = LEAST_SIDE;
    page.height += FOOT;
    page.width = (int)page.width;
    page.height = (int)page.height;
    return page;
}

static void paint_level(Painter *painter, const Envelope *envelope, const PlanLook *look,
                        const PlanView *view, PaintBox page)
{
    double foot = page.height - FOOT * 0.6;
    plan_draw(painter, envelope, look, view, NULL);
    plan_draw_scale_bar(painter, look->theme, view, look->units, MARGIN, foot);
    plan_draw_north(painter, look->theme, envelope->plan->settings.north_deg,
                    page.width - MARGIN / 2.0, foot, reference_pixel);
}

static Status make_picture(const Envelope *envelope, int level, bool attic, bool svg, char **bytes,
                           size_t *length, Fault *fault)
{
    GeomPoint low, high;
    const Plan *plan = envelope->plan;
    if (!plan_bounds(plan, level, &low, &high))
        return fault_set(fault, STATUS_BAD_INPUT, "there is nothing on the level \"%s\" to draw",
                         plan->levels[level].name);
    PaintBox page = page_for(low, high), area = page;
    area.height -= FOOT;
    PlanView view = view_fit(low, high, area, MARGIN, reference_pixel);
    PlanLook look = plan_look_usual(&theme_paper, level);
    look.units = plan->settings.units;
    look.paper = true;
    look.attic_side = attic;
    Painter *painter = svg ? painter_on_svg(page.width, page.height)
                           : painter_on_png((int)page.width, (int)page.height, theme_paper.canvas);
    if (painter == NULL)
        return fault_set(fault, STATUS_MEMORY, "no memory left");
    paint_level(painter, envelope, &look, &view, page);
    return painter_finish(painter, bytes, length, fault);
}

static Status write_level(const CliArguments *arguments, const CliHouse *house, bool svg,
                          Fault *fault)
{
    bool attic = arguments->options[OPTION_ATTIC] != NULL;
    int level = -1;
    char *bytes = NULL;
    size_t length = 0;
    Status status = cli_choose("level", arguments->options[OPTION_LEVEL], level_id, house->plan,
                               house->plan->level_count, &level, fault);
    if (status == STATUS_OK)
        status = make_picture(house->envelope, level, attic, svg, &bytes, &length, fault);
    if (status == STATUS_OK)
        status = file_save(arguments->options[OPTION_OUT], bytes, length, fault);
    mem_free(bytes);
    return status;
}

/* The section with the plan's own weather and the seals as found. */
static Status write_section(const CliArguments *arguments, const CliHouse *house, Fault *fault)
{
    Air *air = NULL;
    AirFlow *flow = NULL;
    AirWeather weather = air_plan_weather(house->plan);
    Status status = air_make(house->envelope, &air, fault);
    if (status == STATUS_OK)
        status = air_flow_make(air, AIR_SEALS_FOUND, &weather, &flow, fault);
    if (status == STATUS_OK)
        status = picture_section(air, flow, arguments->options[OPTION_OUT], fault);
    air_flow_free(flow);
    air_free(air);
    return status;
}

/* What is drawn has to be said, once. */
static Status check_options(const CliArguments *arguments, bool *svg, Fault *fault)
{
    bool level = arguments->options[OPTION_LEVEL] != NULL;
    bool section = arguments->options[OPTION_SECTION] != NULL;
    if (level == section)
        return fault_set(fault, STATUS_USAGE, "give either --level or --section");
    if (section && arguments->options[OPTION_ATTIC] != NULL)
        return fault_set(fault, STATUS_USAGE, "--attic goes with --level");
    return read_form(arguments->options[OPTION_OUT], svg, fault);
}

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    CliHouse house;
    bool svg;
    Status status = check_options(arguments, &svg, fault);
    if (status == STATUS_OK)
        status = cli_house_open(arguments->operands[0], arguments->options[OPTION_CATALOG], streams,
                                &house, fault);
    if (status != STATUS_OK)
        return status;
    status = arguments->options[OPTION_SECTION] != NULL
                 ? write_section(arguments, &house, fault)
                 : write_level(arguments, &house, svg, fault);
    cli_house_close(&house);
    return status;
}

const CliCommand cli_picture = {
    .name = "picture",
    .does = "One level, or the house in section, as a picture (PNG or SVG).",
    .more = "",
    .operands = {"PLAN"},
    .options = {[OPTION_LEVEL] = {"--level", "ID", "the level, by its id in the plan file", false},
                [OPTION_SECTION] = {"--section", NULL,
                                    "the house cut where most air flows, with its pressures",
                                    false},
                [OPTION_OUT] = {"-o", "FILE", "the file to write, .png or .svg", true},
                [OPTION_ATTIC] = {"--attic", NULL, "the lid as seen from above it", false},
                [OPTION_CATALOG] = CLI_OPTION_CATALOG},
    .run = run,
};
