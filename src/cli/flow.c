/* lidmark flow: what moves through the holes, now and at 50 Pa. */
#include <signal.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "cli/commands.h"
#include "cli/house.h"
#include "lidmark/air.h"

enum { OPTION_SEALS, OPTION_TODAY, OPTION_JSON, OPTION_CATALOG };

static Status read_seals(const char *word, AirSeals *seals, Fault *fault)
{
    int found = word != NULL ? air_seals_from_word(word) : (int)AIR_SEALS_FOUND;
    if (found < 0) {
        fault_set(fault, STATUS_USAGE, "--seals cannot be \"%s\"", word);
        fault_advise(fault, "Give none, specified or found");
        return STATUS_USAGE;
    }
    *seals = (AirSeals)found;
    return STATUS_OK;
}

/* ---- the day ---- */

enum { DAY_SIZE = 11 }; /* "2026-05-27" */

static bool is_day(const char *text)
{
    static const char form[] = "0000-00-00";
    for (size_t i = 0; i < sizeof form - 1; i++) {
        bool digit = text[i] >= '0' && text[i] <= '9';
        if (form[i] == '0' ? !digit : text[i] != form[i])
            return false;
    }
    return text[sizeof form - 1] == '\0';
}

/* The day that was given, else that of the clock here. */
static Status read_day(const char *word, char day[DAY_SIZE], Fault *fault)
{
    day[0] = '\0';
    if (word == NULL) {
        time_t now = time(NULL);
        struct tm here;
        if (localtime_r(&now, &here) == NULL || strftime(day, DAY_SIZE, "%Y-%m-%d", &here) == 0)
            day[0] = '\0';
        return STATUS_OK;
    }
    if (!is_day(word)) {
        fault_set(fault, STATUS_USAGE, "--today cannot be \"%s\"", word);
        fault_advise(fault, "Give a day as 2026-05-27");
        return STATUS_USAGE;
    }
    memcpy(day, word, DAY_SIZE);
    return STATUS_OK;
}

/* ---- long work: told on a terminal, stopped by Ctrl-C ---- */

static volatile sig_atomic_t interrupted;

static void interrupt(int signal)
{
    (void)signal;
    interrupted = 1;
}

typedef struct Watch {
    FILE *err;
    bool terminal, told;
    double start, last;
} Watch;

static bool watch_progress(void *user, int done, int all)
{
    Watch *watch = user;
    double now = clock_seconds();
    if (watch->terminal && now - watch->start > 1 && now - watch->last > 0.2) {
        fprintf(watch->err, "\rorder of work: %d of %d (Ctrl-C stops)", done, all);
        fflush(watch->err);
        watch->last = now;
        watch->told = true;
    }
    return !interrupted;
}

static Watch watch_start(FILE *err)
{
    double now = clock_seconds();
    int descriptor = fileno(err);
    return (Watch){err, descriptor >= 0 && isatty(descriptor) != 0, false, now, now};
}

static void watch_end(const Watch *watch)
{
    if (watch->told)
        fprintf(watch->err, "\r%50s\r", "");
}

/* ---- the command ---- */

static Status answer(const CliHouse *house, AirAsk *ask, bool json, FILE *err, TextBuffer *text,
                     Fault *fault)
{
    struct sigaction stop = {.sa_handler = interrupt}, before;
    Air *air = NULL;
    Status status = air_make(house->envelope, &air, fault);
    Watch watch = watch_start(err);
    ask->progress = watch_progress;
    ask->user = &watch;
    interrupted = 0;
    sigemptyset(&stop.sa_mask);
    bool caught = sigaction(SIGINT, &stop, &before) == 0;
    if (status == STATUS_OK)
        status = json ? air_json(air, ask, text, fault) : air_text(air, ask, text, fault);
    if (caught)
        sigaction(SIGINT, &before, NULL);
    watch_end(&watch);
    air_free(air);
    return status;
}

static Status run(const CliArguments *arguments, CliStreams *streams, Fault *fault)
{
    CliHouse house;
    TextBuffer text = {0};
    char day[DAY_SIZE];
    AirAsk ask = {.today = day};
    Status status = read_seals(arguments->options[OPTION_SEALS], &ask.seals, fault);
    if (status == STATUS_OK)
        status = read_day(arguments->options[OPTION_TODAY], day, fault);
    if (status == STATUS_OK)
        status = cli_house_open(arguments->operands[0], arguments->options[OPTION_CATALOG], streams,
                                &house, fault);
    if (status != STATUS_OK)
        return status;
    bool json = arguments->options[OPTION_JSON] != NULL;
    status = answer(&house, &ask, json, streams->err, &text, fault);
    if (status == STATUS_OK)
        status = cli_text_print(&text, streams, fault);
    text_free(&text);
    cli_house_close(&house);
    return status;
}

const CliCommand cli_flow = {
    .name = "flow",
    .does = "Leakage, stack effect, neutral level, 50 Pa, budget and order of work.",
    .more = "Leakage is what published rates give for what is mapped, never a test result.\n",
    .operands = {"PLAN"},
    .options = {[OPTION_SEALS] = {"--seals", "none|specified|found",
                                  "count all as open, as specified, or by state (found)", false},
                [OPTION_TODAY] = {"--today", "DAY",
                                  "what can be reached on that day (2026-05-27), else today",
                                  false},
                [OPTION_JSON] = {"--json", NULL, "as JSON, for other programs", false},
                [OPTION_CATALOG] = CLI_OPTION_CATALOG},
    .run = run,
};
