/* Joint runs: pieces of the envelope sorted and put together. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "paper/rows.h"
#include "paper/words.h"

/* All that makes two pieces one run, and the order of runs. */
typedef struct PieceKey {
    JointClass joint;
    const char *tag; /* "" without one */
    int rank;        /* of its level, from the ground up */
    int space;       /* without a tag: its room; else 0 */
    SpaceKind to;
    ShownState shown;
    const PlanSeal *seal; /* NULL: none */
    double gap_mm;
    int piece;
} PieceKey;

/* ---- order -------------------------------------------------------------------------------------- */

static int order_of(int a, int b)
{
    return (a > b) - (a < b);
}

static int tag_order(const char *a, const char *b)
{
    if ((a[0] == 0) != (b[0] == 0))
        return a[0] == 0 ? 1 : -1;
    return rows_tag_order(a, b);
}

static int text_order(const char *a, const char *b)
{
    return strcmp(a != NULL ? a : "", b != NULL ? b : "");
}

/* What seals of one run must have in common. */
static int seal_order(const PlanSeal *a, const PlanSeal *b)
{
    if (a == b)
        return 0;
    if (a == NULL || b == NULL)
        return a == NULL ? 1 : -1;
    int order = order_of(a->method, b->method);
    if (order == 0)
        order = order_of(a->trade, b->trade);
    if (order == 0)
        order = order_of(a->stage, b->stage);
    if (order == 0)
        order = text_order(a->told_by, b->told_by);
    if (order == 0)
        order = text_order(a->told_on, b->told_on);
    return order != 0 ? order : text_order(a->covered_on, b->covered_on);
}

/* Order of runs: 0 for pieces of one run. */
static int run_order(const PieceKey *a, const PieceKey *b)
{
    int order = order_of((int)a->joint, (int)b->joint);
    if (order == 0)
        order = tag_order(a->tag, b->tag);
    if (order == 0)
        order = order_of(a->rank, b->rank);
    if (order == 0)
        order = order_of(a->space, b->space);
    if (order == 0)
        order = order_of((int)a->to, (int)b->to);
    if (order == 0)
        order = order_of((int)a->shown, (int)b->shown);
    if (order == 0)
        order = (a->gap_mm > b->gap_mm) - (a->gap_mm < b->gap_mm);
    return order != 0 ? order : seal_order(a->seal, b->seal);
}

static int key_order(const void *a, const void *b)
{
    const PieceKey *x = a, *y = b;
    int order = run_order(x, y);
    return order != 0 ? order : order_of(x->piece, y->piece);
}

static PieceKey key_of(const Envelope *envelope, const int *ranks, int piece)
{
    const Plan *plan = envelope->plan;
    const JointPiece *of = &envelope->joints[piece];
    const PlanSeal *seal = of->seal >= 0 ? &plan->seals[of->seal] : NULL;
    const char *tag = seal != NULL && seal->tag != NULL ? seal->tag : "";
    return (PieceKey){.joint = of->joint,
                      .tag = tag,
                      .rank = ranks[of->level],
                      .space = tag[0] == 0 ? of->space : 0,
                      .to = of->to,
                      .shown = joint_piece_shown(plan, of),
                      .seal = seal,
                      .gap_mm = of->gap_mm,
                      .piece = piece};
}

/* ---- where -------------------------------------------------------------------------------------- */

static unsigned side_bit(char letter)
{
    return letter == 'N'   ? RUN_NORTH
           : letter == 'E' ? RUN_EAST
           : letter == 'S' ? RUN_SOUTH
                           : RUN_WEST;
}

/* The side on which what is not inside lies, told by the larger part of the direction across. */
static unsigned piece_side(const Envelope *envelope, const JointPiece *piece)
{
    const GeomEdge *edge = &envelope->overlay->edges[piece->edge];
    GeomPoint a = envelope->overlay->vertices[edge->a], b = envelope->overlay->vertices[edge->b];
    double dx = (double)b.x - a.x, dy = (double)b.y - a.y;
    double nx = piece->left ? dy : -dy, ny = piece->left ? -dx : dx;
    char sides[SIDE_LETTERS];
    rows_sides(&envelope->plan->settings, sides);
    if (fabs(nx) > fabs(ny))
        return side_bit(sides[nx > 0.0 ? SIDE_TO_RIGHT : SIDE_TO_LEFT]);
    return side_bit(sides[ny > 0.0 ? SIDE_ABOVE : SIDE_BELOW]);
}

static bool outside_joint(JointClass joint)
{
    return joint != JOINT_INTERIOR_TOP_PLATE && joint != JOINT_STUD_BAYS &&
           joint != JOINT_STEP_BAYS;
}

static void add_sides(TextBuffer *text, unsigned sides)
{
    static const struct {
        unsigned side;
        const char *name;
    } names[] = {
        {RUN_NORTH, "north"}, {RUN_EAST, "east"}, {RUN_SOUTH, "south"}, {RUN_WEST, "west"}};
    int left = 0, said = 0;
    for (int i = 0; i < 4; i++)
        left += (sides & names[i].side) != 0;
    if (left == 4) {
        text_add(text, "All four sides");
        return;
    }
    for (int i = 0; i < 4; i++) {
        if ((sides & names[i].side) == 0)
            continue;
        text_add(text, said == 0 ? "" : left == 1 ? " and " : ", ");
        text_add(text, names[i].name);
        said++;
        left--;
    }
    if (said > 0 && text->bytes != NULL)
        text->bytes[0] = (char)(text->bytes[0] - 'a' + 'A');
}

static int int_order(const void *a, const void *b)
{
    return order_of(*(const int *)a, *(const int *)b);
}

/* The rooms of a run, each once, in the file's order. Returns how many, -1 without memory. */
static int run_rooms(const Envelope *envelope, const int *pieces, int count, int **rooms)
{
    *rooms = mem_alloc((size_t)count, sizeof **rooms);
    if (*rooms == NULL)
        return -1;
    for (int i = 0; i < count; i++)
        (*rooms)[i] = envelope->joints[pieces[i]].space;
    qsort(*rooms, (size_t)count, sizeof **rooms, int_order);
    int kept = 0;
    for (int i = 0; i < count; i++)
        if (kept == 0 || (*rooms)[kept - 1] != (*rooms)[i])
            (*rooms)[kept++] = (*rooms)[i];
    return kept;
}

static void add_room(TextBuffer *text, const char *name)
{
    enum { ROOM_LONG = 120 };
    char *clean = words_short(name, ROOM_LONG);
    text->failed = text->failed || clean == NULL;
    text_add(text, clean != NULL && clean[0] != 0 ? clean : "a room");
    mem_free(clean);
}

static void add_rooms(TextBuffer *text, const Plan *plan, const int *rooms, int count)
{
    enum { ROOMS_SAID = 4 };
    int said = count <= ROOMS_SAID ? count : ROOMS_SAID - 1;
    for (int i = 0; i < said; i++) {
        text_add(text, i == 0 ? "" : ", ");
        add_room(text, plan->spaces[rooms[i]].name);
    }
    if (said < count)
        text_addf(text, " and %d\xC2\xA0more", count - said);
}

static Status say_where(const Envelope *envelope, const RunRows *rows, RunRow *row)
{
    int *rooms = NULL;
    int count = run_rooms(envelope, rows->pieces + row->first, row->count, &rooms);
    TextBuffer text = {0};
    if (count >= 0) {
        if (outside_joint(row->joint)) {
            add_sides(&text, row->sides);
            text_add(&text, ": ");
        }
        add_rooms(&text, envelope->plan, rooms, count);
    }
    mem_free(rooms);
    if (count < 0 || text.failed) {
        text_free(&text);
        return STATUS_MEMORY;
    }
    row->where = text_copy(text.bytes);
    text_free(&text);
    return row->where != NULL ? STATUS_OK : STATUS_MEMORY;
}

/* ---- rows --------------------------------------------------------------------------------------- */

static bool piece_rated(const Envelope *envelope, const JointPiece *piece)
{
    enum { PARTS = 16 };
    EdgeLookPart parts[PARTS];
    int count = envelope_edge_looks(envelope, piece->level, piece->edge, parts, PARTS);
    double middle = (piece->t0 + piece->t1) / 2.0;
    for (int i = 0; i < count && i < PARTS; i++)
        if (parts[i].rated && parts[i].t0 <= middle && middle <= parts[i].t1)
            return true;
    return false;
}

static RunRow row_start(const Envelope *envelope, const PieceKey *key, int first)
{
    const Plan *plan = envelope->plan;
    const JointPiece *piece = &envelope->joints[key->piece];
    bool given = key->seal != NULL && key->seal->trade >= 0;
    return (RunRow){.joint = key->joint,
                    .level = piece->level,
                    .space = piece->space,
                    .to = key->to,
                    .shown = key->shown,
                    .seal = piece->seal,
                    .tag = key->tag,
                    .method = key->seal != NULL ? key->seal->method : CATALOG_METHOD_NONE,
                    .trade = given ? key->seal->trade : plan->catalog->joints[key->joint].trade,
                    .trade_given = given,
                    .stage = key->seal != NULL ? key->seal->stage : -1,
                    .open = !joint_piece_sealed(plan, piece),
                    .seen = joint_piece_seen(plan, piece),
                    .gap_mm = key->gap_mm,
                    .first = first};
}

static void row_add(const Envelope *envelope, RunRow *row, int piece)
{
    const JointPiece *of = &envelope->joints[piece];
    double length_mm = geom_to_mm(of->length);
    row->count++;
    row->length_mm += length_mm;
    row->area_mm2 += row->open ? length_mm * of->gap_mm : 0.0;
    row->lid_side = row->lid_side || of->lid_side;
    row->sides |= piece_side(envelope, of);
    row->rated = row->rated || piece_rated(envelope, of);
}

static Status gather(const Envelope *envelope, const PieceKey *keys, int count, RunRows *rows)
{
    for (int i = 0; i < count; i++) {
        rows->pieces[i] = keys[i].piece;
        if (i == 0 || run_order(&keys[i - 1], &keys[i]) != 0)
            rows->rows[rows->count++] = row_start(envelope, &keys[i], i);
        row_add(envelope, &rows->rows[rows->count - 1], keys[i].piece);
    }
    for (int i = 0; i < rows->count; i++) {
        Status status = say_where(envelope, rows, &rows->rows[i]);
        if (status != STATUS_OK)
            return status;
    }
    return STATUS_OK;
}

/* Pieces that count: what is left to the sheathing is given apart. */
static int keys_make(const Envelope *envelope, const int *ranks, PieceKey *keys)
{
    int count = 0;
    for (int i = 0; i < envelope->joint_count; i++)
        if (!envelope->joints[i].left_to_sheathing)
            keys[count++] = key_of(envelope, ranks, i);
    return count;
}

Status run_rows_make(const Envelope *envelope, RunRows *rows)
{
    *rows = (RunRows){0};
    size_t most = (size_t)envelope->joint_count;
    int *ranks = NULL;
    PieceKey *keys = mem_alloc(most, sizeof *keys);
    rows->rows = mem_alloc(most, sizeof *rows->rows);
    rows->pieces = mem_alloc(most, sizeof *rows->pieces);
    Status status = rows_level_ranks(envelope->plan, &ranks);
    if (keys == NULL || rows->rows == NULL || rows->pieces == NULL)
        status = STATUS_MEMORY;
    if (status == STATUS_OK) {
        int count = keys_make(envelope, ranks, keys);
        qsort(keys, (size_t)count, sizeof *keys, key_order);
        status = gather(envelope, keys, count, rows);
    }
    mem_free(keys);
    mem_free(ranks);
    if (status != STATUS_OK)
        run_rows_free(rows);
    return status;
}

void run_rows_free(RunRows *rows)
{
    for (int i = 0; i < rows->count; i++)
        mem_free(rows->rows[i].where);
    mem_free(rows->rows);
    mem_free(rows->pieces);
    *rows = (RunRows){0};
}
