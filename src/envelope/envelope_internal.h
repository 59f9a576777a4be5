/* What the files of this room share; nobody else includes it. */
#ifndef LIDMARK_ENVELOPE_INTERNAL_H
#define LIDMARK_ENVELOPE_INTERNAL_H

#include "lidmark/envelope.h"

/* Heights and distances of the model (docs/method.md), in ticks. */
enum {
    CONTACT_LEVEL_TICKS = 1800 * GEOM_TICKS_PER_MM, /* a level this high can part two prisms */
    SILL_DEPTH_TICKS = 600 * GEOM_TICKS_PER_MM,     /* a floor this far below grade has sills */
    STEP_REACH_TICKS = 600 * GEOM_TICKS_PER_MM,     /* a ceiling this far under framing is a step */
    FOLD_TICKS = 1200 * GEOM_TICKS_PER_MM,          /* a step up to this high may be a fold */
    GAP_REACH_TICKS = 400 * GEOM_TICKS_PER_MM,      /* rooms traced to their inner faces */
};

/* A stretch of an overlay edge where a mark or a seal holds. */
typedef struct Hold {
    int edge, owner; /* owner: index of the edge mark or seal in the plan */
    double t0, t1;   /* along the edge, a to b */
    double s0, s1;   /* along the owner, from to to */
    bool along;      /* the owner runs the same way as the edge */
} Hold;

/* Holds of all owners by edge: those of edge e are items[start[e]] to items[start[e + 1]], in the
 * order of their owners. */
typedef struct Holds {
    Hold *items;
    int *start;
    int count;
} Holds;

/* A joint line or a wall as it follows from a pair of columns alone; lengths come from the edges. */
typedef struct JointRule {
    JointClass joint;
    bool left;
    int level, space, to_space;
    SpaceKind to;
    int32_t z, exposed; /* exposed: height of the open part, for bays in floor framing */
    bool lid_side, sheathing;
    bool fold;       /* falls away unless the edge is marked wall */
    bool open_takes; /* an open mark takes it away */
    bool needs_wall; /* only across a wall mark */
} JointRule;

typedef struct WallRule {
    bool left, band, ground;
    bool inner; /* to another inside space: a partition, unless it is a fold or marked open */
    bool fold;
    int space, to_space;
    SpaceKind to;
    int32_t z0, z1;
} WallRule;

/* One length of perimeter for each prism of kind conditioned. */
typedef struct PerimeterRule {
    int level;
    bool fold;
} PerimeterRule;

/* All rules of one ordered pair of columns. */
typedef struct PairRules {
    int left, right; /* columns */
    int joint_start, joint_count, wall_start, wall_count, perimeter_start, perimeter_count;
} PairRules;

typedef struct RuleBook {
    JointRule *joints;
    WallRule *walls;
    PerimeterRule *perimeters;
    PairRules *pairs;
    int *slots; /* hash of pairs: index + 1, 0 free */
    int joint_count, joint_capacity, wall_count, wall_capacity, perimeter_count, perimeter_capacity,
        pair_count, pair_capacity, slot_count;
} RuleBook;

/* Kept in Envelope.hidden. */
typedef struct Derivation {
    const Plan *plan;
    int32_t grade;
    int32_t *floor, *ceiling; /* by space */
    int *booked;              /* by space: the level joints and lid at its ceiling belong to */
    double outer_sides, inner_sides; /* square ticks: see envelope_side_areas */
    double *seen_area;               /* by space: square ticks of the faces where it stands */
    RuleBook book;
    Holds marks, seals;
    int *edge_pair; /* by overlay edge: its pair in the book */
} Derivation;

Derivation *envelope_derivation(const Envelope *envelope);

/* ---- columns.c ---- */
Status columns_make(Envelope *envelope, Derivation *derivation, Fault *fault);
bool part_inside(const ColumnPart *part);
bool part_open_air(const ColumnPart *part); /* neither inside nor ground: what air can pass to */
int column_part_at(const Column *column, int32_t z);
bool column_drop(const Column *column, int space);
/* The space of a level that shows in a column's cover set; -1. */
int cover_shows(const Envelope *envelope, int cover, int level);
bool cover_holds(const Envelope *envelope, int cover, int space);

/* What lies over the ceiling, or under the floor, of part p of a column. */
typedef enum PlaneIs { PLANE_INSIDE, PLANE_BOUNDARY, PLANE_GROUND } PlaneIs;
typedef struct PlaneMeets {
    PlaneIs is;
    SpaceKind kind; /* PLANE_BOUNDARY */
    int space;      /* the space there, -1: outdoors */
} PlaneMeets;
PlaneMeets column_above(const Derivation *derivation, const Column *column, int p);
PlaneMeets column_below(const Derivation *derivation, const Column *column, int p);

/* ---- rules.c ---- */
/* The rules of a pair of columns, made once; NULL without memory. */
const PairRules *rules_for(const Envelope *envelope, Derivation *derivation, int left, int right);
void rules_free(RuleBook *book);

/* ---- along.c ---- */
/* Where the stretch from..to holds on the line a..b, within so many ticks. False: nowhere. */
bool along_line(GeomPoint from, GeomPoint to, GeomPoint a, GeomPoint b, int32_t within, Hold *hold);
typedef struct Stretch {
    GeomPoint from, to;
} Stretch;
Status along_holds(const GeomOverlay *overlay, const Stretch *stretches, int count, Holds *holds);
void holds_free(Holds *holds);
/* Edges of the overlay near a stretch, in a list that grows; count or -1 without memory. */
int along_edges_near(const GeomOverlay *overlay, Stretch stretch, int32_t reach, int **edges,
                     int *capacity);

/* ---- marks.c ---- */
/* The overlay of the plan: its spaces, then the parts of wall marks that lie on no edge. */
Status marks_overlay(const Plan *plan, GeomOverlay **overlay, Fault *fault);
/* Parts of an edge cut where marks of a level begin and end, with what holds there. */
typedef struct MarkPart {
    double t0, t1;
    bool wall, open, rated;
} MarkPart;
/* Writes the parts of edge to *parts (grown as needed), returns how many, -1 without memory. */
int marks_on_edge(const Envelope *envelope, int level, int edge, MarkPart **parts, int *capacity);
/* True when an open mark of the level does something on this edge: inside stands on both sides. */
bool marks_open_works(const Envelope *envelope, int level, int edge);

/* ---- pieces.c ---- */
/* True when a seal that holds on an edge is for a joint of that class and level whose P lies on that
 * side of the edge. */
bool seal_fits(const Plan *plan, const Hold *hold, JointClass joint, int level, bool left);
Status pieces_make(Envelope *envelope, Derivation *derivation);
/* ---- surface.c ---- */
typedef struct SurfaceSums { /* square ticks, cubic ticks */
    double perimeter, enclosure, ground, floor_area, volume, between;
} SurfaceSums;
Status surface_make(Envelope *envelope, Derivation *derivation);
/* ---- holes.c ---- */
Status holes_place(Envelope *envelope, Derivation *derivation);
/* ---- notes.c ---- */
Status notes_make(Envelope *envelope, Derivation *derivation);
/* ---- totals.c ---- */
Status totals_joints_and_holes(Envelope *envelope);

#define TICKS_TO_MM(ticks)   ((double)(ticks) / GEOM_TICKS_PER_MM)
#define TICKS2_TO_MM2(ticks) ((double)(ticks) / (GEOM_TICKS_PER_MM * GEOM_TICKS_PER_MM))
#define TICKS3_TO_MM3(ticks) \
    ((double)(ticks) / ((double)GEOM_TICKS_PER_MM * GEOM_TICKS_PER_MM * GEOM_TICKS_PER_MM))

#endif
