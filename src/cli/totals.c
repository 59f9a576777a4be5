/* lidmark totals: what the boundary measures and what is not yet sealed. */
#include "cli/commands.h"
#include "cli/house.h"

enum { OPTION_JSON, OPTION_CATALOG };

/* The text has the findings of the derivation in it, the JSON has no place for them: nobody shall take
 * the totals of a plan with a slip in it for whole. */
static void tell_notes(const char *path, const Envelope *envelope, FILE *err)
{
    TextBuffer text = {0};
    for (int i = 0; i < envelope->note_count; i++) {
        text_add_line(&text, path);
        text_add(&text, ": note: ");
        text_add_line(&text, envelope->notes[i].text);
        text_add(&text, "\n");
    }
    if (text.length > 0 && !text.failed)
        fputs(text.bytes, err);
    text_free(&text);
}

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    const char *path = arguments->operands[0];
    CliHouse house;
    TextBuffer text = {0};
    Status status =
        cli_house_open(path, arguments->options[OPTION_CATALOG], streams, &house, fault);
    if (status != STATUS_OK)
        return status;
    bool json = arguments->options[OPTION_JSON] != NULL;
    status = json ? envelope_totals_json(house.envelope, &text)
                  : envelope_totals_text(house.envelope, &text);
    if (json)
        tell_notes(path, house.envelope, streams->err);
    text.failed |= status != STATUS_OK;
    status = cli_text_print(&text, streams, fault);
    cli_house_close(&house);
    return status;
}

const CliCommand cli_totals = {
    .name = "totals",
    .does = "Boundary, joints, penetrations and the hole on paper.",
    .more = "Numbers are in the plan's own units, with --json in millimetres.\n",
    .operands = {"PLAN"},
    .options = {[OPTION_JSON] = {"--json", NULL, "as JSON, for other programs", false},
                [OPTION_CATALOG] = CLI_OPTION_CATALOG},
    .run = run,
};
