/* What stands over a point of the plan, for the reference totals: the prisms of all levels, what lies
 * between them, and the questions the rules ask of it. Written from docs/method.md, not from the
 * program. */
#ifndef LIDMARK_TESTS_REFERENCE_COLUMN_H
#define LIDMARK_TESTS_REFERENCE_COLUMN_H

#include "lidmark/plan.h"
#include "support/reference_lines.h"

enum {
    REF_IGNORED = 400, /* 5 mm: heights and depths up to this do not count */
    REF_PRISMS_MAX = 48,
    REF_PARTS_MAX = 2 * REF_PRISMS_MAX + 8,
    REF_LEVELS_MAX = 16,
    REF_GROUND = SPACE_KIND_COUNT, /* stands beside the kinds: ground is none of them */
    REF_NOTHING = -1
};

typedef struct RefPrism {
    int space;
    int32_t z0, z1;
    bool contact; /* with the next one up */
    bool drop;
} RefPrism;

typedef struct RefPart {
    int kind; /* SpaceKind or REF_GROUND */
    bool inside, depth;
    int space;        /* of a prism; -1 */
    int lower, upper; /* of a depth: indices of its prisms; -1 */
    int32_t z0, z1;
} RefPart;

typedef struct RefColumn {
    RefCover cover;
    RefPrism prisms[REF_PRISMS_MAX]; /* from below up */
    RefPart parts[REF_PARTS_MAX];    /* from below up, without end at both ends */
    int prism_count, part_count;
    int shown[REF_LEVELS_MAX]; /* the space of each level that shows, -1 */
    int overlap_a, overlap_b;  /* two inside spaces that overlap in height: a plan error; -1 */
} RefColumn;

int32_t ref_floor(const Plan *plan, int space);
int32_t ref_ceiling(const Plan *plan, int space);
bool ref_on_ground(const Plan *plan, int space);
int32_t ref_grade(const Plan *plan);
bool ref_inside(const Plan *plan, int space);

void ref_column_make(const Plan *plan, const RefCover *cover, RefColumn *column);

/* The part just above or just below a height. */
const RefPart *ref_just_above(const RefColumn *column, int32_t z);
const RefPart *ref_just_below(const RefColumn *column, int32_t z);

/* Height of part within z0 to z1; 0 when it is 5 mm or less. */
int32_t ref_height_in(const RefPart *part, int32_t z0, int32_t z1);

/* What the ceiling of an inside prism is to: a kind, REF_GROUND, or REF_NOTHING when it is no lid
 * because inside follows. The same of its floor. */
int ref_lid(const Plan *plan, const RefColumn *column, int prism);
int ref_floor_to(const Plan *plan, const RefColumn *column, int prism);

/* The level that joints at or over the ceiling of a prism, and its lid, are booked to. */
int ref_ceiling_level(const Plan *plan, const RefPrism *prism);

/* The prism of a space in the column (the topmost part of it), -1 when it does not stand there. */
int ref_prism_of(const RefColumn *column, int space);

#endif
