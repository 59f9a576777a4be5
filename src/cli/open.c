/* lidmark PLAN: the window. */
#include <sys/stat.h>

#include "cli/commands.h"
#include "cli/house.h"
#include "window/window.h"

enum { OPTION_THEME, OPTION_SCALE, OPTION_SAMPLES, OPTION_CATALOG };

static const double least_scale = 0.5, most_scale = 4;

static Status read_theme(const char *word, const char **theme, Fault *fault)
{
    *theme = word;
    if (word == NULL || text_same(word, "day") || text_same(word, "dark") || text_same(word, "sun"))
        return STATUS_OK;
    fault_set(fault, STATUS_USAGE, "there is no theme \"%s\"", word);
    fault_advise(fault, "There are: day, dark, sun");
    return STATUS_USAGE;
}

static Status read_scale(const char *text, double *scale, Fault *fault)
{
    const char *end;
    *scale = 0;
    if (text == NULL)
        return STATUS_OK;
    if (number_parse(text, &end, scale) && *end == '\0' && *scale >= least_scale &&
        *scale <= most_scale)
        return STATUS_OK;
    return fault_set(fault, STATUS_USAGE, "--scale is a number from %g to %g, not \"%s\"",
                     least_scale, most_scale, text);
}

/* The sample houses as they are installed; NULL where they are not. */
static const char *installed_samples(void)
{
    struct stat info;
    return stat(LIDMARK_SAMPLES, &info) == 0 && S_ISDIR(info.st_mode) ? LIDMARK_SAMPLES : NULL;
}

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    (void)streams;
    Catalog *catalog = NULL;
    const char *samples = arguments->options[OPTION_SAMPLES];
    WindowOptions options = {.plan = arguments->operands[0],
                             .samples = samples != NULL ? samples : installed_samples()};
    Status status = read_theme(arguments->options[OPTION_THEME], &options.theme, fault);
    if (status == STATUS_OK)
        status = read_scale(arguments->options[OPTION_SCALE], &options.scale, fault);
    if (status == STATUS_OK)
        status = cli_catalog_open(arguments->options[OPTION_CATALOG], &catalog, fault);
    options.catalog = catalog;
    if (status == STATUS_OK)
        status = window_run(&options, fault);
    catalog_free(catalog);
    return status;
}

const CliCommand cli_open = {
    .name = NULL,
    .does = "Opens the window, on a plan or with the choice of one.",
    .more = "",
    .operands = {"PLAN"},
    .operands_optional = true,
    .options = {[OPTION_THEME] = {"--theme", "THEME", "day, dark or sun", false},
                [OPTION_SCALE] = {"--scale", "N", "how large everything is, 1 as drawn", false},
                [OPTION_SAMPLES] = {"--samples", "FOLDER", "where the sample houses are", false},
                [OPTION_CATALOG] = CLI_OPTION_CATALOG},
    .run = run,
};
