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

const char *air_note_word(AirNoteId id)
{
    static const char *const words[AIR_NOTE_ID_COUNT] = {
        "nothing-inside",        "no-path",          "air-link-nowhere", "fan-nowhere",
        "measured-without-size", "no-volume",        "no-target",        "target-preset",
        "air-name-twice",        "fan-test-nowhere", "ventilation"};
    return words[id];
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
    status = status == STATUS_OK ? air_find_holes(&work) : status;
    status = status == STATUS_OK ? air_find_joints(&work) : status;
    status = status == STATUS_OK ? air_find_vents(&work) : status;
    status = status == STATUS_OK ? air_find_volume(&work) : status;
    status = status == STATUS_OK ? air_check_target(&work) : status;
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
    mem_free(air->leak_of_joint);
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

const char *air_level_print(double level_m, GeomUnits units, char buffer[GEOM_LENGTH_SIZE])
{
    char number[NUMBER_SIZE], length[GEOM_LENGTH_SIZE];
    bool metric = units == GEOM_METRIC;
    double step = metric ? 0.01 : 0.0254, steps = round(fabs(level_m) / step);
    const char *sign = level_m < 0 ? "\u2212" : "";
    if (!(steps > 0))
        snprintf(buffer, GEOM_LENGTH_SIZE, "0");
    else if (metric)
        snprintf(buffer, GEOM_LENGTH_SIZE, "%s%s m", sign, number_fixed(steps * step, 2, number));
    else
        snprintf(buffer, GEOM_LENGTH_SIZE, "%s%s", sign,
                 geom_length_print(llround(steps) * GEOM_TICKS_PER_INCH, units, length));
    return buffer;
}
