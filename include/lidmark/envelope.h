/* envelope: the surface between inside and not inside, read off one overlay of the whole plan.
 *
 * Columns, walls, lid, floor, joints, what is sealed, where each penetration sits, totals: design
 * section 2, exactly. One immutable result for each state of the plan; nobody patches it.
 *
 * Lengths are ticks (double where they are cut at real places), areas square ticks as double where
 * summed for drawing, mm, mm2 and mm3 in EnvelopeTotals. */
#ifndef LIDMARK_ENVELOPE_H
#define LIDMARK_ENVELOPE_H

#include "lidmark/base.h"
#include "lidmark/geom.h"
#include "lidmark/plan.h"

enum {
    ENVELOPE_IGNORED_TICKS = 400, /* heights and depths up to 5 mm are ignored */
    ENVELOPE_NEAR_TICKS = 8000,   /* a mark within 100 mm of a wall is on it */
};

/* ---- columns ----------------------------------------------------------------------------------- */

/* What stands at a height of a column. */
typedef enum ColumnIs {
    COLUMN_SPACE, /* a prism, or what a conditioned one leaves of it */
    COLUMN_DEPTH, /* the structure depth between two prisms in contact */
    COLUMN_OUTDOORS,
    COLUMN_GROUND
} ColumnIs;

/* An interval of a column, from z0 up to z1 (ticks; the first starts at INT32_MIN, the last ends at
 * INT32_MAX). kind: for spaces and depths (SPACE_CONDITIONED for a depth between two inside prisms);
 * SPACE_OUTDOORS for outdoors and ground. space: the space's index, for a depth the one whose kind it
 * has (of two inside: the lower); -1 else. */
typedef struct ColumnPart {
    ColumnIs is;
    SpaceKind kind;
    int space;
    int32_t z0, z1;
    int lower, upper; /* depth: indices of its two spaces; else -1 */
} ColumnPart;

typedef struct Column {
    ColumnPart *parts;
    int count;
    int *drops; /* spaces of this column that are drops here */
    int drop_count;
} Column;

/* ---- joints ------------------------------------------------------------------------------------ */

/* A stretch of one joint line in one state: a part (t0..t1 of a to b) of an overlay edge. */
typedef struct JointPiece {
    JointClass joint;
    int edge;      /* of the overlay */
    double t0, t1; /* 0 at the edge's vertex a, 1 at b */
    bool left;     /* P lies left of a to b (rim, joist_bays, step_bays: the structure depth does) */
    int level;     /* the level it is booked to */
    int space;     /* P (rim, joist_bays: the lower prism; step_bays: Q) */
    SpaceKind to;  /* the kind it opens to */
    int to_space;  /* the space it opens to, -1 for outdoors */
    int32_t z;     /* height above the datum, ticks */
    bool lid_side;
    bool left_to_sheathing; /* not in the totals */
    int seal;               /* index in the plan, the one in force; -1: none. An absent seal: -1 */
    double gap_mm;          /* width in force */
    double length;          /* ticks */
    int run;                /* pieces of one class, level, space, side and kind that lie in one line
                               between two corners have one run number */
} JointPiece;

/* How a piece counts (design: states). */
bool joint_piece_unspecified(const Plan *plan, const JointPiece *piece);
bool joint_piece_sealed(const Plan *plan, const JointPiece *piece);
bool joint_piece_seen(const Plan *plan, const JointPiece *piece);
ShownState joint_piece_shown(const Plan *plan, const JointPiece *piece);

/* ---- walls ------------------------------------------------------------------------------------- */

/* A part of a wall or band: one inside prism or depth beside one kind, over one stretch of height. */
typedef struct WallPiece {
    int edge;
    bool left;     /* the inside lies left of a to b */
    int space;     /* the inside space (of a band: the lower) */
    bool band;     /* a structure depth between two inside prisms */
    SpaceKind to;
    int to_space;  /* -1: outdoors */
    int32_t z0, z1;
} WallPiece;

/* How the wall line on an edge is drawn for a level. */
typedef enum EdgeLook {
    EDGE_NOTHING,   /* the same on both sides */
    EDGE_BOUNDARY,  /* inside on one side, not inside on the other, in this level's height */
    EDGE_WALL,      /* two inside spaces */
    EDGE_OPEN,      /* the same, marked open */
    EDGE_STEP,      /* a fold: a ceiling or floor step without a wall */
    EDGE_NOT_INSIDE /* an outline between two that are not inside */
} EdgeLook;

/* ---- penetrations ------------------------------------------------------------------------------ */

typedef enum HoleSits {
    HOLE_ON_BOUNDARY,
    HOLE_INSIDE,     /* quiet: not counted */
    HOLE_TO_GROUND,  /* listed, opens to ground */
    HOLE_NOWHERE,    /* outside every space: a finding */
} HoleSits;

typedef struct HolePlace {
    HoleSits sits;
    int space;    /* inside space it joins, -1: none */
    SpaceKind to; /* what it opens to */
    int to_space; /* -1: outdoors */
    int32_t z;    /* height it acts at, ticks */
    int level;    /* level it is booked to */
    double area_mm2;
} HolePlace;

bool hole_unspecified(const PlanPenetration *penetration);
bool hole_sealed(const PlanPenetration *penetration);

/* ---- findings of the derivation ------------------------------------------------------------------ */

typedef enum EnvelopeNoteId {
    NOTE_WELDED,          /* vertices drawn within 3 mm of another went to it */
    NOTE_GAP,             /* two facing edges up to 400 mm apart */
    NOTE_COVERS_NO_HEIGHT, /* a later space overlaps an earlier one in plan but not in height */
    NOTE_OPEN_NOTHING,    /* an open mark with nothing inside on one side */
    NOTE_MARK_NOWHERE,    /* an edge mark on no edge */
    NOTE_SEAL_NOWHERE,    /* a seal, or a part of one, on no joint line of its class and level */
    NOTE_HOLE_NOWHERE,    /* a penetration outside every space */
    NOTE_NOTHING_INSIDE,  /* a plan without inside spaces */
    NOTE_ID_COUNT
} EnvelopeNoteId;

typedef struct EnvelopeNote {
    EnvelopeNoteId id;
    PlanTable table; /* what it is about */
    int index, other; /* other: a second record of the same table, -1 */
    GeomPoint at;
    int level;
    char text[FAULT_TEXT_SIZE]; /* what is wrong and what to do, for people */
} EnvelopeNote;

/* ---- totals ------------------------------------------------------------------------------------ */

typedef struct TotalsWall {
    int level;
    SpaceKind faces;
    double length_mm, area_mm2;
} TotalsWall;

typedef struct TotalsPlane { /* lid: kind above; floor: kind below */
    int level;
    SpaceKind kind;
    double area_mm2;
} TotalsPlane;

typedef struct TotalsJoint {
    JointClass joint;
    int level;
    SpaceKind leaks_to;
    double total_mm, unspecified_mm, unsealed_mm, sealed_mm, seen_mm;
    double open_area_mm2; /* gap x unsealed length */
} TotalsJoint;

typedef struct EnvelopeTotals {
    double perimeter_mm;
    TotalsWall *walls;
    TotalsPlane *lid, *floor;
    TotalsJoint *joints; /* rows ordered by level, class, kind */
    int wall_count, lid_count, floor_count, joint_count;
    double floor_area_mm2, volume_mm3, between_volume_mm3, enclosure_area_mm2, ground_area_mm2;
    double joint_total_mm, joint_unspecified_mm, joint_unsealed_mm, joint_sealed_mm, joint_seen_mm;
    double lid_total_mm, lid_unsealed_mm;
    double left_to_sheathing_mm, crack_area_mm2, bay_area_mm2;
    int hole_count, hole_on_boundary, hole_unsealed, hole_unspecified;
    double hole_area_mm2;
    double paper_area_mm2, paper_square_mm; /* hole on paper and the side of one square of its area */
} EnvelopeTotals;

/* ---- the result -------------------------------------------------------------------------------- */

typedef struct Envelope {
    const Plan *plan;       /* borrowed: must outlive the envelope unchanged */
    GeomOverlay *overlay;   /* curves: the plan's spaces in order, then inner wall marks */
    Column *columns;        /* one for each cover set of the overlay: columns[face.cover] */
    JointPiece *joints;
    WallPiece *walls;
    HolePlace *holes;       /* one for each penetration of the plan */
    EnvelopeNote *notes;
    int joint_count, wall_count, note_count, run_count;
    EnvelopeTotals totals;
    void *hidden;
} Envelope;

/* Derives everything. The plan must stay as it is while the envelope lives. STATUS_MEMORY, or
 * STATUS_BAD_INPUT where two conditioned spaces overlap in height (fault names both, the place and
 * what to do); *envelope is then NULL. About E log E. Free with envelope_free. */
Status envelope_make(const Plan *plan, Envelope **envelope, Fault *fault);
void envelope_free(Envelope *envelope);

/* The column over a point of the plan. */
const Column *envelope_column_at(const Envelope *envelope, GeomPoint point);

/* The space of a level that shows at a face (the last drawn there, void taken into account), -1. */
int envelope_space_on(const Envelope *envelope, int level, int face);

/* Plan area in mm2 of the faces in whose columns a space stands; 0 when it is covered whole. */
double envelope_space_area(const Envelope *envelope, int space);

/* Areas in mm2 of the sides of the inside prisms whose volume is not typed: to not inside (ground
 * too), and walled sides to other inside spaces (each wall once from each side). */
void envelope_side_areas(const Envelope *envelope, double *outer_mm2, double *inner_mm2);

/* How an overlay edge is drawn on a level, from a to b in parts (edge marks may hold on parts of it
 * only). Writes at most limit parts, in order, and returns how many there are (0: nothing to draw). */
typedef struct EdgeLookPart {
    EdgeLook look;
    double t0, t1;    /* 0 at the edge's vertex a, 1 at b */
    bool inside_left; /* EDGE_BOUNDARY: inside lies left of a to b */
    bool rated;       /* marked as fire-resistance-rated */
} EdgeLookPart;
int envelope_edge_looks(const Envelope *envelope, int level, int edge, EdgeLookPart *parts, int limit);

/* Totals as text for people (units of the plan) and as JSON (design section 7). */
Status envelope_totals_text(const Envelope *envelope, TextBuffer *text);
Status envelope_totals_json(const Envelope *envelope, TextBuffer *text);

#endif
