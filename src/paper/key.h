/* The key of a plan: only what is on that sheet, and beside it the counts. */
#ifndef LIDMARK_PAPER_KEY_H
#define LIDMARK_PAPER_KEY_H

#include "paper/flow.h"
#include "paper/set.h"

/* What a drawing shows, in plan coordinates. */
typedef struct KeyScope {
    int level;
    bool attic_side; /* lid-side joints and ceiling holes alone */
    bool tile;       /* a part of the level: low to high */
    double low_x, low_y, high_x, high_y;
    bool whole_counts; /* the counts are of the whole level, the drawing is a part of it */
} KeyScope;

typedef struct KeyUse {
    KeyScope scope;
    bool states[SHOWN_STATE_COUNT];
    bool joints[JOINT_CLASS_COUNT];
    bool looks[EDGE_NOT_INSIDE + 1];
    bool spaces[SPACE_KIND_COUNT];
    bool quiet;
    bool brief;  /* the spaces, which are named on the plan, are left out */
    bool *kinds; /* by kind of the catalog */
    double open_mm, total_mm, open_mm2;
    int open_holes, holes;
} KeyUse;

/* Looks through the level; on failure nothing is to be freed. */
Status key_use_make(const SheetSet *set, const KeyScope *scope, KeyUse *use);
void key_use_free(KeyUse *use);

enum { KEY_BLOCKS = 8 };

/* The blocks of a key; returns how many. use must outlive them. */
int key_blocks(const KeyUse *use, FlowBlock blocks[KEY_BLOCKS]);
/* The states alone, for the attic sheet. */
double key_states_draw(SheetSet *set, const void *use, double x, double y, double width);
/* Columns that a key needs at a width and a height; at most FLOW_COLUMNS_MAX. A key that would need
 * more than one is made brief first. */
int key_columns(SheetSet *set, KeyUse *use, double width, double height);

#endif
