/* A plan with what is derived from it, as the commands need it. */
#ifndef LIDMARK_CLI_HOUSE_H
#define LIDMARK_CLI_HOUSE_H

#include "cli/cli.h"
#include "lidmark/envelope.h"

/* Of every command that reads a plan. */
#define CLI_OPTION_CATALOG                                                          \
    {                                                                               \
        "--catalog", "FILE", "kinds, seals, trades and rates from this file", false \
    }

typedef struct CliHouse {
    Catalog *catalog;
    Plan *plan;
    Envelope *envelope;
} CliHouse;

/* The catalog file that was asked for, or without one (NULL) what is built in. */
Status cli_catalog_open(const char *path, Catalog **catalog, Fault *fault);

/* STATUS_USAGE when the file to write is the plan itself, also by another name of it. */
Status cli_output_check(const char *plan_path, const char *output_path, Fault *fault);

/* Reads the plan and derives its envelope; lengths that had to be rounded are told on the error
 * stream. On failure the house is empty. */
Status cli_house_open(const char *plan_path, const char *catalog_path, CliStreams *streams,
                      CliHouse *house, Fault *fault);
void cli_house_close(CliHouse *house);

/* Writes a text that was made to the answer and frees it; STATUS_MEMORY when making it failed. */
Status cli_text_print(TextBuffer *text, CliStreams *streams, Fault *fault);

#endif
