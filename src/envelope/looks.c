/* How the line of an overlay edge is drawn on a level. */
#include "envelope/envelope_internal.h"

/* What stands at half a level's height on one side of an edge. */
static const ColumnPart *middle_part(const Envelope *envelope, int level, int face)
{
    const Column *column = &envelope->columns[envelope->overlay->faces[face].cover];
    const PlanLevel *l = &envelope->plan->levels[level];
    return &column->parts[column_part_at(column, l->floor + l->height / 2)];
}

/* A joint rule of the pair says that the edge is a fold of this level. */
static bool folds(const Derivation *derivation, const PairRules *pair, int level)
{
    for (int i = 0; i < pair->joint_count; i++) {
        const JointRule *rule = &derivation->book.joints[pair->joint_start + i];
        if (rule->fold && rule->level == level) {
            return true;
        }
    }
    return false;
}

static EdgeLook look_inside(const MarkPart *part, bool same, bool fold)
{
    if (part->wall) {
        return EDGE_WALL;
    }
    if (same) {
        return EDGE_NOTHING;
    }
    return fold ? EDGE_STEP : part->open ? EDGE_OPEN : EDGE_WALL;
}

int envelope_edge_looks(const Envelope *envelope, int level, int edge, EdgeLookPart *parts,
                        int limit)
{
    const Derivation *derivation = envelope_derivation(envelope);
    const GeomEdge *e = &envelope->overlay->edges[edge];
    const ColumnPart *left = middle_part(envelope, level, e->left);
    const ColumnPart *right = middle_part(envelope, level, e->right);
    bool inside_left = part_inside(left), inside_right = part_inside(right);
    bool same = left->is == right->is && left->space == right->space;
    if (!inside_left && !inside_right) {
        int shows_left = envelope_space_on(envelope, level, e->left);
        int shows_right = envelope_space_on(envelope, level, e->right);
        if (shows_left == shows_right) {
            return 0;
        }
        if (limit > 0) {
            parts[0] = (EdgeLookPart){EDGE_NOT_INSIDE, 0, 1, false, false};
        }
        return 1;
    }
    bool fold = folds(derivation, &derivation->book.pairs[derivation->edge_pair[edge]], level);
    MarkPart *marks = NULL;
    int capacity = 0, made = 0;
    int count = marks_on_edge(envelope, level, edge, &marks, &capacity);
    for (int i = 0; i < count; i++) {
        EdgeLook look =
            inside_left != inside_right ? EDGE_BOUNDARY : look_inside(&marks[i], same, fold);
        if (look == EDGE_NOTHING) {
            continue;
        }
        if (made < limit) {
            parts[made] =
                (EdgeLookPart){look, marks[i].t0, marks[i].t1, inside_left, marks[i].rated};
        }
        made++;
    }
    mem_free(marks);
    return made;
}
