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
/* Node of a name as air_links and fans write it (a shares_air name, the id of a space not inside,
 * or outdoors); -1. */
int air_node_named(const Air *air, const char *name);
/* Node a space is in, outdoors for -1. */
int air_node_of(const Air *air, int space);

/* leaks.c, joints.c, vents.c */
Status air_find_holes(AirWork *work);
Status air_find_joints(AirWork *work);
Status air_find_vents(AirWork *work);
/* Takes ref over. A leak without size, without a node at an end or within one node is none. */
Status air_add_leak(AirWork *work, AirLeak leak, char *ref);
/* volume.c */
Status air_find_volume(AirWork *work);
/* budget.c: what the target says against the catalog. */
Status air_check_target(AirWork *work);

/* laws.c: c, low and high of a leak by each basis, and what stays of it when sealed. */
AirLaw law_given(double ela4_mm2, double exponent);
AirLaw law_measured(double area_mm2);
/* A published rate times how many of its units. */
AirLaw law_of_row(const LeakRow *row, double times);
/* Sealed law of an open one by the shares of the sealed and unsealed pairs of the handbook table:
 * 0.2 of c, low 0.06 of low, high 0.33 of high. */
AirLaw law_shared(AirLaw open);
/* The same law of a part. */
AirLaw law_scaled(AirLaw law, double by);

/* fifty.c: 50 Pa with the leaks for which closed says so shut tight; closed may be NULL. */
Status air_fifty_closed(const Air *air, AirSeals seals, AirBound bound, const bool *closed,
                        AirFlow **flow, Fault *fault);

/* things.c: leaks that are sealed together: a hole, a seal with all its stretches, or a joint leak
 * without a seal. */
typedef struct AirThing {
    int first, count; /* leaks: members[first] to members[first + count] */
    int rank;         /* order of the file: holes, seals, then joints without one */
} AirThing;
typedef struct AirThings {
    AirThing *items; /* by rank */
    int *members;
    int count;
} AirThings;
Status air_things_make(const Air *air, AirThings *things);
void air_things_free(AirThings *things);

/* Who seals a leak, when, and after which stage it is too late; -1 where nobody says. */
typedef struct AirSchedule {
    int trade, stage, too_late_after;
} AirSchedule;
AirSchedule air_leak_schedule(const Plan *plan, const AirLeak *leak);
/* How the hole, or the seal of the joint, is shown. */
ShownState air_leak_shown(const Plan *plan, const AirLeak *leak);

#endif
