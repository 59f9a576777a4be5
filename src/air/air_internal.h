/* What the files of this room share. */
#ifndef LIDMARK_AIR_INTERNAL_H
#define LIDMARK_AIR_INTERNAL_H

#include "lidmark/air.h"

/* Air while it is being made. */
typedef struct AirWork {
    Air *air;
    const Envelope *envelope;
    const Plan *plan;
    int node_capacity, leak_capacity, fan_capacity, note_capacity;
} AirWork;

void air_note(AirWork *work, AirNoteId id, PlanTable table, int index, Status *status,
              const char *format, ...) __attribute__((format(printf, 6, 7)));

/* nodes.c: groups, zones, which space is in which node. */
Status air_find_nodes(AirWork *work);
/* Node of a name as air_links and fans write it (a shares_air name, the id of a space not inside, or
 * outdoors); -1. */
int air_node_named(const Air *air, const char *name);
/* Node a space is in, outdoors for -1. */
int air_node_of(const Air *air, int space);

/* leaks.c, vents.c */
Status air_find_leaks(AirWork *work);
Status air_find_vents(AirWork *work);
Status air_add_leak(AirWork *work, AirLeak leak, char *ref);
/* volume.c */
Status air_find_volume(AirWork *work);

/* Sealed law of an open one by the shares of the sealed and unsealed pairs of the handbook table: 0.2
 * of c, low 0.06 of low, high 0.33 of high. */
AirLaw air_law_shared(AirLaw open);

#endif
