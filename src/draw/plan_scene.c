#include "draw/plan_scene.h"

#include <math.h>

double scene_x(const PlanScene *scene, double x_ticks)
{
    double x = view_x(&scene->view, x_ticks);
    return scene->look.paper ? x : floor(x) + 0.5;
}

double scene_y(const PlanScene *scene, double y_ticks)
{
    double y = view_y(&scene->view, y_ticks);
    return scene->look.paper ? y : floor(y) + 0.5;
}

/* ---- walls ----------------------------------------------------------------------------------- */

static Status add_wall(PlanScene *scene, const SceneWall *wall)
{
    Status status = array_reserve((void **)&scene->walls, &scene->wall_room, scene->wall_count + 1,
                                  sizeof *scene->walls);
    if (status == STATUS_OK)
        scene->walls[scene->wall_count++] = *wall;
    return status;
}

static SceneWall wall_of(const PlanScene *scene, int edge, const EdgeLookPart *part, int cut_place)
{
    const GeomOverlay *overlay = scene->envelope->overlay;
    const GeomEdge *e = &overlay->edges[edge];
    double ax = scene_x(scene, overlay->vertices[e->a].x);
    double ay = scene_y(scene, overlay->vertices[e->a].y);
    double bx = scene_x(scene, overlay->vertices[e->b].x);
    double by = scene_y(scene, overlay->vertices[e->b].y);
    SceneWall wall = {part->look,
                      edge,
                      part->t0 <= 0.0 ? e->a : cut_place,
                      part->t1 >= 1.0 ? e->b : cut_place + 1,
                      ax + (bx - ax) * part->t0,
                      ay + (by - ay) * part->t0,
                      ax + (bx - ax) * part->t1,
                      ay + (by - ay) * part->t1,
                      part->rated};
    if (part->look == EDGE_BOUNDARY && !part->inside_left)
        wall = (SceneWall){wall.look, edge,    wall.to, wall.from, wall.x1,
                           wall.y1,   wall.x0, wall.y0, wall.rated};
    return wall;
}

static unsigned char wall_kind(EdgeLook look)
{
    return look == EDGE_BOUNDARY ? WALL_BOUNDARY : look == EDGE_WALL ? WALL_PARTITION : WALL_NONE;
}

static Status edge_walls(PlanScene *scene, int edge, EdgeLookPart **parts, int *room, int *places)
{
    const Envelope *envelope = scene->envelope;
    int count = envelope_edge_looks(envelope, scene->look.level, edge, *parts, *room);
    if (count > *room) {
        Status status = array_reserve((void **)parts, room, count, sizeof **parts);
        if (status != STATUS_OK)
            return status;
        count = envelope_edge_looks(envelope, scene->look.level, edge, *parts, *room);
    }
    for (int i = 0; i < count; i++) {
        const EdgeLookPart *part = &(*parts)[i];
        SceneWall wall = wall_of(scene, edge, part, *places);
        *places += 2;
        unsigned char kind = wall_kind(part->look);
        if (kind > scene->edge_wall[edge])
            scene->edge_wall[edge] = kind;
        Status status = add_wall(scene, &wall);
        if (status != STATUS_OK)
            return status;
    }
    return STATUS_OK;
}

/* Lists at each vertex the edges on which a wall stands. */
static Status list_incident(PlanScene *scene)
{
    const GeomOverlay *overlay = scene->envelope->overlay;
    size_t places = (size_t)overlay->vertex_count + 2;
    scene->incident_start = mem_alloc(places, sizeof(int));
    scene->incident = mem_alloc(2 * (size_t)overlay->edge_count + 1, sizeof(int));
    if (scene->incident_start == NULL || scene->incident == NULL)
        return STATUS_MEMORY;
    int *start = scene->incident_start;
    for (int i = 0; i < overlay->edge_count; i++) {
        if (scene->edge_wall[i] != WALL_NONE) {
            start[overlay->edges[i].a + 2]++;
            start[overlay->edges[i].b + 2]++;
        }
    }
    for (size_t i = 2; i < places; i++)
        start[i] += start[i - 1];
    for (int i = 0; i < overlay->edge_count; i++) {
        if (scene->edge_wall[i] != WALL_NONE) {
            scene->incident[start[overlay->edges[i].a + 1]++] = i;
            scene->incident[start[overlay->edges[i].b + 1]++] = i;
        }
    }
    return STATUS_OK;
}

Status scene_walls(PlanScene *scene)
{
    const GeomOverlay *overlay = scene->envelope->overlay;
    EdgeLookPart *parts = NULL;
    int room = 0, places = overlay->vertex_count;
    Status status = STATUS_OK;
    scene->edge_wall = mem_alloc((size_t)overlay->edge_count + 1, 1);
    if (scene->edge_wall == NULL)
        return STATUS_MEMORY;
    for (int i = 0; i < overlay->edge_count && status == STATUS_OK; i++)
        status = edge_walls(scene, i, &parts, &room, &places);
    mem_free(parts);
    return status == STATUS_OK ? list_incident(scene) : status;
}

/* ---- faces ----------------------------------------------------------------------------------- */

/* The inside space that stands at half the level's height (of framing between two the lower), else
 * the space that shows: a hall goes up through the storey over it, a vault through the attic. */
static int space_on_face(const Envelope *envelope, int level, int face)
{
    const PlanLevel *l = &envelope->plan->levels[level];
    int32_t middle = l->floor + l->height / 2;
    const Column *column = &envelope->columns[envelope->overlay->faces[face].cover];
    for (int i = 0; i < column->count; i++) {
        const ColumnPart *part = &column->parts[i];
        bool stands = part->is == COLUMN_SPACE || part->is == COLUMN_DEPTH;
        if (stands && part->z0 <= middle && middle < part->z1 && space_kind_inside(part->kind))
            return part->space;
    }
    return envelope_space_on(envelope, level, face);
}

static Status scene_faces(PlanScene *scene)
{
    int count = scene->envelope->overlay->face_count;
    scene->face_space = mem_alloc((size_t)count + 1, sizeof(int));
    if (scene->face_space == NULL)
        return STATUS_MEMORY;
    for (int i = 0; i < count; i++)
        scene->face_space[i] = i == 0 ? -1 : space_on_face(scene->envelope, scene->look.level, i);
    return STATUS_OK;
}

/* ---- the whole ------------------------------------------------------------------------------- */

PlanScene *plan_scene_make(const Envelope *envelope, const PlanLook *look, const PlanView *view)
{
    PlanScene *scene = mem_alloc(1, sizeof *scene);
    if (scene == NULL)
        return NULL;
    scene->envelope = envelope;
    scene->look = *look;
    scene->view = *view;
    if (scene_faces(scene) != STATUS_OK || scene_walls(scene) != STATUS_OK ||
        scene_bands(scene) != STATUS_OK || scene_holes(scene) != STATUS_OK) {
        plan_scene_free(scene);
        return NULL;
    }
    return scene;
}

void plan_scene_free(PlanScene *scene)
{
    if (scene == NULL)
        return;
    mem_free(scene->walls);
    mem_free(scene->bands);
    mem_free(scene->pieces);
    mem_free(scene->holes);
    mem_free(scene->face_space);
    mem_free(scene->edge_wall);
    mem_free(scene->lanes);
    mem_free(scene->incident_start);
    mem_free(scene->incident);
    mem_free(scene);
}
