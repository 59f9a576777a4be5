/* Plays a script back: replay_main PLAN|- SCRIPT [PICTURE.png [SAVED.lidmark]]. One of the tests is
 * each script of tests/replay. */
#include "app/replay.h"

#include <string.h>

int main(int count, char **arguments)
{
    Fault fault;
    char text[1024];
    if (count < 3 || count > 5) {
        fprintf(stderr, "usage: replay_main PLAN|- SCRIPT [PICTURE.png [SAVED.lidmark]]\n");
        return 2;
    }
    fault_clear(&fault);
    Catalog *catalog = catalog_built_in(&fault);
    ReplayOptions options = {.catalog = catalog,
                             .picture = count > 3 ? arguments[3] : NULL,
                             .save = count > 4 ? arguments[4] : NULL,
                             .samples = LIDMARK_SOURCE_DIR "/plans"};
    const char *plan = strcmp(arguments[1], "-") == 0 ? NULL : arguments[1];
    Status status = catalog ? replay_run(plan, arguments[2], &options, &fault) : fault.status;
    catalog_free(catalog);
    if (status == STATUS_OK && mem_live() != 0) {
        fprintf(stderr, "%ld blocks of memory were not given back\n", mem_live());
        return 1;
    }
    if (status != STATUS_OK)
        fprintf(stderr, "%s\n", fault_text(&fault, text, sizeof text));
    return status_exit(status);
}
