/* The air of a house, made from its envelope. */
#include "air/air_internal.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

void air_note(AirWork *work, AirNoteId id, PlanTable table, int index, Status *status,
              const char *format, ...)
{
    Air *air = work->air;
    if (*status == STATUS_OK)
        *status = array_reserve((void **)&air->notes, &work->note_capacity, air->note_count + 1,
                                sizeof *air->notes);
    if (*status != STATUS_OK)
        return;
    AirNote *note = &air->notes[air->note_count++];
    *note = (AirNote){.id = id, .table = table, .index = index};
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(note->text, sizeof note->text, format, arguments);
    va_end(arguments);
    note->text[utf8_cut(note->text, sizeof note->text - 1)] = '\0';
}

/* True when a chain of leaks leads from every node to outdoors; marks those that have one. */
static void find_paths(const Air *air, bool *path)
{
    path[0] = true;
    for (bool more = true; more;) {
        more = false;
        for (int i = 0; i < air->leak_count; i++) {
            const AirLeak *leak = &air->leaks[i];
            if (path[leak->from] != path[leak->to]) {
                path[leak->from] = path[leak->to] = true;
                more = true;
            }
        }
    }
}

/* A node without a path has no pressure; a fan without a path at both ends does not run. */
static Status check_paths(AirWork *work)
{
    Air *air = work->air;
    bool *path = mem_alloc((size_t)air->node_count, sizeof *path);
    Status status = path ? STATUS_OK : STATUS_MEMORY;
    if (path)
        find_paths(air, path);
    for (int i = 1; i < air->node_count && status == STATUS_OK; i++) {
        if (!path[i])
            air_note(
                work, AIR_NOTE_NO_PATH, PLAN_SPACES, air->nodes[i].spaces[0], &status,
                "No hole or joint leads from %s to outdoors, so it has no pressure of its own.",
                air->nodes[i].name);
    }
    int kept = 0;
    for (int i = 0; i < air->fan_count && status == STATUS_OK; i++) {
        AirFan fan = air->fans[i];
        if (path[fan.from] && path[fan.to])
            air->fans[kept++] = fan;
        else
            air_note(work, AIR_NOTE_FAN, PLAN_FANS, fan.index, &status,
                     "Fan %s cannot run: one of its ends has no path to outdoors.",
                     work->plan->fans[fan.index].id);
    }
    air->fan_count = kept;
    mem_free(path);
    return status;
}

Status air_make(const Envelope *envelope, Air **air, Fault *fault)
{
    *air = mem_alloc(1, sizeof **air);
    AirWork work = {.air = *air, .envelope = envelope, .plan = envelope->plan};
    Status status = *air ? STATUS_OK : STATUS_MEMORY;
    if (status == STATUS_OK) {
        (*air)->envelope = envelope;
        status = air_find_nodes(&work);
    }
    status = status == STATUS_OK ? air_find_leaks(&work) : status;
    status = status == STATUS_OK ? air_find_vents(&work) : status;
    status = status == STATUS_OK ? air_find_volume(&work) : status;
    status = status == STATUS_OK ? check_paths(&work) : status;
    if (status != STATUS_OK) {
        air_free(*air);
        *air = NULL;
        fault_set(fault, status, "there is not enough memory for the air");
    }
    return status;
}

void air_free(Air *air)
{
    if (!air)
        return;
    for (int i = 0; i < air->node_count; i++) {
        mem_free(air->nodes[i].name);
        mem_free(air->nodes[i].spaces);
    }
    for (int i = 0; i < air->leak_count; i++)
        mem_free(air->leaks[i].ref);
    mem_free(air->nodes);
    mem_free(air->leaks);
    mem_free(air->fans);
    mem_free(air->notes);
    mem_free(air->node_of_space);
    mem_free(air);
}

/* ---- ways to count seals ---- */

static const char *const seals_words[AIR_SEALS_COUNT] = {"none", "specified", "found"};

const char *air_seals_word(AirSeals seals)
{
    return seals_words[seals];
}

int air_seals_from_word(const char *word)
{
    for (int i = 0; i < AIR_SEALS_COUNT; i++) {
        if (strcmp(word, seals_words[i]) == 0)
            return i;
    }
    return -1;
}

bool air_leak_sealed(const AirLeak *leak, AirSeals seals)
{
    return (seals == AIR_SEALS_SPECIFIED && leak->has_method) ||
           (seals == AIR_SEALS_FOUND && leak->is_sealed);
}

const AirLaw *air_leak_law(const AirLeak *leak, AirSeals seals)
{
    return air_leak_sealed(leak, seals) ? &leak->sealed : &leak->open;
}

AirWeather air_plan_weather(const Plan *plan)
{
    AirWeather weather = {plan->settings.indoor_c, plan->settings.outdoor_c,
                          plan->settings.altitude_m};
    return weather;
}
