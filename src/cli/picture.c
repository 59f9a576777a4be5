/* lidmark picture: one level, or the house in section, as PNG or SVG. */
#include <string.h>

#include "cli/choose.h"
#include "cli/commands.h"
#include "cli/house.h"
#include "draw/picture.h"
#include "draw/section.h"
#include "lidmark/air.h"

enum { OPTION_LEVEL, OPTION_SECTION, OPTION_OUT, OPTION_ATTIC, OPTION_CATALOG };

/* The ending says what is written; checked before anything is read. */
static Status check_ending(const char *path, Fault *fault)
{
    const char *dot = strrchr(path, '.');
    if (dot != NULL && (strcmp(dot, ".png") == 0 || strcmp(dot, ".svg") == 0))
        return STATUS_OK;
    return fault_set(fault, STATUS_USAGE, "%s ends neither in .png nor in .svg", path);
}

static const char *level_id(const void *things, int index)
{
    const Plan *plan = things;
    return plan->levels[index].id;
}

static Status write_level(const CliArguments *arguments, const CliHouse *house, Fault *fault)
{
    int level = -1;
    Status status = cli_choose("level", arguments->options[OPTION_LEVEL], level_id, house->plan,
                               house->plan->level_count, &level, fault);
    if (status == STATUS_OK)
        status = picture_level(house->envelope, level, arguments->options[OPTION_ATTIC] != NULL,
                               arguments->options[OPTION_OUT], 0, 0, fault);
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
static Status check_options(const CliArguments *arguments, Fault *fault)
{
    bool level = arguments->options[OPTION_LEVEL] != NULL;
    bool section = arguments->options[OPTION_SECTION] != NULL;
    if (level == section)
        return fault_set(fault, STATUS_USAGE, "give either --level or --section");
    if (section && arguments->options[OPTION_ATTIC] != NULL)
        return fault_set(fault, STATUS_USAGE, "--attic goes with --level");
    return check_ending(arguments->options[OPTION_OUT], fault);
}

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    CliHouse house;
    Status status = check_options(arguments, fault);
    if (status == STATUS_OK)
        status = cli_house_open(arguments->operands[0], arguments->options[OPTION_CATALOG], streams,
                                &house, fault);
    if (status != STATUS_OK)
        return status;
    status = arguments->options[OPTION_SECTION] != NULL ? write_section(arguments, &house, fault)
                                                        : write_level(arguments, &house, fault);
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
