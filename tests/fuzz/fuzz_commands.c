/* Bytes as changes to a small plan, as lines of the journal when they start like one and as a stream of
 * calls when not: whatever they are, undo, redo, the journal and the plan file agree. */
#include "support/command_stream.h"

#include <stdlib.h>
#include <string.h>

static const char START[] =
    "{\"format\": \"lidmark-plan\", \"version\": 1, \"visits\": [], \"odd\": 1,"
    " \"levels\": [{\"id\": \"L1\", \"floor_mm\": 0, \"height_mm\": 2400},"
    "  {\"id\": \"L2\", \"floor_mm\": 3000, \"height_mm\": 2400}],"
    " \"spaces\": [{\"id\": \"A\", \"level\": \"L1\", \"kind\": \"conditioned\", \"outline_mm\": "
    "[[0, 0], [4000, 0], [4000, 3000], [0, 3000]]},"
    "  {\"id\": \"B\", \"level\": \"L1\", \"kind\": \"conditioned\", \"outline_mm\": "
    "[[4000, 0], [8000, 0], [8000, 3000], [4000, 3000]]},"
    "  {\"id\": \"C\", \"level\": \"L2\", \"kind\": \"vented_attic\", \"outline_mm\": "
    "[[0, 0], [8000, 0], [8000, 3000], [0, 3000]]}],"
    " \"edges\": [{\"id\": \"E1\", \"level\": \"L1\", \"from_mm\": [4000, 0], \"to_mm\": [4000, "
    "3000], "
    "\"is\": \"open\"}],"
    " \"seals\": [{\"id\": \"J1\", \"tag\": \"1J\", \"level\": \"L1\", \"joint\": \"top_plate\", "
    "\"from_mm\": [0, 0], \"to_mm\": [8000, 0], \"method\": \"gasket\", \"ela4_mm2\": 8}],"
    " \"penetrations\": [{\"id\": \"P1\", \"level\": \"L1\", \"kind\": \"wire_hole\", "
    "\"at_mm\": [1000, 1000]}, {\"id\": \"P2\", \"level\": \"L1\", \"kind\": \"wall_box\", "
    "\"at_mm\": [4000, 1000]}],"
    " \"fans\": [{\"id\": \"F1\", \"space\": \"B\", \"to\": \"outdoors\", \"q_l_s\": 3}]}";

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Does every line; those that are refused change nothing. */
static void apply_lines(PlanDoc *doc, const char *at, const char *end)
{
    while (at < end) {
        Fault fault;
        const char *line_end = memchr(at, '\n', (size_t)(end - at));
        size_t length = (size_t)((line_end != NULL ? line_end : end) - at);
        uint64_t revision = doc_revision(doc);
        Status status = doc_step_apply(doc, at, length, &fault);
        if (status != fault.status || (status != STATUS_OK && doc_revision(doc) != revision))
            abort();
        at += length + 1;
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static Catalog *catalog; /* made once: making it would be most of the work */
    Plan *plan;
    enum { LONGEST = 2000 };
    if (catalog == NULL)
        catalog = catalog_built_in(NULL);
    if (size > LONGEST ||
        plan_read(START, strlen(START), "start", catalog, &plan, NULL, NULL) != STATUS_OK)
        return 0;
    plan_seed_ids(plan, 1);
    Plan *start = plan_copy(plan);
    PlanDoc *doc = doc_new(plan);
    if (size > 0 && data[0] == '{')
        apply_lines(doc, (const char *)data, (const char *)data + size);
    else
        command_stream_run(doc, data, size);
    command_stream_check(doc, start);
    doc_free(doc);
    return 0;
}
