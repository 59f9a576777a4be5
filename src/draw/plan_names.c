#include "draw/plan_names.h"

#include <math.h>
#include <stdlib.h>

/* The part of a space that shows: the edges round it and its area. */
typedef struct RoomShape {
    int first, count; /* edges, in RoomShapes.edges */
    double area_mm2;
    double x0, y0, x1, y1; /* box on the page */
} RoomShape;

typedef struct RoomShapes {
    const PlanScene *scene;
    RoomShape *rooms; /* one for each space */
    int *edges;
} RoomShapes;

/* ---- shapes ---------------------------------------------------------------------------------- */

static void grow_room(const PlanScene *scene, RoomShape *room, int edge, bool first)
{
    const GeomOverlay *overlay = scene->envelope->overlay;
    const int ends[2] = {overlay->edges[edge].a, overlay->edges[edge].b};
    for (int i = 0; i < 2; i++) {
        double x = scene_x(scene, overlay->vertices[ends[i]].x);
        double y = scene_y(scene, overlay->vertices[ends[i]].y);
        if (first && i == 0) {
            room->x0 = room->x1 = x;
            room->y0 = room->y1 = y;
        }
        room->x0 = fmin(room->x0, x);
        room->y0 = fmin(room->y0, y);
        room->x1 = fmax(room->x1, x);
        room->y1 = fmax(room->y1, y);
    }
}

static void list_edges(RoomShapes *shapes, bool count_only)
{
    const PlanScene *scene = shapes->scene;
    const GeomOverlay *overlay = scene->envelope->overlay;
    for (int i = 0; i < overlay->edge_count; i++) {
        int left = scene->face_space[overlay->edges[i].left];
        int right = scene->face_space[overlay->edges[i].right];
        if (left == right)
            continue;
        for (int side = 0; side < 2; side++) {
            int space = side == 0 ? left : right;
            if (space < 0)
                continue;
            RoomShape *room = &shapes->rooms[space];
            if (!count_only) {
                grow_room(scene, room, i, room->count == 0);
                shapes->edges[room->first + room->count] = i;
            }
            room->count++;
        }
    }
}

static Status shapes_make(RoomShapes *shapes, const PlanScene *scene)
{
    const Envelope *envelope = scene->envelope;
    const double square_ticks_per_mm2 = (double)GEOM_TICKS_PER_MM * GEOM_TICKS_PER_MM;
    int spaces = envelope->plan->space_count;
    shapes->scene = scene;
    shapes->rooms = mem_alloc((size_t)spaces + 1, sizeof *shapes->rooms);
    shapes->edges = mem_alloc(2 * (size_t)envelope->overlay->edge_count + 1, sizeof *shapes->edges);
    if (shapes->rooms == NULL || shapes->edges == NULL)
        return STATUS_MEMORY;
    list_edges(shapes, true);
    for (int i = 0, first = 0; i < spaces; i++) {
        shapes->rooms[i].first = first;
        first += shapes->rooms[i].count;
        shapes->rooms[i].count = 0;
    }
    list_edges(shapes, false);
    for (int i = 1; i < envelope->overlay->face_count; i++) {
        int space = scene->face_space[i];
        if (space >= 0)
            shapes->rooms[space].area_mm2 +=
                (double)envelope->overlay->faces[i].area2 / 2.0 / square_ticks_per_mm2;
    }
    return STATUS_OK;
}

static double box_to_line(PaintBox box, double ax, double ay, double bx, double by)
{
    double x = box.x + box.width / 2.0, y = box.y + box.height / 2.0;
    double dx = bx - ax, dy = by - ay, square = dx * dx + dy * dy;
    double t = square > 0.0 ? fmin(fmax(((x - ax) * dx + (y - ay) * dy) / square, 0.0), 1.0) : 0.0;
    double gap_x = fabs(ax + dx * t - x) - box.width / 2.0;
    double gap_y = fabs(ay + dy * t - y) - box.height / 2.0;
    return fmax(gap_x, gap_y);
}

/* True when the whole box lies in the room; clear: how far about from its walls. */
static bool in_room(const RoomShapes *shapes, const RoomShape *room, PaintBox box, double *clear)
{
    const PlanScene *scene = shapes->scene;
    const GeomOverlay *overlay = scene->envelope->overlay;
    double x = box.x + box.width / 2.0, y = box.y + box.height / 2.0;
    bool inside = false;
    *clear = HUGE_VAL;
    for (int i = 0; i < room->count; i++) {
        const GeomEdge *edge = &overlay->edges[shapes->edges[room->first + i]];
        double ax = scene_x(scene, overlay->vertices[edge->a].x);
        double ay = scene_y(scene, overlay->vertices[edge->a].y);
        double bx = scene_x(scene, overlay->vertices[edge->b].x);
        double by = scene_y(scene, overlay->vertices[edge->b].y);
        if (label_line_meets(box, ax, ay, bx, by))
            return false;
        *clear = fmin(*clear, box_to_line(box, ax, ay, bx, by));
        if ((ay > y) != (by > y) && x < ax + (y - ay) / (by - ay) * (bx - ax))
            inside = !inside;
    }
    return inside;
}

/* ---- places ---------------------------------------------------------------------------------- */

typedef struct NameText {
    const char *name, *note; /* note: "" for none */
    TextStyle name_style, note_style;
    double width, height, name_height;
} NameText;

static void measure_name(Painter *painter, NameText *text)
{
    PaintBox name = paint_text_size(painter, text->name, &text->name_style);
    text->name_height = text->name_style.size * 0.95 + (name.height - text->name_style.size * 1.21);
    text->width = name.width;
    text->height = text->name_height;
    if (text->note[0] != '\0') {
        PaintBox note = paint_text_size(painter, text->note, &text->note_style);
        text->width = fmax(text->width, note.width);
        text->height += text->note_style.size * 1.25;
    }
}

typedef struct NamePlace {
    double x, y, cost; /* upper left */
} NamePlace;

/* Off the middle by half the room; close to a wall, from so many reference pixels on. */
static const double away_cost = 1.0, close_cost = 1.5, close = 26.0;

/* Places nearer to the middle of the room first, as cheap as possible; cost LABEL_NEVER: none. */
static NamePlace find_place(const RoomShapes *shapes, const RoomShape *room, LabelField *field,
                            const NameText *text)
{
    enum { GRID = 12 };
    double margin = 3.0 * field->rp, width = text->width, height = text->height;
    double x0 = fmax(room->x0, field->area.x),
           x1 = fmin(room->x1, field->area.x + field->area.width);
    double y0 = fmax(room->y0, field->area.y),
           y1 = fmin(room->y1, field->area.y + field->area.height);
    NamePlace best = {0.0, 0.0, LABEL_NEVER};
    double room_x = x1 - x0 - width, room_y = y1 - y0 - height;
    if (room_x <= 0.0 || room_y <= 0.0)
        return best;
    for (int ring = 0; ring <= GRID && best.cost > away_cost * ring / GRID; ring++) {
        for (int i = -ring; i <= ring; i++) {
            for (int j = -ring; j <= ring; j += abs(i) == ring || ring == 0 ? 1 : 2 * ring) {
                double x = (x0 + x1) / 2.0 + room_x * i / (2.0 * GRID) - width / 2.0;
                double y = (y0 + y1) / 2.0 + room_y * j / (2.0 * GRID) - height / 2.0;
                PaintBox box = {x - margin, y - margin, width + 2.0 * margin,
                                height + 2.0 * margin};
                double clear, cost = away_cost * hypot(i, j) / GRID;
                if (cost >= best.cost || !in_room(shapes, room, box, &clear))
                    continue;
                cost += close_cost * fmax(1.0 - clear / (close * field->rp), 0.0);
                cost += label_field_cost(field, box, -1);
                if (cost < best.cost)
                    best = (NamePlace){x, y, cost};
            }
        }
    }
    return best;
}

/* ---- texts ----------------------------------------------------------------------------------- */

static void area_text(char text[64], double area_mm2, GeomUnits units)
{
    const double mm2_per_square_foot = 304.8 * 304.8;
    char number[NUMBER_SIZE];
    if (units == GEOM_FT_IN)
        snprintf(text, 64, "%s sq ft", number_fixed(area_mm2 / mm2_per_square_foot, 0, number));
    else
        snprintf(text, 64, "%s m\u00B2", number_fixed(area_mm2 / 1e6, 1, number));
}

/* A name of several words on two lines, broken at the space nearest to its middle. */
static bool broken_name(char text[128], const char *name)
{
    int length = snprintf(text, 128, "%.127s", name), best = -1;
    length = length < 127 ? length : 127;
    for (int i = 1; i + 1 < length; i++) {
        if (text[i] == ' ' && (best < 0 || abs(2 * i - length) < abs(2 * best - length)))
            best = i;
    }
    if (best >= 0)
        text[best] = '\n';
    return best >= 0;
}

static void paint_name(Painter *painter, const PlanScene *scene, const NameText *text,
                       const NamePlace *place, bool inside)
{
    double x = place->x + text->width / 2.0, size = text->name_style.size;
    double rp = scene->view.rp;
    if (scene->look.paper && !inside) { /* a clear ground, as textures are dense there */
        PaintBox ground = {place->x - 5.0 * rp, place->y - 5.0 * rp, text->width + 10.0 * rp,
                           text->height + 10.0 * rp};
        paint_box(painter, ground);
        paint_fill(painter, scene->look.theme->halo, false);
    }
    paint_text(painter, x, place->y + size * 0.82, text->name, &text->name_style);
    if (text->note[0] != '\0')
        paint_text(painter, x, place->y + text->name_height + text->note_style.size * 1.0,
                   text->note, &text->note_style);
}

/* A room of another level that stands here too (a hall two storeys high) steps back. */
static NameText name_text(const PlanScene *scene, const char *name, const char *note, bool inside,
                          bool own)
{
    const Theme *theme = scene->look.theme;
    PlanSizes sizes = plan_sizes(scene);
    Colour halo = inside ? theme->inside : scene->look.paper ? theme->halo : theme->tone;
    NameText text = {.name = name, .note = note};
    FontWeight weight = inside || scene->look.paper ? sizes.name_weight : FONT_LABEL;
    text.name_style = (TextStyle){.size = sizes.name,
                                  .weight = own ? weight : FONT_TEXT,
                                  .colour = own ? theme->ink : theme->ink2,
                                  .halo = halo,
                                  .anchor = TEXT_MIDDLE,
                                  .pitch = 1.15};
    text.note_style = (TextStyle){.size = sizes.note,
                                  .weight = FONT_TEXT,
                                  .colour = theme->ink2,
                                  .halo = halo,
                                  .anchor = TEXT_MIDDLE};
    return text;
}

/* Tries the name with its note, alone, and on two lines, and draws the first that stands well. */
static bool name_room(Painter *painter, const RoomShapes *shapes, int space, LabelField *field)
{
    const PlanScene *scene = shapes->scene;
    const PlanSpace *record = &scene->envelope->plan->spaces[space];
    const RoomShape *room = &shapes->rooms[space];
    bool inside = space_kind_inside(record->kind);
    const char *name = record->name[0] != '\0' ? record->name : space_kind_shown(record->kind);
    const double fair = 4.0;
    char note[64], broken[128];
    area_text(note, room->area_mm2, scene->look.units);
    bool own = record->level == scene->look.level;
    if (!own)
        snprintf(note, sizeof note, "%.60s", scene->envelope->plan->levels[record->level].name);
    const char *notes[3] = {inside ? note : scene->look.paper ? "not inside" : "", "", ""};
    const char *names[3] = {name, name, broken_name(broken, name) ? broken : name};
    NamePlace best = {0.0, 0.0, LABEL_NEVER};
    NameText best_text = {0};
    for (int i = 0; i < 3 && best.cost > fair; i++) {
        NameText text = name_text(scene, names[i], notes[i], inside, own);
        measure_name(painter, &text);
        NamePlace place = find_place(shapes, room, field, &text);
        if (place.cost < best.cost) {
            best = place;
            best_text = text;
        }
    }
    if (best.cost >= LABEL_NEVER)
        return false;
    paint_name(painter, scene, &best_text, &best, inside);
    label_field_block_box(field, (PaintBox){best.x, best.y, best_text.width, best_text.height},
                          LABEL_NEVER);
    return true;
}

Status draw_names(Painter *painter, const PlanScene *scene, LabelField *field, TextBuffer *unplaced)
{
    const Plan *plan = scene->envelope->plan;
    RoomShapes shapes = {0};
    Status status = shapes_make(&shapes, scene);
    double least = plan_sizes(scene).name;
    for (int i = 0; i < plan->space_count && status == STATUS_OK; i++) {
        const RoomShape *room = &shapes.rooms[i];
        if (room->count == 0 || room->x1 - room->x0 < least || room->y1 - room->y0 < least ||
            plan->spaces[i].kind == SPACE_SHAFT)
            continue;
        PaintBox box = {room->x0, room->y0, room->x1 - room->x0, room->y1 - room->y0};
        if (!scene_in_view(scene, box))
            continue;
        bool named = name_room(painter, &shapes, i, field);
        bool own = plan->spaces[i].level == scene->look.level;
        if (!named && own && scene->look.paper && unplaced != NULL)
            text_addf(unplaced, "%s%s", unplaced->length > 0 ? ", " : "", plan->spaces[i].name);
        status = field->status;
    }
    mem_free(shapes.rooms);
    mem_free(shapes.edges);
    return status;
}
