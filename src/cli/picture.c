/* lidmark picture: one level, the house in section, or a fan test, as PNG or SVG. */
#include <string.h>

#include "cli/choose.h"
#include "cli/commands.h"
#include "cli/house.h"
#include "draw/fan_plot.h"
#include "draw/picture.h"
#include "draw/section.h"
#include "lidmark/air.h"

enum {
    OPTION_LEVEL,
    OPTION_SECTION,
    OPTION_FAN_TEST,
    OPTION_OUT,
    OPTION_ATTIC,
    OPTION_LINE,
    OPTION_CATALOG
};

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

/* ---- the section's line ---- */

enum { LINE_NUMBERS = 4, LINE_TEXT = 64 };

/* The next length of a line, up to a semicolon, or up to a space where there are no semicolons. */
static const char *next_length(const char *from, bool semicolons, char text[LINE_TEXT])
{
    from += strspn(from, " ");
    size_t length = strcspn(from, semicolons ? ";" : " ");
    size_t kept = length < LINE_TEXT ? length : LINE_TEXT - 1;
    memcpy(text, from, kept);
    text[kept] = '\0';
    from += length;
    return from + (semicolons && *from == ';');
}

/* "x1 y1 x2 y2" in lengths as people write them; semicolons between them when they have spaces. */
static Status read_line(const char *from, GeomUnits units, SectionLine *line, Fault *fault)
{
    const char *whole = from;
    bool semicolons = strchr(from, ';') != NULL;
    int32_t numbers[LINE_NUMBERS];
    for (int i = 0; i < LINE_NUMBERS; i++) {
        char text[LINE_TEXT];
        from = next_length(from, semicolons, text);
        if (geom_length_parse(text, units, &numbers[i], fault) != STATUS_OK) {
            fault_advise(fault,
                         "Give --line as \"x1 y1 x2 y2\", such as \"0 12'6\" 44' 12'6\"\" or "
                         "\"0; 3.81 m; 13.4 m; 3.81 m\"");
            return fault_set(fault, STATUS_USAGE, "--line \"%s\" has no length where \"%s\" stands",
                             whole, text);
        }
    }
    if (from[strspn(from, " ;")] != '\0')
        return fault_set(fault, STATUS_USAGE, "--line \"%s\" has more than four lengths", whole);
    *line = (SectionLine){{numbers[0], numbers[1]}, {numbers[2], numbers[3]}};
    return STATUS_OK;
}

/* ---- what goes through the air ---- */

/* The section with the plan's own weather and the seals as found. */
static Status write_section(const CliArguments *arguments, const Air *air, Fault *fault)
{
    AirFlow *flow = NULL;
    SectionLine line, *own = NULL;
    const Plan *plan = air->envelope->plan;
    AirWeather weather = air_plan_weather(plan);
    Status status = air_flow_make(air, AIR_SEALS_FOUND, &weather, &flow, fault);
    if (status == STATUS_OK && arguments->options[OPTION_LINE] != NULL) {
        own = &line;
        status = read_line(arguments->options[OPTION_LINE], plan->settings.units, own, fault);
    }
    if (status == STATUS_OK)
        status = picture_section(air, flow, own, arguments->options[OPTION_OUT], fault);
    air_flow_free(flow);
    return status;
}

static const char *test_id(const void *things, int index)
{
    const Plan *plan = things;
    return plan->fan_tests[index].id;
}

static Status write_test(const CliArguments *arguments, const Air *air, Fault *fault)
{
    const Plan *plan = air->envelope->plan;
    int test = -1;
    Status status = cli_choose("fan test", arguments->options[OPTION_FAN_TEST], test_id, plan,
                               plan->fan_test_count, &test, fault);
    return status == STATUS_OK ? picture_fan_test(air, test, arguments->options[OPTION_OUT], fault)
                               : status;
}

static Status write_air(const CliArguments *arguments, const CliHouse *house, Fault *fault)
{
    Air *air = NULL;
    Status status = air_make(house->envelope, &air, fault);
    if (status == STATUS_OK)
        status = arguments->options[OPTION_SECTION] != NULL ? write_section(arguments, air, fault)
                                                            : write_test(arguments, air, fault);
    air_free(air);
    return status;
}

/* ---- the command ---- */

/* What is drawn has to be said, once. */
static Status check_options(const CliArguments *arguments, Fault *fault)
{
    bool level = arguments->options[OPTION_LEVEL] != NULL;
    bool section = arguments->options[OPTION_SECTION] != NULL;
    bool test = arguments->options[OPTION_FAN_TEST] != NULL;
    if (level + section + test != 1)
        return fault_set(fault, STATUS_USAGE, "give one of --level, --section and --fan-test");
    if (!level && arguments->options[OPTION_ATTIC] != NULL)
        return fault_set(fault, STATUS_USAGE, "--attic goes with --level");
    if (!section && arguments->options[OPTION_LINE] != NULL)
        return fault_set(fault, STATUS_USAGE, "--line goes with --section");
    return check_ending(arguments->options[OPTION_OUT], fault);
}

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    CliHouse house;
    Status status = check_options(arguments, fault);
    if (status == STATUS_OK)
        status = cli_output_check(arguments->operands[0], arguments->options[OPTION_OUT], fault);
    if (status == STATUS_OK)
        status = cli_house_open(arguments->operands[0], arguments->options[OPTION_CATALOG], streams,
                                &house, fault);
    if (status != STATUS_OK)
        return status;
    status = arguments->options[OPTION_LEVEL] != NULL ? write_level(arguments, &house, fault)
                                                      : write_air(arguments, &house, fault);
    cli_house_close(&house);
    return status;
}

const CliCommand cli_picture = {
    .name = "picture",
    .does = "One level, the house in section, or a fan test, as a picture (PNG or SVG).",
    .more = "",
    .operands = {"PLAN"},
    .options = {[OPTION_LEVEL] = {"--level", "ID", "the level, by its id in the plan file", false},
                [OPTION_SECTION] = {"--section", NULL,
                                    "the house cut where most air flows, with its pressures",
                                    false},
                [OPTION_FAN_TEST] = {"--fan-test", "ID",
                                     "flow over pressure of a fan test, by its id", false},
                [OPTION_OUT] = {"-o", "FILE", "the file to write, .png or .svg", true},
                [OPTION_ATTIC] = {"--attic", NULL, "the lid as seen from above it", false},
                [OPTION_LINE] = {"--line", "LINE", "where the section is cut: \"x1 y1 x2 y2\"",
                                 false},
                [OPTION_CATALOG] = CLI_OPTION_CATALOG},
    .run = run,
};
