/* What the schedules list: joint runs and holes, read off the envelope once and in the order in
 * which they are printed. Sheets and spreadsheet are made from the same rows. */
#ifndef LIDMARK_PAPER_ROWS_H
#define LIDMARK_PAPER_ROWS_H

#include "lidmark/envelope.h"

/* A run: pieces of one class and level with one tag, or without a tag those of one room, that open
 * to one kind and are in one state. A run that turns corners is several seals with one tag. */
typedef struct RunRow {
    JointClass joint;
    int level, space; /* space: of the first piece */
    SpaceKind to;
    ShownState shown;
    int seal;                 /* of the first piece, -1: none */
    const char *tag;          /* "" without one */
    int method, trade, stage; /* trade: the usual one of the class where none is given; stage -1 */
    bool trade_given, open, seen, lid_side, rated;
    double gap_mm, length_mm, area_mm2; /* area: gap x length, while open else 0 */
    unsigned sides;                     /* RUN_NORTH ... of outside joints: where not inside lies */
    int first, count;                   /* pieces: RunRows.pieces[first ...] */
    char *where;                        /* for people */
} RunRow;

enum { RUN_NORTH = 1, RUN_EAST = 2, RUN_SOUTH = 4, RUN_WEST = 8 };

typedef struct RunRows {
    RunRow *rows; /* by class, tag number, level; those without a tag last of their class */
    int count;
    int *pieces; /* indices into Envelope.joints */
} RunRows;

Status run_rows_make(const Envelope *envelope, RunRows *rows);
void run_rows_free(RunRows *rows);

/* The outside faces of a level: the box of its boundary, moved out by the thickness of the outside
 * walls where lines run at their inner faces; of all its spaces where it has no boundary. */
typedef struct RowsFaces {
    GeomPoint low, high;
    bool any, boundary;
} RowsFaces;

/* One for each level; owned by the caller (mem_free). */
Status rows_faces_make(const Envelope *envelope, RowsFaces **faces);

/* An offset of a hole from the nearer of two opposite outside faces of its level. */
typedef struct HoleOffset {
    char wall; /* 'W', 'E', 'S', 'N' */
    int64_t ticks;
    bool on_wall; /* it is a wall hole in that very wall */
} HoleOffset;

typedef struct HoleRow {
    int hole;         /* index in the plan */
    int level, space; /* space: the room it is listed under, -1: none */
    ShownState shown;
    int trade, stage;   /* trade: the usual one of its kind where none is given; stage -1 */
    bool open, counted; /* open: unsealed, on the boundary and there */
    bool hot, rated;
    HoleOffset across, along; /* from W or E, from S or N */
    double area_mm2;
} HoleRow;

typedef struct HoleRows {
    HoleRow *rows; /* by level from the ground up, room, letter and number of the tag */
    int count;
} HoleRows;

Status hole_rows_make(const Envelope *envelope, const RowsFaces *faces, HoleRows *rows);
void hole_rows_free(HoleRows *rows);

/* Levels from the ground up (by floor, then as in the file): writes level_count indices. */
void rows_levels_up(const Plan *plan, int *levels);
/* Places of the levels in that order, by level. */
Status rows_level_ranks(const Plan *plan, int **ranks);
/* The compass letters of a plan's sides, as its drawings name them: above, right, below, left;
 * north is the side nearest to it. */
typedef enum RowsSide {
    SIDE_ABOVE,
    SIDE_TO_RIGHT,
    SIDE_BELOW,
    SIDE_TO_LEFT,
    SIDE_LETTERS
} RowsSide;
void rows_sides(const PlanSettings *settings, char sides[SIDE_LETTERS]);
/* A number that grows from west to east over a plan. */
int64_t rows_eastward(const PlanSettings *settings, GeomPoint point);

/* Orders tags: number then letters ("2E" before "10E"); tags without a number last. */
int rows_tag_order(const char *a, const char *b);
/* True when a wall within reach of a point is marked as fire-resistance-rated on that level. */
bool rows_rated_near(const Envelope *envelope, int level, GeomPoint point, int32_t reach);

#endif
