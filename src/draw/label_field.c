#include "draw/label_field.h"

#include <math.h>
#include <stdlib.h>

/* Costs of a place, against each other; see label_field.h for LABEL_NEVER. */
static const double cost_leader = 8.0, cost_leader_unit = 0.12, cost_cross = 20.0,
                    cost_through_label = 25.0, cost_through_symbol = 15.0, cost_away = 0.15,
                    cost_order = 0.4;

/* Reference pixels. */
static const double beside = 2.6, beside_paper = 3.6, lead_reach = 160.0;

void label_field_start(LabelField *field, PaintBox area, double rp, bool leaders)
{
    *field = (LabelField){.area = area, .rp = rp, .leaders = leaders};
    field->obstacle_grid = box_grid_make(area, 32.0 * rp);
    field->label_grid = box_grid_make(area, 48.0 * rp);
    if (field->obstacle_grid == NULL || field->label_grid == NULL)
        field->status = STATUS_MEMORY;
}

void label_field_clear(LabelField *field)
{
    for (int i = 0; i < field->label_count; i++)
        mem_free(field->labels[i].text);
    mem_free(field->labels);
    mem_free(field->obstacles);
    mem_free(field->spots);
    box_grid_free(field->obstacle_grid);
    box_grid_free(field->label_grid);
    *field = (LabelField){0};
}

/* ---- what is in the way ---------------------------------------------------------------------- */

void label_field_block(LabelField *field, LabelObstacle o)
{
    if (field->status != STATUS_OK)
        return;
    PaintBox box = {fmin(o.x0, o.x1) - o.reach, fmin(o.y0, o.y1) - o.reach,
                    fabs(o.x1 - o.x0) + 2.0 * o.reach, fabs(o.y1 - o.y0) + 2.0 * o.reach};
    if (!boxes_overlap(box, field->area))
        return;
    field->status = array_reserve((void **)&field->obstacles, &field->obstacle_room,
                                  field->obstacle_count + 1, sizeof *field->obstacles);
    if (field->status != STATUS_OK)
        return;
    field->obstacles[field->obstacle_count] = o;
    field->status = box_grid_add(field->obstacle_grid, box, field->obstacle_count++);
}

void label_field_block_box(LabelField *field, PaintBox box, double cost)
{
    double half = fmin(box.width, box.height) / 2.0; /* of a line along its longer side */
    LabelObstacle o = {box.x + half, box.y + half, box.x + box.width - half,
                       box.y + box.height - half, half, cost, LABEL_NO_OWNER};
    label_field_block(field, o);
}

void label_field_add(LabelField *field, Label label)
{
    if (field->status == STATUS_OK)
        field->status = array_reserve((void **)&field->labels, &field->label_room,
                                      field->label_count + 1, sizeof *field->labels);
    if (field->status != STATUS_OK) {
        mem_free(label.text);
        return;
    }
    field->labels[field->label_count++] = label;
}

void label_field_spot(LabelField *field, LabelSpot spot)
{
    if (field->status == STATUS_OK)
        field->status = array_reserve((void **)&field->spots, &field->spot_room,
                                      field->spot_count + 1, sizeof *field->spots);
    if (field->status == STATUS_OK)
        field->spots[field->spot_count++] = spot;
}

bool label_line_clip(PaintBox box, double x0, double y0, double x1, double y1, double *from,
                     double *to)
{
    const double start[2] = {x0, y0}, way[2] = {x1 - x0, y1 - y0};
    const double least[2] = {box.x, box.y}, most[2] = {box.x + box.width, box.y + box.height};
    *from = 0.0;
    *to = 1.0;
    for (int i = 0; i < 2; i++) {
        if (fabs(way[i]) < 1e-12) {
            if (start[i] <= least[i] || start[i] >= most[i])
                return false;
            continue;
        }
        double t0 = (least[i] - start[i]) / way[i], t1 = (most[i] - start[i]) / way[i];
        *from = fmax(*from, fmin(t0, t1));
        *to = fmin(*to, fmax(t0, t1));
    }
    return *from < *to;
}

bool label_line_meets(PaintBox box, double x0, double y0, double x1, double y1)
{
    double from, to;
    return label_line_clip(box, x0, y0, x1, y1, &from, &to);
}

static PaintBox grown(PaintBox box, double by)
{
    return (PaintBox){box.x - by, box.y - by, box.width + 2.0 * by, box.height + 2.0 * by};
}

/* ---- what a place costs ---------------------------------------------------------------------- */

typedef struct CostSum {
    const LabelField *field;
    PaintBox box;
    int own;
    double sum;
} CostSum;

static bool add_obstacle(void *context, int id, PaintBox box)
{
    (void)box;
    CostSum *sum = context;
    const LabelObstacle *o = &sum->field->obstacles[id];
    if (sum->own >= 0 &&
        (o->owner == LABEL_KEEP_FREE || o->owner == sum->field->labels[sum->own].owner))
        return false;
    if (label_line_meets(grown(sum->box, o->reach), o->x0, o->y0, o->x1, o->y1))
        sum->sum += o->cost;
    return sum->sum >= LABEL_NEVER;
}

/* A label that has moved has left its old box in the grid; only the one it stands in counts. */
static bool stands_in(const Label *label, PaintBox box)
{
    return label->placed && label->box.x == box.x && label->box.y == box.y;
}

static bool add_label(void *context, int id, PaintBox box)
{
    CostSum *sum = context;
    if (id != sum->own && stands_in(&sum->field->labels[id], box))
        sum->sum += LABEL_NEVER;
    return sum->sum >= LABEL_NEVER;
}

static bool inside_area(PaintBox area, PaintBox box)
{
    return box.x >= area.x && box.y >= area.y && box.x + box.width <= area.x + area.width &&
           box.y + box.height <= area.y + area.height;
}

double label_field_cost(LabelField *field, PaintBox box, int own)
{
    if (field->status != STATUS_OK || !inside_area(field->area, box))
        return LABEL_NEVER;
    CostSum sum = {field, box, own, 0.0};
    if (!box_grid_visit(field->obstacle_grid, box, add_obstacle, &sum))
        box_grid_visit(field->label_grid, box, add_label, &sum);
    return sum.sum;
}

static int turn_of(double ax, double ay, double bx, double by, double cx, double cy)
{
    double cross = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    return cross > 0.0 ? 1 : cross < 0.0 ? -1 : 0;
}

static bool leads_cross(const Label *a, const Label *b)
{
    return turn_of(a->lead_x0, a->lead_y0, a->lead_x1, a->lead_y1, b->lead_x0, b->lead_y0) *
                   turn_of(a->lead_x0, a->lead_y0, a->lead_x1, a->lead_y1, b->lead_x1, b->lead_y1) <
               0 &&
           turn_of(b->lead_x0, b->lead_y0, b->lead_x1, b->lead_y1, a->lead_x0, a->lead_y0) *
                   turn_of(b->lead_x0, b->lead_y0, b->lead_x1, b->lead_y1, a->lead_x1, a->lead_y1) <
               0;
}

static bool add_lead_obstacle(void *context, int id, PaintBox box)
{
    (void)box;
    CostSum *sum = context;
    const Label *label = &sum->field->labels[sum->own];
    const LabelObstacle *o = &sum->field->obstacles[id];
    bool point = o->x0 == o->x1 && o->y0 == o->y1;
    bool own = hypot(o->x0 - label->x, o->y0 - label->y) < label->reach * 1.6;
    PaintBox around = {o->x0 - o->reach, o->y0 - o->reach, 2.0 * o->reach, 2.0 * o->reach};
    if (point && !own &&
        label_line_meets(around, label->lead_x0, label->lead_y0, label->lead_x1, label->lead_y1))
        sum->sum += cost_through_symbol;
    return false;
}

/* What the line of a label runs over; the label's own lead is set. */
static double lead_cost(LabelField *field, int own)
{
    const Label *label = &field->labels[own];
    PaintBox box = {fmin(label->lead_x0, label->lead_x1), fmin(label->lead_y0, label->lead_y1),
                    fabs(label->lead_x1 - label->lead_x0), fabs(label->lead_y1 - label->lead_y0)};
    CostSum sum = {field, box, own, 0.0};
    box_grid_visit(field->obstacle_grid, grown(box, field->rp), add_lead_obstacle, &sum);
    double cost = sum.sum;
    for (int i = 0; i < field->label_count; i++) {
        const Label *other = &field->labels[i];
        if (i == own || !other->placed)
            continue;
        if (other->led && leads_cross(label, other))
            cost += cost_cross;
        if (label_line_meets(other->box, label->lead_x0, label->lead_y0, label->lead_x1,
                             label->lead_y1))
            cost += cost_through_label;
    }
    return cost;
}

static double over_leads(const LabelField *field, PaintBox box, int own)
{
    double cost = 0.0;
    for (int i = 0; field->leaders && i < field->label_count; i++) {
        const Label *other = &field->labels[i];
        if (i != own && other->placed && other->led &&
            label_line_meets(box, other->lead_x0, other->lead_y0, other->lead_x1, other->lead_y1))
            cost += cost_through_label;
    }
    return cost;
}

/* ---- places ---------------------------------------------------------------------------------- */

static void keep_if_better(LabelField *field, int own, const Label *tried, double cost)
{
    Label *label = &field->labels[own];
    if (cost >= LABEL_NEVER || (label->placed && cost >= label->cost))
        return;
    label->placed = true;
    label->led = tried->led;
    label->box = tried->box;
    label->lead_x0 = tried->lead_x0;
    label->lead_y0 = tried->lead_y0;
    label->lead_x1 = tried->lead_x1;
    label->lead_y1 = tried->lead_y1;
    label->cost = cost;
}

/* Works out the cost of the box and lead in tried and keeps it if it is the best so far. */
static void try_place(LabelField *field, int own, Label tried, double cost)
{
    Label *label = &field->labels[own];
    if (tried.led)
        cost +=
            cost_leader + cost_leader_unit / field->rp *
                              hypot(tried.lead_x1 - tried.lead_x0, tried.lead_y1 - tried.lead_y0);
    if (label->placed && cost >= label->cost)
        return;
    cost += label_field_cost(field, tried.box, own);
    if (cost >= LABEL_NEVER || (label->placed && cost >= label->cost))
        return;
    cost += over_leads(field, tried.box, own);
    if (tried.led) {
        Label held = *label;
        *label = tried;
        label->placed = false;
        cost += lead_cost(field, own);
        *label = held;
    }
    keep_if_better(field, own, &tried, cost);
}

/* Eight places round a symbol: the middle of the label lies that way from it. */
typedef struct Side {
    double x, y, order;
} Side;

static const Side screen_sides[] = {{0, 1, 0},   {1, 0, 1},      {-1, 0, 2},      {0, -1, 3},
                                    {0.7, 1, 4}, {-0.7, 1, 4.2}, {-0.7, -1, 4.4}, {0.7, -1, 4.6}};
static const Side paper_sides[] = {{-1, 0, 0},     {1, 0, 0.5},   {0, 1, 1.5},   {0, -1, 2},
                                   {-0.8, 1, 2.5}, {0.8, 1, 2.8}, {-0.8, -1, 3}, {0.8, -1, 3.2}};
enum { SIDES = 8 };

static PaintBox box_beside(const Label *label, const Side *side, double off)
{
    double x = label->x + side->x * (label->reach + off + label->width / 2.0);
    double y = label->y + side->y * (label->reach + off + label->height / 2.0);
    if (side->y == 0.0)
        y = label->y;
    return (PaintBox){x - label->width / 2.0, y - label->height / 2.0, label->width, label->height};
}

static void try_beside(LabelField *field, int own)
{
    const Side *sides = field->leaders ? paper_sides : screen_sides;
    int distances = field->leaders ? 4 : 3;
    for (int d = 0; d < distances; d++) {
        double off = ((field->leaders ? beside_paper : beside) + d * 3.0) * field->rp;
        for (int i = 0; i < SIDES; i++) {
            Label tried = field->labels[own];
            tried.led = false;
            tried.box = box_beside(&tried, &sides[i], off);
            double cost = cost_order * sides[i].order + cost_away * (off / field->rp - beside);
            try_place(field, own, tried, cost);
        }
    }
}

/* The point of a box's edge that is nearest to x, y. */
static void nearest_edge(PaintBox box, double x, double y, double *ex, double *ey)
{
    *ex = fmin(fmax(x, box.x), box.x + box.width);
    *ey = fmin(fmax(y, box.y), box.y + box.height);
}

static void lead_to_symbol(Label *label)
{
    double ex, ey;
    nearest_edge(label->box, label->x, label->y, &ex, &ey);
    double dx = ex - label->x, dy = ey - label->y, length = hypot(dx, dy);
    label->led = true;
    label->lead_x0 = ex;
    label->lead_y0 = ey;
    label->lead_x1 = length > 0.0 ? label->x + dx / length * label->reach : label->x;
    label->lead_y1 = length > 0.0 ? label->y + dy / length * label->reach : label->y;
}

/* Rings of places farther and farther off, with a line to the symbol. */
static void try_led(LabelField *field, int own)
{
    enum { WAYS = 16 };
    const double whole_turn = 2.0 * 3.14159265358979323846, first = 14.0, step = 10.0;
    for (double off = first; off <= lead_reach; off += step) {
        for (int i = 0; i < WAYS; i++) {
            Label tried = field->labels[own];
            double angle = whole_turn * i / WAYS, away = tried.reach + off * field->rp;
            double x = tried.x + cos(angle) * (away + tried.width / 2.0);
            double y = tried.y + sin(angle) * (away + tried.height / 2.0);
            tried.box = (PaintBox){x - tried.width / 2.0, y - tried.height / 2.0, tried.width,
                                   tried.height};
            lead_to_symbol(&tried);
            try_place(field, own, tried, 0.0);
        }
        if (field->labels[own].placed &&
            field->labels[own].cost <= cost_leader + cost_leader_unit * off) /* farther: dearer */
            break;
    }
}

static void try_spot(LabelField *field, int own, const LabelSpot *spot, int order)
{
    static const double offs[] = {9.0, 15.0, 22.0, 32.0, 46.0, 64.0};
    for (size_t d = 0; d < sizeof offs / sizeof offs[0]; d++) {
        for (int way = -1; way <= 1; way += 2) {
            for (int along = -1; along <= 1; along++) {
                Label tried = field->labels[own];
                double nx = spot->nx * way, ny = spot->ny * way, off = offs[d] * field->rp;
                double half = fabs(nx) * tried.width / 2.0 + fabs(ny) * tried.height / 2.0;
                double shift = along * (fabs(ny) * tried.width + fabs(nx) * tried.height) * 0.5;
                double x = spot->x + nx * (off + half) - ny * shift;
                double y = spot->y + ny * (off + half) + nx * shift;
                tried.box = (PaintBox){x - tried.width / 2.0, y - tried.height / 2.0, tried.width,
                                       tried.height};
                tried.led = true;
                nearest_edge(tried.box, spot->x, spot->y, &tried.lead_x0, &tried.lead_y0);
                tried.lead_x1 = spot->x;
                tried.lead_y1 = spot->y;
                double cost = 0.1 * order + 0.3 * (along != 0);
                try_place(field, own, tried, cost);
            }
        }
    }
}

static void place_label(LabelField *field, int own)
{
    Label *label = &field->labels[own];
    label->placed = false;
    if (label->spot_count > 0) {
        for (int i = 0; i < label->spot_count; i++)
            try_spot(field, own, &field->spots[label->spot + i], i);
    } else {
        try_beside(field, own);
        if (field->leaders && (!label->placed || label->cost > cost_leader))
            try_led(field, own);
    }
    if (label->placed && field->status == STATUS_OK)
        field->status = box_grid_add(field->label_grid, label->box, own);
}

/* ---- order ----------------------------------------------------------------------------------- */

typedef struct Turn {
    int label, rank;
    double crowd;
} Turn;

static int compare_turns(const void *a, const void *b)
{
    const Turn *p = a, *q = b;
    if (p->rank != q->rank)
        return p->rank < q->rank ? -1 : 1;
    if (p->crowd > q->crowd || p->crowd < q->crowd)
        return p->crowd > q->crowd ? -1 : 1;
    return p->label < q->label ? -1 : p->label > q->label ? 1 : 0;
}

static bool count_one(void *context, int id, PaintBox box)
{
    (void)id;
    (void)box;
    ++*(double *)context;
    return false;
}

static double crowd_round(LabelField *field, const Label *label)
{
    double count = 0.0, reach = 44.0 * field->rp;
    if (label->spot_count > 0)
        return 0.0; /* runs have many places: they come after the symbols */
    PaintBox box = {label->x - reach, label->y - reach, 2.0 * reach, 2.0 * reach};
    box_grid_visit(field->obstacle_grid, box, count_one, &count);
    return count;
}

static double total_cost(const LabelField *field)
{
    double sum = 0.0;
    for (int i = 0; i < field->label_count; i++)
        sum += field->labels[i].placed ? field->labels[i].cost : LABEL_NEVER;
    return sum;
}

/* Everything placed once in turn, then each again among all the others. */
static void place_in_turn(LabelField *field, const Turn *turns, int rounds)
{
    for (int i = 0; i < field->label_count; i++)
        field->labels[i].placed = false;
    for (int round = 0; round < rounds; round++) {
        for (int i = 0; i < field->label_count && field->status == STATUS_OK; i++)
            place_label(field, turns[i].label);
    }
}

static void shuffle(Turn *turns, int count, Random *random)
{
    for (int i = count - 1; i > 0; i--) {
        int j = random_int(random, 0, i);
        Turn held = turns[i];
        turns[i] = turns[j];
        turns[j] = held;
    }
}

static void place_on_paper(LabelField *field, Turn *turns, Label *best)
{
    enum { STARTS = 6, ROUNDS = 3 };
    Random random = {20260520};
    double least = 0.0;
    for (int start = 0; start < STARTS && field->status == STATUS_OK; start++) {
        if (start > 0)
            shuffle(turns, field->label_count, &random);
        place_in_turn(field, turns, ROUNDS);
        double cost = total_cost(field);
        if (start > 0 && cost >= least)
            continue;
        least = cost;
        for (int i = 0; i < field->label_count; i++)
            best[i] = field->labels[i];
    }
    for (int i = 0; i < field->label_count && field->status == STATUS_OK; i++)
        field->labels[i] = best[i];
}

void label_field_place(LabelField *field)
{
    size_t count = (size_t)field->label_count;
    Turn *turns = mem_alloc(count + 1, sizeof *turns);
    Label *best = mem_alloc(count + 1, sizeof *best);
    if (turns == NULL || best == NULL)
        field->status = STATUS_MEMORY;
    for (int i = 0; i < field->label_count && field->status == STATUS_OK; i++) {
        const Label *label = &field->labels[i];
        double crowd = field->leaders ? crowd_round(field, label) : 0.0;
        turns[i] = (Turn){i, field->leaders ? 0 : label->rank, crowd};
    }
    if (field->status == STATUS_OK) {
        qsort(turns, count, sizeof *turns, compare_turns);
        if (field->leaders)
            place_on_paper(field, turns, best);
        else
            place_in_turn(field, turns, 1);
    }
    mem_free(turns);
    mem_free(best);
}
