/* Tags of holes and runs, and what they must keep clear of. */
#include "draw/plan_names.h"

#include <math.h>
#include <string.h>

/* Above so many marks in view tags cannot be read on a screen and are left out. */
enum { SCREEN_LABEL_LIMIT = 1200, RUN_BAND_LIMIT = 4000, RUN_SPOTS = 10 };

static const double cost_wall = 9.0, cost_lane = 6.0, cost_tie = 6.0, cost_quiet_line = 1.5,
                    cost_tag_room = 2.0, cost_near = 2.5;

/* ---- what is in the way ---------------------------------------------------------------------- */

/* On a screen a tag that would lie over a wall is rather left out: it would seem to belong to the
 * next room. */
static double wall_cost(const PlanScene *scene, EdgeLook look)
{
    if (look != EDGE_BOUNDARY && look != EDGE_WALL)
        return cost_quiet_line;
    return scene->look.paper ? cost_wall : LABEL_NEVER;
}

static void block_lines(const PlanScene *scene, LabelField *field)
{
    double rp = scene->view.rp;
    for (int i = 0; i < scene->wall_count; i++) {
        const SceneWall *wall = &scene->walls[i];
        double reach = wall->look == EDGE_BOUNDARY ? 4.0 * rp : 1.0 * rp;
        LabelObstacle o = {
            wall->x0, wall->y0, wall->x1, wall->y1, reach, wall_cost(scene, wall->look), false};
        label_field_block(field, o);
    }
    for (int i = 0; i < scene->band_count; i++) {
        const SceneBand *band = &scene->bands[i];
        LabelObstacle o = {band->x0,   band->y0,  band->x1,      band->y1,
                           band->half, cost_lane, LABEL_NO_OWNER};
        label_field_block(field, o);
    }
}

static bool state_has_mark(const Theme *theme, ShownState state)
{
    return state == SHOWN_FAILED || state == SHOWN_SEEN || (state == SHOWN_TOLD && theme->on_paper);
}

static void block_square(LabelField *field, double x, double y, double reach, double cost,
                         int owner)
{
    label_field_block(field, (LabelObstacle){x, y, x, y, reach, cost, owner});
}

static void block_hole(const PlanScene *scene, LabelField *field, int index)
{
    const SceneHole *hole = &scene->holes[index];
    double half = hole->size / 2.0, rp = scene->view.rp;
    if (scene->look.holes_as_rings || hole->back) {
        block_square(field, hole->x, hole->y, 5.0 * rp, cost_lane, LABEL_NO_OWNER);
        return;
    }
    block_square(field, hole->x, hole->y, half, LABEL_NEVER, LABEL_NO_OWNER);
    /* Another's tag so near would seem to be this one's. */
    block_square(field, hole->x, hole->y, half + 7.0 * rp, cost_near, index);
    if (state_has_mark(scene->look.theme, hole->state))
        block_square(field, hole->x + half * 0.86, hole->y - half * 0.82, half * 0.5, LABEL_NEVER,
                     LABEL_NO_OWNER);
    if (scene->look.tags && !hole->quiet) { /* room for its tag */
        double size = plan_sizes(scene).tag, y = hole->y + half + size * 0.7;
        LabelObstacle tag = {
            hole->x - size * 0.6, y, hole->x + size * 0.6, y, size * 0.5, cost_tag_room,
            LABEL_KEEP_FREE};
        label_field_block(field, tag);
    }
    if (hole->tied) {
        LabelObstacle tie = {hole->x,  hole->y,  hole->wall_x,  hole->wall_y,
                             0.5 * rp, cost_tie, LABEL_NO_OWNER};
        label_field_block(field, tie);
    }
}

/* The names of the four walls stand outside them. */
static void block_wall_names(Painter *painter, const PlanScene *scene, LabelField *field)
{
    WallName names[WALL_NAMES];
    int count = scene_wall_names(scene, names);
    for (int i = 0; i < count; i++) {
        TextStyle style = wall_name_style(scene);
        PaintBox box = paint_text_size(painter, names[i].text, &style);
        double half = box.width / 2.0, x = names[i].x, y = names[i].y;
        LabelObstacle o = {x - half, y, x + half, y, style.size, LABEL_NEVER, LABEL_NO_OWNER};
        if (names[i].upright)
            o = (LabelObstacle){x, y - half, x, y + half, style.size, LABEL_NEVER, LABEL_NO_OWNER};
        label_field_block(field, o);
    }
}

static void block_chains(const PlanScene *scene, LabelField *field)
{
    PaintBox boxes[CHAIN_BOXES];
    int count = scene_chain_lines(scene, boxes);
    for (int i = 0; i < count; i++) {
        PaintBox *b = &boxes[i];
        bool upright = b->height > b->width;
        double x = b->x + b->width / 2.0, y = b->y + b->height / 2.0;
        LabelObstacle o = {b->x,          y, b->x + b->width, y, b->height / 2.0, LABEL_NEVER,
                           LABEL_NO_OWNER};
        if (upright)
            o = (LabelObstacle){x,           b->y,          x, b->y + b->height, b->width / 2.0,
                                LABEL_NEVER, LABEL_NO_OWNER};
        label_field_block(field, o);
    }
}

static bool hole_in_view(const PlanScene *scene, const SceneHole *hole)
{
    return hole->shown &&
           scene_in_view(scene, line_box(hole->x, hole->y, hole->x, hole->y, hole->size));
}

static int count_holes(const PlanScene *scene)
{
    int count = 0;
    for (int i = 0; i < scene->envelope->plan->penetration_count; i++)
        count += hole_in_view(scene, &scene->holes[i]);
    return count;
}

static void block_holes(const PlanScene *scene, LabelField *field)
{
    for (int i = 0; i < scene->envelope->plan->penetration_count; i++) {
        if (hole_in_view(scene, &scene->holes[i]))
            block_hole(scene, field, i);
    }
}

/* ---- texts ----------------------------------------------------------------------------------- */

static TextStyle line_style(const PlanScene *scene, bool first)
{
    PlanSizes sizes = plan_sizes(scene);
    const Theme *theme = scene->look.theme;
    return (TextStyle){.size = sizes.tag,
                       .weight = first ? sizes.tag_weight : FONT_TEXT,
                       .colour = theme->ink,
                       .halo = theme->halo};
}

/* Line number line of text into buffer; false when there is none. */
static bool text_line(const char *text, int line, char buffer[128])
{
    for (; line > 0; line--) {
        text = strchr(text, '\n');
        if (text == NULL)
            return false;
        text++;
    }
    size_t length = strcspn(text, "\n");
    length = length < 127 ? length : utf8_cut(text, 127);
    memcpy(buffer, text, length);
    buffer[length] = '\0';
    return true;
}

/* Text runs from the top of its capitals to its baseline, with a little air. */
static const double cap_height = 0.74, line_pitch = 1.16, box_air_x = 4.0, box_air_y = 2.6;

static void measure_label(Painter *painter, const PlanScene *scene, Label *label)
{
    char line[128];
    double size = plan_sizes(scene).tag, width = 0.0;
    label->lines = 0;
    while (text_line(label->text, label->lines, line)) {
        TextStyle style = line_style(scene, label->lines == 0);
        width = fmax(width, paint_text_size(painter, line, &style).width);
        label->lines++;
    }
    label->width = width + (label->boxed ? 2.0 * box_air_x * scene->view.rp : 0.0);
    label->height = size * (cap_height + (label->lines - 1) * line_pitch) +
                    (label->boxed ? 2.0 * box_air_y * scene->view.rp : 0.0);
}

/* ---- tags of holes --------------------------------------------------------------------------- */

/* The name of the nearer of two opposite sides of the house and how far it is, as it is said in the
 * attic: W 3' 4". */
static void side_offset(TextBuffer *text, const PlanLook *look, char low_side, char high_side,
                        double low, double high)
{
    char length[GEOM_LENGTH_SIZE];
    bool first = low <= high;
    double nearer = first ? low : high,
           step = look->units == GEOM_FT_IN ? GEOM_TICKS_PER_INCH / 2.0 : 10.0 * GEOM_TICKS_PER_MM;
    int64_t ticks = (int64_t)(round(nearer / step) * step);
    text_addf(text, "\n%c %s", first ? low_side : high_side,
              geom_length_print(ticks, look->units, length));
}

static void attic_offsets(TextBuffer *text, const PlanScene *scene, GeomPoint at)
{
    GeomPoint low, high;
    char sides[4];
    if (!scene_outside(scene, &low, &high))
        return;
    scene_sides(scene, sides);
    side_offset(text, &scene->look, sides[3], sides[1], (double)at.x - low.x,
                (double)high.x - at.x);
    side_offset(text, &scene->look, sides[2], sides[0], (double)at.y - low.y,
                (double)high.y - at.y);
}

static char *hole_text(const PlanScene *scene, const PlanPenetration *mark)
{
    TextBuffer text = {0};
    text_add(&text, mark->tag);
    if (mark->count > 1)
        text_addf(&text, " \u00D7%d", mark->count);
    if (scene->look.attic_side && scene->look.paper)
        attic_offsets(&text, scene, mark->at);
    if (!text.failed && text.bytes != NULL)
        return text.bytes;
    text_free(&text);
    return NULL;
}

static bool state_open(ShownState state)
{
    return state == SHOWN_NO_SEAL || state == SHOWN_PLANNED || state == SHOWN_FAILED;
}

static void add_hole_label(Painter *painter, const PlanScene *scene, LabelField *field, int index)
{
    const PlanPenetration *mark = &scene->envelope->plan->penetrations[index];
    const SceneHole *hole = &scene->holes[index];
    Label label = {.text = hole_text(scene, mark),
                   .x = hole->x,
                   .y = hole->y,
                   .reach = hole->size / 2.0,
                   .owner = index,
                   .rank = state_open(hole->state) ? 0 : 1};
    if (label.text == NULL) {
        field->status = STATUS_MEMORY;
        return;
    }
    measure_label(painter, scene, &label);
    label_field_add(field, label);
}

static void add_hole_labels(Painter *painter, const PlanScene *scene, LabelField *field)
{
    const Plan *plan = scene->envelope->plan;
    for (int i = 0; i < plan->penetration_count; i++) {
        const SceneHole *hole = &scene->holes[i];
        bool shown = !hole->quiet && !hole->back && plan->penetrations[i].tag[0] != '\0' &&
                     hole_in_view(scene, hole);
        if (shown)
            add_hole_label(painter, scene, field, i);
    }
}

/* ---- tags of runs ---------------------------------------------------------------------------- */

/* A stored word with spaces: "fire rated". */
static void add_word(TextBuffer *text, const char *before, const char *word)
{
    text_add(text, before);
    for (; *word != '\0'; word++)
        text_add_bytes(text, *word == '_' ? " " : word, 1);
}

/* The tag, and of an open run what is to be done there. */
static char *run_text(const PlanScene *scene, const PlanSeal *seal)
{
    const CatalogMethod *method = &scene->envelope->plan->catalog->methods[seal->method];
    ShownState shown = plan_shown_state(seal->method, seal->state, seal->evidence);
    TextBuffer text = {0};
    text_add(&text, seal->tag);
    if (shown == SHOWN_NO_SEAL)
        text_add(&text, " choose seal");
    else if (shown == SHOWN_FAILED)
        add_word(&text, " redo ", method->word);
    else if (shown == SHOWN_PLANNED)
        add_word(&text, " ", method->word);
    if (!text.failed && text.bytes != NULL)
        return text.bytes;
    text_free(&text);
    return NULL;
}

static bool same_tag(const PlanScene *scene, const SceneBand *band, const char *tag)
{
    return band->seal >= 0 && !band->back &&
           text_same(scene->envelope->plan->seals[band->seal].tag, tag);
}

/* The part of a band that is in view; false: none. */
static bool band_in_view(const PlanScene *scene, const SceneBand *band, double *from, double *to)
{
    const PaintBox *area = &scene->view.area;
    double dx = band->x1 - band->x0, dy = band->y1 - band->y0, length = hypot(dx, dy);
    *from = 0.0;
    *to = length;
    if (length <= 0.0 || !label_line_clip(*area, band->x0, band->y0, band->x1, band->y1, from, to))
        return false;
    *from *= length;
    *to *= length;
    return true;
}

static double tag_length(const PlanScene *scene, const char *tag)
{
    double length = 0.0, from, to;
    for (int i = 0; i < scene->band_count; i++) {
        const SceneBand *band = &scene->bands[i];
        if (same_tag(scene, band, tag) && band_in_view(scene, band, &from, &to))
            length += to - from;
    }
    return length;
}

/* The point at a length along all that is in view of a tag's bands, one after the other. */
static void spot_along(const PlanScene *scene, LabelField *field, const char *tag, double at)
{
    for (int i = 0; i < scene->band_count; i++) {
        const SceneBand *band = &scene->bands[i];
        double from, to;
        if (!same_tag(scene, band, tag) || !band_in_view(scene, band, &from, &to))
            continue;
        if (at <= to - from) {
            double dx = band->x1 - band->x0, dy = band->y1 - band->y0, length = hypot(dx, dy);
            double t = (from + at) / length;
            label_field_spot(field, (LabelSpot){band->x0 + dx * t, band->y0 + dy * t, dy / length,
                                                -dx / length});
            return;
        }
        at -= to - from;
    }
}

/* The label of a tag stands at its first band; true when an earlier band has the same tag. */
static bool tagged_before(const PlanScene *scene, int band, const char *tag)
{
    for (int i = 0; i < band; i++) {
        if (same_tag(scene, &scene->bands[i], tag))
            return true;
    }
    return false;
}

static void add_run_label(Painter *painter, const PlanScene *scene, LabelField *field, int index)
{
    const SceneBand *band = &scene->bands[index];
    const PlanSeal *seal = &scene->envelope->plan->seals[band->seal];
    if (seal->tag[0] == '\0' || tagged_before(scene, index, seal->tag))
        return;
    double length = tag_length(scene, seal->tag);
    if (length <= 0.0)
        return;
    Label label = {.text = run_text(scene, seal),
                   .boxed = true,
                   .owner = LABEL_OF_RUN,
                   .spot = field->spot_count,
                   .rank = state_open(band->look.shown) ? 2 : 3};
    if (label.text == NULL) {
        field->status = STATUS_MEMORY;
        return;
    }
    for (int i = 0; i < RUN_SPOTS; i++) {
        int from_middle = (i + 1) / 2 * (i % 2 != 0 ? 1 : -1);
        spot_along(scene, field, seal->tag, length * (0.44 + from_middle * 0.085));
    }
    label.spot_count = field->spot_count - label.spot;
    measure_label(painter, scene, &label);
    label_field_add(field, label);
}

/* ---- drawing --------------------------------------------------------------------------------- */

static void draw_lead(Painter *painter, const PlanScene *scene, const Label *label)
{
    double rp = scene->view.rp;
    const Theme *theme = scene->look.theme;
    Stroke strokes[] = {{.colour = theme->halo, .width = 3.2 * rp},
                        {.colour = theme->ink, .width = 0.88 * rp}};
    for (int i = 0; i < 2; i++) {
        paint_move(painter, label->lead_x0, label->lead_y0);
        paint_line(painter, label->lead_x1, label->lead_y1);
        paint_stroke(painter, &strokes[i], false);
    }
    if (label->spot_count == 0)
        return;
    paint_circle(painter, label->lead_x1, label->lead_y1, 2.0 * rp);
    paint_fill(painter, theme->halo, true);
    paint_stroke(painter, &strokes[1], false);
}

static void draw_label_box(Painter *painter, const PlanScene *scene, const Label *label)
{
    const Theme *theme = scene->look.theme;
    PaintBox box = label->box;
    double r = box.height / 2.0, quarter = 3.14159265358979323846 / 2.0;
    if (scene->look.paper) {
        paint_arc(painter, box.x + r, box.y + r, r, quarter, 3.0 * quarter);
        paint_arc(painter, box.x + box.width - r, box.y + r, r, -quarter, quarter);
        paint_close(painter);
    } else {
        paint_box(painter, box);
    }
    paint_fill(painter, theme->halo, true);
    paint_stroke(painter, &(Stroke){.colour = theme->ink, .width = scene->view.rp}, false);
}

static void draw_label(Painter *painter, const PlanScene *scene, const Label *label)
{
    double size = plan_sizes(scene).tag, rp = scene->view.rp;
    double y = label->box.y + size * cap_height;
    /* Lines of a label left of its symbol end at it. */
    bool left =
        label->spot_count == 0 && label->lines > 1 && label->box.x + label->box.width <= label->x;
    double x = left ? label->box.x + label->box.width : label->box.x;
    if (label->boxed) {
        draw_label_box(painter, scene, label);
        x += box_air_x * rp;
        y += box_air_y * rp;
    }
    char line[128];
    for (int i = 0; text_line(label->text, i, line); i++) {
        TextStyle style = line_style(scene, i == 0);
        style.anchor = left ? TEXT_END : TEXT_START;
        if (label->boxed)
            style.halo = COLOUR_NONE;
        paint_text(painter, x, y + i * line_pitch * size, line, &style);
    }
}

static void draw_placed(Painter *painter, const PlanScene *scene, const LabelField *field,
                        TextBuffer *unplaced)
{
    for (int i = 0; i < field->label_count; i++) {
        if (field->labels[i].placed && field->labels[i].led)
            draw_lead(painter, scene, &field->labels[i]);
    }
    for (int i = 0; i < field->label_count; i++) {
        const Label *label = &field->labels[i];
        if (label->placed) {
            draw_label(painter, scene, label);
        } else if (unplaced != NULL) {
            int tag = (int)strcspn(label->text, "\n ");
            text_addf(unplaced, "%s%.*s", unplaced->length > 0 ? ", " : "", tag, label->text);
        }
    }
}

Status draw_labels(Painter *painter, const PlanScene *scene, TextBuffer *unplaced)
{
    const PlanLook *look = &scene->look;
    if (!look->names && !look->tags && !look->run_tags)
        return STATUS_OK;
    LabelField field;
    label_field_start(&field, scene->view.area, scene->view.rp, look->paper);
    block_lines(scene, &field);
    bool readable = look->paper || count_holes(scene) <= SCREEN_LABEL_LIMIT;
    if (readable)
        block_holes(scene, &field);
    if (look->dimensions)
        block_chains(scene, &field);
    if (look->attic_side && look->paper)
        block_wall_names(painter, scene, &field);
    if (look->names && !look->attic_side && field.status == STATUS_OK)
        field.status = draw_names(painter, scene, &field, unplaced);
    if (look->tags && readable && !look->holes_as_rings)
        add_hole_labels(painter, scene, &field);
    bool run_tags = look->run_tags && scene->band_count <= RUN_BAND_LIMIT;
    for (int i = 0; run_tags && i < scene->band_count; i++) {
        if (scene->bands[i].seal >= 0 && !scene->bands[i].back)
            add_run_label(painter, scene, &field, i);
    }
    label_field_place(&field);
    draw_placed(painter, scene, &field, unplaced);
    Status status = field.status;
    label_field_clear(&field);
    return status;
}
