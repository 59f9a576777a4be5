/* Holes in the order of the schedule, with their offsets from the outside faces. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper/rows.h"

typedef struct HoleKey {
    HoleRow row;
    int rank;
    const char *letters; /* of the tag, after its number */
    const char *tag;
} HoleKey;

/* ---- offsets ------------------------------------------------------------------------------------ */

/* mm; a thicker wall is a slip of the pen */
#define WALL_THICKEST_MM 2000.0

static HoleOffset nearer(int32_t at, int32_t low, int32_t high, char low_wall, char high_wall)
{
    int64_t from_low = (int64_t)at - low, from_high = (int64_t)high - at;
    if (llabs(from_low) <= llabs(from_high))
        return (HoleOffset){low_wall, from_low, false};
    return (HoleOffset){high_wall, from_high, false};
}

/* A wall hole at a face is in that wall; near a corner in the nearer one. */
static void set_wall(const PlanSettings *settings, HoleRow *row)
{
    double out = settings->lines_outside ? 0.0 : settings->outer_wall_mm;
    int64_t wall = out > 0.0 && out < WALL_THICKEST_MM ? llround(out * GEOM_TICKS_PER_MM) : 0;
    int64_t across = llabs(row->across.ticks), along = llabs(row->along.ticks);
    if (across <= along)
        row->across.on_wall = across <= ENVELOPE_NEAR_TICKS + wall;
    else
        row->along.on_wall = along <= ENVELOPE_NEAR_TICKS + wall;
}

static void set_offsets(const PlanSettings *settings, const RowsFaces *faces,
                        const PlanPenetration *hole, HoleRow *row)
{
    if (!faces->any)
        return;
    char sides[SIDE_LETTERS];
    rows_sides(settings, sides);
    row->across =
        nearer(hole->at.x, faces->low.x, faces->high.x, sides[SIDE_TO_LEFT], sides[SIDE_TO_RIGHT]);
    row->along =
        nearer(hole->at.y, faces->low.y, faces->high.y, sides[SIDE_BELOW], sides[SIDE_ABOVE]);
    if (hole->plane == PLANE_WALL)
        set_wall(settings, row);
    if (row->across.wall == 'N' || row->across.wall == 'S') {
        HoleOffset offset = row->across;
        row->across = row->along;
        row->along = offset;
    }
}

/* ---- rows --------------------------------------------------------------------------------------- */

static HoleRow row_of(const Envelope *envelope, const RowsFaces *faces, int hole)
{
    const Plan *plan = envelope->plan;
    const PlanPenetration *of = &plan->penetrations[hole];
    const HolePlace *place = &envelope->holes[hole];
    const CatalogKind *kind = &plan->catalog->kinds[of->kind];
    HoleRow row = {.hole = hole,
                   .level = place->sits == HOLE_NOWHERE ? of->level : place->level,
                   .space = place->space >= 0 ? place->space : place->to_space,
                   .shown = plan_shown_state(of->method, of->state, of->evidence),
                   .trade = of->trade >= 0 ? of->trade : kind->trade,
                   .stage = of->stage,
                   .hot = kind->hot,
                   .area_mm2 = place->area_mm2};
    row.counted = place->sits == HOLE_ON_BOUNDARY && of->state != STATE_ABSENT;
    row.open = row.counted && !hole_sealed(of);
    bool wall = of->plane == PLANE_WALL;
    row.rated = wall && rows_rated_near(envelope, row.level, of->at, ENVELOPE_NEAR_TICKS);
    set_offsets(&plan->settings, &faces[row.level], of, &row);
    return row;
}

static int order_of(int a, int b)
{
    return (a > b) - (a < b);
}

static int key_order(const void *a, const void *b)
{
    const HoleKey *x = a, *y = b;
    int order = order_of(x->rank, y->rank);
    if (order == 0)
        order = order_of(x->row.space < 0, y->row.space < 0);
    if (order == 0)
        order = order_of(x->row.space, y->row.space);
    if (order == 0)
        order = strcmp(x->letters, y->letters);
    if (order == 0)
        order = rows_tag_order(x->tag, y->tag);
    return order != 0 ? order : order_of(x->row.hole, y->row.hole);
}

static HoleKey key_of(const Envelope *envelope, const RowsFaces *faces, const int *ranks, int hole)
{
    HoleKey key = {.row = row_of(envelope, faces, hole)};
    const char *tag = envelope->plan->penetrations[hole].tag;
    key.tag = tag != NULL ? tag : "";
    key.letters = key.tag + strspn(key.tag, "0123456789");
    key.rank = ranks[key.row.level];
    return key;
}

Status hole_rows_make(const Envelope *envelope, const RowsFaces *faces, HoleRows *rows)
{
    *rows = (HoleRows){0};
    int count = envelope->plan->penetration_count;
    int *ranks = NULL;
    HoleKey *keys = mem_alloc((size_t)count, sizeof *keys);
    rows->rows = mem_alloc((size_t)count, sizeof *rows->rows);
    Status status = rows_level_ranks(envelope->plan, &ranks);
    if (keys == NULL || rows->rows == NULL)
        status = STATUS_MEMORY;
    if (status == STATUS_OK) {
        for (int i = 0; i < count; i++)
            keys[i] = key_of(envelope, faces, ranks, i);
        qsort(keys, (size_t)count, sizeof *keys, key_order);
        for (int i = 0; i < count; i++)
            rows->rows[i] = keys[i].row;
        rows->count = count;
    }
    mem_free(keys);
    mem_free(ranks);
    if (status != STATUS_OK)
        hole_rows_free(rows);
    return status;
}

void hole_rows_free(HoleRows *rows)
{
    mem_free(rows->rows);
    *rows = (HoleRows){0};
}
