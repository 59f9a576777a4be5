#include "cli/cli.h"

int main(int argc, char **argv)
{
    CliStreams streams = {stdout, stderr};
    return cli_run(argc, argv, &streams);
}
