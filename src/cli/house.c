#include "cli/house.h"

#include <sys/stat.h>

Status cli_catalog_open(const char *path, Catalog **catalog, Fault *fault)
{
    if (path != NULL)
        return catalog_load(path, catalog, fault);
    *catalog = catalog_built_in(fault);
    return *catalog != NULL ? STATUS_OK : fault_set(fault, STATUS_MEMORY, "no memory left");
}

Status cli_output_check(const char *plan_path, const char *output_path, Fault *fault)
{
    struct stat plan, output;
    if (stat(plan_path, &plan) != 0 || stat(output_path, &output) != 0 ||
        plan.st_dev != output.st_dev || plan.st_ino != output.st_ino)
        return STATUS_OK;
    fault_set(fault, STATUS_USAGE, "-o \"%s\" is the plan itself, which would be lost",
              output_path);
    fault_advise(fault, "Give another file to write");
    return STATUS_USAGE;
}

/* Nothing to act on for most people, but never silent: the plan counts with slightly other lengths
 * than its file has. */
static void tell_rounding(const char *path, const PlanReadNotes *notes, FILE *err)
{
    if (notes->rounded > 0)
        fprintf(err, "%s: note: %d %s rounded to the nearest 0.0125 mm, first %s\n", path,
                notes->rounded, notes->rounded == 1 ? "length was" : "lengths were", notes->first);
}

Status cli_house_open(const char *plan_path, const char *catalog_path, CliStreams *streams,
                      CliHouse *house, Fault *fault)
{
    PlanReadNotes notes = {0};
    *house = (CliHouse){0};
    Status status = cli_catalog_open(catalog_path, &house->catalog, fault);
    if (status == STATUS_OK)
        status = plan_load(plan_path, house->catalog, &house->plan, &notes, fault);
    if (status == STATUS_OK) {
        tell_rounding(plan_path, &notes, streams->err);
        status = envelope_make(house->plan, &house->envelope, fault);
        if (status != STATUS_OK)
            fault_in(fault, plan_path, 0, 0);
    }
    if (status != STATUS_OK)
        cli_house_close(house);
    return status;
}

void cli_house_close(CliHouse *house)
{
    envelope_free(house->envelope);
    plan_free(house->plan);
    catalog_free(house->catalog);
    *house = (CliHouse){0};
}

Status cli_text_print(TextBuffer *text, CliStreams *streams, Fault *fault)
{
    Status status = STATUS_OK;
    if (text->failed)
        status = fault_set(fault, STATUS_MEMORY, "no memory left");
    else if (text->length > 0)
        fwrite(text->bytes, 1, (size_t)text->length, streams->out);
    text_free(text);
    return status;
}
