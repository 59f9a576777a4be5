/* lidmark sheets: the sheet set as PDF. */
#include <stdlib.h>
#include <time.h>

#include "cli/choose.h"
#include "cli/commands.h"
#include "cli/house.h"
#include "paper/paper.h"

enum { OPTION_OUT, OPTION_SIZE, OPTION_SCALE, OPTION_TRADE, OPTION_MONO, OPTION_CATALOG };
enum { DATE_SIZE = 32 };

static const char *size_word(const void *things, int index)
{
    (void)things;
    return paper_size_word((PaperSize)index);
}

static const char *trade_word(const void *things, int index)
{
    const Catalog *catalog = things;
    return catalog->trades[index].word;
}

/* Today as ISO date. SOURCE_DATE_EPOCH (seconds, UTC) takes its place where prints have to be the
 * same byte for byte. */
static void write_date(char date[DATE_SIZE])
{
    struct tm day = {0};
    const char *fixed = getenv("SOURCE_DATE_EPOCH");
    time_t now = fixed != NULL ? (time_t)strtoll(fixed, NULL, 10) : time(NULL);
    if (fixed != NULL)
        gmtime_r(&now, &day);
    else
        localtime_r(&now, &day);
    strftime(date, DATE_SIZE, "%Y-%m-%d", &day);
}

static Status read_options(const CliArguments *arguments, const CliHouse *house,
                           SheetOptions *options, Fault *fault)
{
    const char *size = arguments->options[OPTION_SIZE];
    const char *scale = arguments->options[OPTION_SCALE];
    const char *trade = arguments->options[OPTION_TRADE];
    const Catalog *catalog = house->catalog;
    int chosen = (int)options->size;
    Status status = STATUS_OK;
    if (size != NULL)
        status = cli_choose("paper size", size, size_word, NULL, PAPER_SIZE_COUNT, &chosen, fault);
    options->size = (PaperSize)chosen;
    if (status == STATUS_OK && scale != NULL)
        status = paper_scale_parse(scale, &options->scale, fault);
    if (status == STATUS_OK && trade != NULL)
        status = cli_choose("trade", trade, trade_word, catalog, catalog->trade_count,
                            &options->trade, fault);
    options->mono = arguments->options[OPTION_MONO] != NULL;
    return status == STATUS_BAD_INPUT ? STATUS_USAGE : status;
}

static Status write_sheets(const CliArguments *arguments, const CliHouse *house,
                           TextBuffer *messages, Fault *fault)
{
    char date[DATE_SIZE], *pdf = NULL;
    size_t length = 0;
    SheetOptions options = sheet_options_usual(house->plan);
    Status status = read_options(arguments, house, &options, fault);
    write_date(date);
    options.printed_on = date;
    options.messages = messages;
    if (status == STATUS_OK)
        status = sheets_make(house->envelope, &options, &pdf, &length, fault);
    if (status == STATUS_OK)
        status = file_save(arguments->options[OPTION_OUT], pdf, length, fault);
    mem_free(pdf);
    return status;
}

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    CliHouse house;
    TextBuffer messages = {0};
    Status status = cli_output_check(arguments->operands[0], arguments->options[OPTION_OUT], fault);
    if (status == STATUS_OK)
        status = cli_house_open(arguments->operands[0], arguments->options[OPTION_CATALOG], streams,
                                &house, fault);
    if (status != STATUS_OK)
        return status;
    status = write_sheets(arguments, &house, &messages, fault);
    if (messages.length > 0)
        fputs(messages.bytes, streams->err);
    text_free(&messages);
    cli_house_close(&house);
    return status;
}

const CliCommand cli_sheets = {
    .name = "sheets",
    .does = "The sheet set as PDF: cover, plans to scale, attic sides, schedules.",
    .more = "Sizes: letter, tabloid, arch-d, a4, a3, a1. Without one tabloid, or a3 for a\n"
            "metric plan. Scales: the standard ones, such as 1:48 or 1:50. Without one, or\n"
            "with fit, the largest that fits.\n",
    .operands = {"PLAN"},
    .options = {[OPTION_OUT] = {"-o", "FILE.pdf", "the file to write", true},
                [OPTION_SIZE] = {"--size", "SIZE", "of the paper", false},
                [OPTION_SCALE] = {"--scale", "SCALE", "of the plans, or fit", false},
                [OPTION_TRADE] = {"--trade", "TRADE", "what this trade has to do", false},
                [OPTION_MONO] = {"--mono", NULL, "black and white, for fax and copies", false},
                [OPTION_CATALOG] = CLI_OPTION_CATALOG},
    .run = run,
};
