/* What the derivation found worth telling: each note says what is wrong and what to do. */
#include "envelope/envelope_internal.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>

typedef struct Notes {
    Envelope *envelope;
    Derivation *derivation;
    int capacity;
    Status status;
} Notes;

static void add_note(Notes *notes, EnvelopeNote note, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

static void add_note(Notes *notes, EnvelopeNote note, const char *format, ...)
{
    Envelope *envelope = notes->envelope;
    if (notes->status == STATUS_OK) {
        notes->status = array_reserve((void **)&envelope->notes, &notes->capacity,
                                      envelope->note_count + 1, sizeof note);
    }
    if (notes->status != STATUS_OK) {
        return;
    }
    va_list arguments;
    va_start(arguments, format);
    int length = vsnprintf(note.text, sizeof note.text, format, arguments);
    va_end(arguments);
    if (length >= (int)sizeof note.text) {
        note.text[utf8_cut(note.text, sizeof note.text - 1)] = '\0';
    }
    envelope->notes[envelope->note_count++] = note;
}

static const char *space_name(const Plan *plan, int space)
{
    return plan->spaces[space].name[0] ? plan->spaces[space].name : plan->spaces[space].id;
}

static GeomPoint middle(GeomPoint a, GeomPoint b)
{
    GeomPoint point = {(int32_t)(((int64_t)a.x + b.x) / 2), (int32_t)(((int64_t)a.y + b.y) / 2)};
    return point;
}

/* ---- pairs of spaces, each told once ---- */

typedef struct SpacePair {
    int one, two;
    GeomPoint at;
} SpacePair;

typedef struct SpacePairs {
    SpacePair *items;
    int count, capacity;
} SpacePairs;

static int by_spaces(const void *a, const void *b)
{
    const SpacePair *x = a, *y = b;
    const int keys[][2] = {
        {x->one, y->one}, {x->two, y->two}, {x->at.x, y->at.x}, {x->at.y, y->at.y}};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        if (keys[i][0] != keys[i][1]) {
            return keys[i][0] < keys[i][1] ? -1 : 1;
        }
    }
    return 0;
}

static void add_pair(Notes *notes, SpacePairs *pairs, SpacePair pair)
{
    if (notes->status == STATUS_OK) {
        notes->status =
            array_reserve((void **)&pairs->items, &pairs->capacity, pairs->count + 1, sizeof pair);
    }
    if (notes->status == STATUS_OK) {
        pairs->items[pairs->count++] = pair;
    }
}

/* Sorts the pairs and keeps the first of each. */
static void keep_first(SpacePairs *pairs)
{
    if (pairs->count > 0) {
        qsort(pairs->items, (size_t)pairs->count, sizeof *pairs->items, by_spaces);
    }
    int kept = 0;
    for (int i = 0; i < pairs->count; i++) {
        if (kept == 0 || pairs->items[i].one != pairs->items[kept - 1].one ||
            pairs->items[i].two != pairs->items[kept - 1].two) {
            pairs->items[kept++] = pairs->items[i];
        }
    }
    pairs->count = kept;
}

/* ---- near misses ---- */

static void note_welds(Notes *notes)
{
    const GeomOverlay *overlay = notes->envelope->overlay;
    const Plan *plan = notes->envelope->plan;
    for (int i = 0; i < overlay->weld_count;) {
        int curve = overlay->welds[i].curve, count = 0;
        GeomPoint at = overlay->welds[i].to;
        for (; i < overlay->weld_count && overlay->welds[i].curve == curve; i++) {
            count++;
        }
        if (curve >= plan->space_count) {
            continue;
        }
        EnvelopeNote note = {.id = NOTE_WELDED,
                             .table = PLAN_SPACES,
                             .index = curve,
                             .other = -1,
                             .at = at,
                             .level = plan->spaces[curve].level};
        add_note(
            notes, note,
            "%s: %d %s drawn within 3 mm of another %s there; the plan keeps what was drawn. Move "
            "%s onto the other to be rid of this note.",
            space_name(plan, curve), count, count == 1 ? "corner" : "corners",
            count == 1 ? "counts as" : "count as being", count == 1 ? "it" : "them");
    }
}

/* An edge of a level's outline with a space on one side and nothing of the level on the other. */
typedef struct Rim {
    int space;
    bool left; /* the space lies left */
} Rim;

static bool is_rim(const Envelope *envelope, int edge, int level, Rim *rim)
{
    const GeomEdge *e = &envelope->overlay->edges[edge];
    int left = envelope_space_on(envelope, level, e->left);
    int right = envelope_space_on(envelope, level, e->right);
    *rim = (Rim){left >= 0 ? left : right, left >= 0};
    return (left >= 0) != (right >= 0);
}

static bool faces_away(const GeomOverlay *overlay, int edge, bool space_left, GeomPoint from)
{
    const GeomEdge *e = &overlay->edges[edge];
    int side = geom_side(overlay->vertices[e->a], overlay->vertices[e->b], from);
    return side != 0 && (side > 0) != space_left;
}

static void pair_gap(Notes *notes, SpacePairs *pairs, int edge, int other, int level, Rim rim)
{
    const Envelope *envelope = notes->envelope;
    const GeomOverlay *overlay = envelope->overlay;
    Rim second;
    if (!is_rim(envelope, other, level, &second) || second.space <= rim.space) {
        return;
    }
    const GeomEdge *e = &overlay->edges[edge], *f = &overlay->edges[other];
    GeomPoint a = overlay->vertices[e->a], b = overlay->vertices[e->b];
    GeomPoint c = overlay->vertices[f->a], d = overlay->vertices[f->b];
    Hold hold;
    if (!along_line(c, d, a, b, GAP_REACH_TICKS, &hold) ||
        (hold.t1 - hold.t0) * geom_distance(a, b) <= ENVELOPE_NEAR_TICKS) {
        return;
    }
    if (faces_away(overlay, edge, rim.left, middle(c, d)) &&
        faces_away(overlay, other, second.left, middle(a, b))) {
        add_pair(notes, pairs, (SpacePair){rim.space, second.space, middle(a, b)});
    }
}

static void pair_gaps_of(Notes *notes, SpacePairs *pairs, int edge, int level, int **near,
                         int *capacity)
{
    const Envelope *envelope = notes->envelope;
    const GeomOverlay *overlay = envelope->overlay;
    Rim rim;
    if (!is_rim(envelope, edge, level, &rim)) {
        return;
    }
    Stretch stretch = {overlay->vertices[overlay->edges[edge].a],
                       overlay->vertices[overlay->edges[edge].b]};
    int found = along_edges_near(overlay, stretch, GAP_REACH_TICKS, near, capacity);
    if (found < 0) {
        notes->status = STATUS_MEMORY;
    }
    for (int i = 0; i < found; i++) {
        if ((*near)[i] != edge) {
            pair_gap(notes, pairs, edge, (*near)[i], level, rim);
        }
    }
}

/* Rooms traced to their inner faces leave the wall's thickness between them. */
static void note_gaps(Notes *notes)
{
    const Envelope *envelope = notes->envelope;
    const GeomOverlay *overlay = envelope->overlay;
    const Plan *plan = envelope->plan;
    SpacePairs pairs = {0};
    int *near = NULL, capacity = 0;
    for (int edge = 0; edge < overlay->edge_count; edge++) {
        const GeomEdge *e = &overlay->edges[edge];
        for (int i = 0; i < e->on_count; i++) {
            int curve = overlay->on[e->on_start + i].curve;
            if (curve < plan->space_count) {
                pair_gaps_of(notes, &pairs, edge, plan->spaces[curve].level, &near, &capacity);
            }
        }
    }
    keep_first(&pairs);
    for (int i = 0; i < pairs.count; i++) {
        const SpacePair *pair = &pairs.items[i];
        EnvelopeNote note = {NOTE_GAP,  PLAN_SPACES, pair->one,
                             pair->two, pair->at,    plan->spaces[pair->one].level,
                             ""};
        add_note(
            notes, note,
            "%s and %s face each other across a gap of less than 400 mm (16 in), which counts as "
            "not inside. If that is the wall between them, draw both to one line.",
            space_name(plan, pair->one), space_name(plan, pair->two));
    }
    mem_free(pairs.items);
    mem_free(near);
}

/* ---- covered without meeting ---- */

static bool meet_in_height(const Derivation *derivation, int a, int b)
{
    int64_t low =
        derivation->floor[a] > derivation->floor[b] ? derivation->floor[a] : derivation->floor[b];
    int64_t high = derivation->ceiling[a] < derivation->ceiling[b] ? derivation->ceiling[a]
                                                                   : derivation->ceiling[b];
    return high - low > ENVELOPE_IGNORED_TICKS;
}

static void pair_covers(Notes *notes, SpacePairs *pairs, const GeomFace *face)
{
    const GeomOverlay *overlay = notes->envelope->overlay;
    const Plan *plan = notes->envelope->plan;
    int first = overlay->cover_start[face->cover], end = overlay->cover_start[face->cover + 1];
    for (int j = first; j < end; j++) {
        const PlanSpace *later = &plan->spaces[overlay->cover_items[j]];
        if (later->kind == SPACE_VOID) {
            continue;
        }
        for (int i = j - 1; i >= first; i--) {
            const PlanSpace *earlier = &plan->spaces[overlay->cover_items[i]];
            if (earlier->level != later->level) {
                continue;
            }
            if (earlier->kind == SPACE_VOID) {
                break;
            }
            if (!meet_in_height(notes->derivation, overlay->cover_items[i],
                                overlay->cover_items[j])) {
                add_pair(
                    notes, pairs,
                    (SpacePair){overlay->cover_items[i], overlay->cover_items[j], face->inside});
            }
        }
    }
}

static void note_covers(Notes *notes)
{
    const Plan *plan = notes->envelope->plan;
    SpacePairs pairs = {0};
    for (int i = 1; i < notes->envelope->overlay->face_count; i++) {
        pair_covers(notes, &pairs, &notes->envelope->overlay->faces[i]);
    }
    keep_first(&pairs);
    for (int i = 0; i < pairs.count; i++) {
        const SpacePair *pair = &pairs.items[i];
        EnvelopeNote note = {
            NOTE_COVERS_NO_HEIGHT,         PLAN_SPACES, pair->two, pair->one, pair->at,
            plan->spaces[pair->two].level, ""};
        add_note(
            notes, note,
            "%s is drawn over %s on one level but stands at another height, so it hides it there. "
            "Put it on a level of its own.",
            space_name(plan, pair->two), space_name(plan, pair->one));
    }
    mem_free(pairs.items);
}

/* ---- marks ---- */

/* What a mark meets on its holds. */
typedef struct MarkMeets {
    bool inside, open_fails;
} MarkMeets;

static void meet_marks(const Notes *notes, MarkMeets *meets)
{
    const Envelope *envelope = notes->envelope;
    const Holds *holds = &notes->derivation->marks;
    for (int i = 0; i < holds->count; i++) {
        const Hold *hold = &holds->items[i];
        const PlanEdge *mark = &envelope->plan->edges[hold->owner];
        bool both = marks_open_works(envelope, mark->level, hold->edge);
        const GeomEdge *e = &envelope->overlay->edges[hold->edge];
        bool shows = envelope_space_on(envelope, mark->level, e->left) >= 0 ||
                     envelope_space_on(envelope, mark->level, e->right) >= 0;
        meets[hold->owner].inside |= both || shows;
        meets[hold->owner].open_fails |= !mark->wall && !both;
    }
}

static void note_marks(Notes *notes)
{
    const Plan *plan = notes->envelope->plan;
    MarkMeets *meets = mem_alloc((size_t)plan->edge_count + 1, sizeof *meets);
    if (!meets) {
        notes->status = STATUS_MEMORY;
        return;
    }
    meet_marks(notes, meets);
    for (int i = 0; i < plan->edge_count; i++) {
        const PlanEdge *mark = &plan->edges[i];
        EnvelopeNote note = {.table = PLAN_EDGES,
                             .index = i,
                             .other = -1,
                             .at = middle(mark->from, mark->to),
                             .level = mark->level};
        if (!meets[i].inside) {
            note.id = NOTE_MARK_NOWHERE;
            add_note(
                notes, note,
                "A mark that says %s lies on no edge of %s, so it does nothing. Move it onto the "
                "edge it is meant for, or take it away.",
                mark->wall ? "wall" : "open", plan->levels[mark->level].name);
        } else if (meets[i].open_fails) {
            note.id = NOTE_OPEN_NOTHING;
            add_note(
                notes, note,
                "An edge of %s is marked open, but not both of its sides are inside there, so the "
                "mark does nothing. Take it away, or draw the room that is missing.",
                plan->levels[mark->level].name);
        }
    }
    mem_free(meets);
}

/* ---- seals ---- */

/* A part of a seal that lies on a joint line of its class and level. */
typedef struct SealPart {
    int seal;
    double s0, s1;
} SealPart;

static int by_seal(const void *one, const void *two)
{
    const SealPart *a = one, *b = two;
    if (a->seal != b->seal) {
        return a->seal < b->seal ? -1 : 1;
    }
    if (a->s0 != b->s0) {
        return a->s0 < b->s0 ? -1 : 1;
    }
    return a->s1 < b->s1 ? -1 : a->s1 > b->s1;
}

static int first_piece(const Envelope *envelope, int edge)
{
    int low = 0, high = envelope->joint_count;
    while (low < high) {
        int half = (low + high) / 2;
        if (envelope->joints[half].edge < edge) {
            low = half + 1;
        } else {
            high = half;
        }
    }
    return low;
}

static SealPart part_of(const Hold *hold, double t0, double t1)
{
    double scale = (hold->s1 - hold->s0) / (hold->t1 - hold->t0);
    SealPart part = {hold->owner, hold->s0 + (t0 - hold->t0) * scale,
                     hold->s0 + (t1 - hold->t0) * scale};
    if (!hold->along) {
        part = (SealPart){hold->owner, hold->s1 - (t1 - hold->t0) * scale,
                          hold->s1 - (t0 - hold->t0) * scale};
    }
    return part;
}

/* Parts of all seals that lie on lines; *count of them, NULL without memory. */
static SealPart *find_seal_parts(Notes *notes, int *count)
{
    const Envelope *envelope = notes->envelope;
    const Holds *holds = &notes->derivation->seals;
    SealPart *parts = NULL;
    int capacity = 0;
    for (int i = 0; i < holds->count; i++) {
        const Hold *hold = &holds->items[i];
        for (int p = first_piece(envelope, hold->edge);
             p < envelope->joint_count && envelope->joints[p].edge == hold->edge; p++) {
            const JointPiece *piece = &envelope->joints[p];
            double t0 = fmax(piece->t0, hold->t0), t1 = fmin(piece->t1, hold->t1);
            if (t1 <= t0 ||
                !seal_fits(envelope->plan, hold, piece->joint, piece->level, piece->left)) {
                continue;
            }
            if (array_reserve((void **)&parts, &capacity, *count + 1, sizeof *parts) != STATUS_OK) {
                notes->status = STATUS_MEMORY;
                return parts;
            }
            parts[(*count)++] = part_of(hold, t0, t1);
        }
    }
    if (*count > 0) {
        qsort(parts, (size_t)*count, sizeof *parts, by_seal);
    }
    return parts;
}

/* Length of the union of a seal's parts, as a share of it. */
static double covered_share(const SealPart *parts, int count, int *at, int seal)
{
    double covered = 0, end = 0;
    for (; *at < count && parts[*at].seal == seal; (*at)++) {
        double from = fmax(end, parts[*at].s0);
        if (parts[*at].s1 > from) {
            covered += parts[*at].s1 - from;
            end = parts[*at].s1;
        }
    }
    return covered;
}

static void note_seals(Notes *notes)
{
    const Plan *plan = notes->envelope->plan;
    int count = 0, at = 0;
    SealPart *parts = find_seal_parts(notes, &count);
    for (int i = 0; i < plan->seal_count && notes->status == STATUS_OK; i++) {
        const PlanSeal *seal = &plan->seals[i];
        double length = geom_distance(seal->from, seal->to);
        double bare = length * (1 - covered_share(parts, count, &at, i));
        if (seal->state == STATE_ABSENT || bare <= GEOM_WELD_TICKS) {
            continue;
        }
        char size[GEOM_LENGTH_SIZE];
        EnvelopeNote note = {NOTE_SEAL_NOWHERE, PLAN_SEALS, i, -1, middle(seal->from, seal->to),
                             seal->level,       ""};
        add_note(
            notes, note,
            "%s %s: %s of it lies on no %s joint of %s, so it seals nothing there. Move it to its "
            "joint, or take it away.",
            "Seal", seal->tag[0] ? seal->tag : seal->id,
            geom_length_print((int64_t)bare, plan->settings.units, size),
            joint_class_word(seal->joint), plan->levels[seal->level].name);
    }
    mem_free(parts);
}

/* ---- holes ---- */

static void note_holes(Notes *notes)
{
    const Envelope *envelope = notes->envelope;
    const Plan *plan = envelope->plan;
    for (int i = 0; i < plan->penetration_count; i++) {
        const PlanPenetration *mark = &plan->penetrations[i];
        if (envelope->holes[i].sits != HOLE_NOWHERE || mark->state == STATE_ABSENT) {
            continue;
        }
        EnvelopeNote note = {NOTE_HOLE_NOWHERE, PLAN_PENETRATIONS, i, -1,
                             mark->at,          mark->level,       ""};
        add_note(notes, note,
                 "%s %s lies outside every space of %s and is not counted. Move it to its place, "
                 "or draw "
                 "the space it belongs to.",
                 plan->catalog->kinds[mark->kind].shown, mark->tag[0] ? mark->tag : mark->id,
                 plan->levels[mark->level].name);
    }
}

static void note_nothing_inside(Notes *notes)
{
    const Plan *plan = notes->envelope->plan;
    for (int i = 0; i < plan->space_count; i++) {
        if (space_kind_inside(plan->spaces[i].kind)) {
            return;
        }
    }
    EnvelopeNote note = {.id = NOTE_NOTHING_INSIDE, .table = PLAN_SETTINGS, .other = -1};
    add_note(
        notes, note,
        "Nothing in the plan is inside yet, so there is no boundary. Draw a conditioned room.");
}

Status notes_make(Envelope *envelope, Derivation *derivation)
{
    Notes notes = {.envelope = envelope, .derivation = derivation, .status = STATUS_OK};
    void (*const steps[])(Notes *) = {note_nothing_inside, note_welds, note_gaps, note_covers,
                                      note_marks,          note_seals, note_holes};
    for (size_t i = 0; i < sizeof steps / sizeof *steps && notes.status == STATUS_OK; i++) {
        steps[i](&notes);
    }
    return notes.status;
}
