/* Opens the window for the tests: window_main [PLAN] [--scale N] [--theme T] [--memory FILE]. */
#include "window/window.h"

#include <string.h>

static void read_options(int count, char **arguments, WindowOptions *options)
{
    for (int i = 1; i < count; i++) {
        const char *end;
        bool more = i + 1 < count;
        if (strcmp(arguments[i], "--scale") == 0 && more)
            number_parse(arguments[++i], &end, &options->scale);
        else if (strcmp(arguments[i], "--theme") == 0 && more)
            options->theme = arguments[++i];
        else if (strcmp(arguments[i], "--memory") == 0 && more)
            options->memory = arguments[++i];
        else
            options->plan = arguments[i];
    }
}

int main(int count, char **arguments)
{
    Fault fault;
    char text[1024];
    fault_clear(&fault);
    Catalog *catalog = catalog_built_in(&fault);
    WindowOptions options = {.catalog = catalog, .samples = LIDMARK_SOURCE_DIR "/plans"};
    read_options(count, arguments, &options);
    Status status = catalog ? window_run(&options, &fault) : fault.status;
    catalog_free(catalog);
    if (status != STATUS_OK)
        fprintf(stderr, "%s\n", fault_text(&fault, text, sizeof text));
    else if (mem_live() != 0) {
        fprintf(stderr, "%ld blocks of memory were not given back\n", mem_live());
        return 1;
    }
    return status_exit(status);
}
