/* The panel of what is selected: a hole, a joint run, a room, a wall. */
#include "app/leaks.h"
#include "app/panel.h"

#include <math.h>
#include <string.h>

/* How many others are taken with it. */
static void scope_words(App *app, Parts *parts)
{
    enum { MOST = 4096 };
    char text[WORDS];
    if (app->selection.scope == SCOPE_THIS)
        return;
    int *items = mem_alloc(MOST, sizeof *items);
    int count = items ? select_scope(app, items, MOST) : 0;
    mem_free(items);
    snprintf(text, sizeof text, "%d %s are taken; what you choose goes for all of them.", count,
             app->selection.thing == THING_HOLE ? "holes" : "stretches");
    parts_note(parts, text, app->theme->act);
}

/* ---- it is ... ------------------------------------------------------------------------------- */

/* The six states as small cards with a piece of band or the symbol in that state. */
static void state_cards(App *app, Parts *parts, int kind, char plate)
{
    static const ShownState states[] = {SHOWN_PLANNED, SHOWN_TOLD,    SHOWN_SEEN,
                                        SHOWN_FAILED,  SHOWN_COVERED, SHOWN_ABSENT};
    Ui *ui = &app->ui;
    double rp = app->scale, each = floor(parts->width / 3),
           high = round(26 * rp + ui->m.body * 1.7);
    bool chosen = choice_now(app, CHOICE_METHOD) != CATALOG_METHOD_NONE;
    int now = choice_now(app, CHOICE_STATE);
    parts_label(parts, "It is");
    for (int i = 0; i < 6; i++) {
        ShownState state = states[i];
        PaintBox box = box_cell(parts->x, parts->y, i, 3, each, high);
        box.width = i % 3 == 2 ? parts->width - 2 * each : each;
        char text[WORDS], path[WIDGET_PATH];
        bool done = state == SHOWN_TOLD || state == SHOWN_SEEN || state == SHOWN_COVERED;
        bool on = now == (int)state || (now == SHOWN_NO_SEAL && state == SHOWN_PLANNED);
        snprintf(path, sizeof path, "%s/%d", choice_path(CHOICE_STATE), (int)state);
        Colour colour =
            ui_button_ground(ui, path, box, on ? BUTTON_SOFT : BUTTON_PLAIN, chosen || !done,
                             (Action){DO_CHOOSE, CHOICE_STATE, (int)state});
        int index = ui_find(ui, path);
        if (index >= 0)
            ui->widgets[index].on = on;
        choice_label(app, CHOICE_STATE, (int)(on && now == SHOWN_NO_SEAL ? SHOWN_NO_SEAL : state),
                     text, sizeof text);
        ShownState drawn = now == SHOWN_NO_SEAL && state == SHOWN_PLANNED ? SHOWN_NO_SEAL : state;
        if (kind >= 0)
            draw_list_picture(
                &app->list,
                box_of(box.x + box.width / 2 - 11 * rp, box.y + 5 * rp, 22 * rp, 22 * rp),
                (Picture){.kind = PICTURE_SYMBOL, .a = kind, .b = (int)drawn});
        else if (state != SHOWN_ABSENT)
            draw_list_picture(&app->list,
                              box_of(box.x + 10 * rp, box.y + 5 * rp, box.width - 20 * rp, 18 * rp),
                              (Picture){.kind = PICTURE_BAND,
                                        .a = (int)drawn,
                                        .b = drawn == SHOWN_PLANNED ? plate : 0});
        ui_text(ui, box.x + box.width / 2, box.y + high - round(8 * rp), text, ui->m.small,
                on ? FONT_NAME : FONT_LABEL, colour, TEXT_MIDDLE, box.width - 4 * rp);
    }
    parts->y += 2 * high;
    parts_space(parts, 10);
    if (!chosen)
        parts_small(parts, "Choose a seal before it can be done, seen or covered.");
}

/* ---- holes ----------------------------------------------------------------------------------- */

static void hole_where(App *app, Parts *parts, int index)
{
    char text[WORDS * 2], opens[WORDS];
    if (!app->envelope)
        return;
    const HolePlace *place = &app->envelope->holes[index];
    const char *room = place->space >= 0 ? space_name(app->envelope->plan, place->space)
                                         : level_name(app->envelope->plan, place->level);
    switch (place->sits) {
    case HOLE_INSIDE:
        snprintf(text, sizeof text, "%s. It is inside the house and is not counted.", room);
        break;
    case HOLE_TO_GROUND:
        snprintf(text, sizeof text, "%s. %s Listed, not counted.", room,
                 say_opens(place->to, true, opens));
        break;
    case HOLE_NOWHERE:
        snprintf(text, sizeof text, "It lies outside every room. Move it onto the plan.");
        break;
    default:
        snprintf(text, sizeof text, "%s. %s", room, say_opens(place->to, false, opens));
        break;
    }
    parts_text(parts, text, app->theme->ink2);
}

static void hole_square(App *app, Parts *parts, const PlanPenetration *hole,
                        const CatalogKind *kind)
{
    char first[WORDS], second[WORDS * 3] = "", area[WORDS], gap[WORDS], one[WORDS], two[WORDS];
    double mm2 = plan_hole_area(doc_plan(app->doc), hole);
    const double *size = hole->size_count > 0 ? hole->size_mm : kind->size_mm;
    if (kind->measure == MEASURE_AREA ||
        (kind->measure == MEASURE_EACH && !isfinite(hole->area_mm2))) {
        parts_small(parts, "It has no hole of its own that could be drawn; it counts by what is "
                           "known of its kind.");
        return;
    }
    snprintf(first, sizeof first, "%s", say_hole(app, mm2, area));
    if (isfinite(hole->area_mm2))
        snprintf(second, sizeof second, "as it was measured");
    else if (kind->measure == MEASURE_GAP || kind->measure == MEASURE_LENGTH) {
        say_small(app, isfinite(hole->gap_mm) ? hole->gap_mm : kind->gap_mm, gap);
        if (kind->size_count == 2)
            snprintf(second, sizeof second, "%s round %s \xC3\x97 %s", gap,
                     say_small(app, size[0], one), say_small(app, size[1], two));
        else
            snprintf(second, sizeof second, "%s %s %s", gap,
                     kind->measure == MEASURE_GAP ? "round" : "along",
                     say_small(app, size[0], one));
    } else
        snprintf(second, sizeof second, "the whole opening");
    panel_gauge_square(app, parts, first, second, mm2);
}

static void hole_sources(Parts *parts, const CatalogKind *kind)
{
    char text[WORDS * 2];
    if (kind->size_count == 0)
        return;
    if (kind->gap_mm > 0)
        snprintf(text, sizeof text, "Usual size: %s. Usual gap: %s.",
                 evidence_mark_text(kind->size_mark), evidence_mark_text(kind->gap_mark));
    else
        snprintf(text, sizeof text, "Usual size: %s.", evidence_mark_text(kind->size_mark));
    parts_small(parts, text);
}

void panel_hole(App *app, Parts *parts)
{
    int index = app->selection.index;
    const PlanPenetration *hole = &doc_plan(app->doc)->penetrations[index];
    const CatalogKind *kind = &app->catalog->kinds[hole->kind];
    parts_title(parts, kind->shown, hole->tag);
    hole_where(app, parts, index);
    scope_words(app, parts);
    hole_square(app, parts, hole, kind);
    panel_seal(app, parts);
    state_cards(app, parts, hole->kind, 0);
    panel_caution(app, parts, kind->caution);
    panel_hole_air(app, parts, index);
    panel_sizes(app, parts, kind);
    panel_two_fields(app, parts, FIELD_HOLE_COUNT, FIELD_HOLE_AREA);
    hole_sources(parts, kind);
    if (kind->airtight_label.given) {
        parts_check(parts, "panel/ic", "May touch insulation (IC)", hole->ic_rated == 1,
                    (Action){DO_CHOOSE, CHOICE_IC_RATED, hole->ic_rated != 1});
        parts_check(parts, "panel/airtight", "Airtight label", hole->airtight_label == 1,
                    (Action){DO_CHOOSE, CHOICE_AIRTIGHT, hole->airtight_label != 1});
        parts_space(parts, 8);
    }
    panel_choices(app, parts, CHOICE_PLANE, "It goes through the");
    if (hole->plane == PLANE_WALL)
        panel_field(app, parts, FIELD_HOLE_ABOVE);
    panel_picker(app, parts, CHOICE_HOLE_KIND, "It is a");
    panel_field(app, parts, FIELD_HOLE_NOTE);
}

/* ---- joint runs ------------------------------------------------------------------------------ */

/* Length of what is selected, and how many other rooms it runs through. */
static double run_length(const App *app, int piece, int *others)
{
    const Envelope *envelope = app->envelope;
    double length = 0;
    *others = 0;
    for (int i = 0; i < envelope->joint_count; i++) {
        bool counted = envelope->joints[i].space == envelope->joints[piece].space;
        if (!piece_with(envelope, piece, i))
            continue;
        length += envelope->joints[i].length;
        for (int j = 0; j < i && !counted; j++)
            counted = piece_with(envelope, piece, j) &&
                      envelope->joints[j].space == envelope->joints[i].space;
        *others += !counted;
    }
    return length;
}

static void run_where(App *app, Parts *parts, int index)
{
    char text[WORDS * 3], side[WORDS], opens[WORDS], more[32] = "";
    const JointPiece *piece = &app->envelope->joints[index];
    Run run;
    int others;
    run_of(app->envelope, index, &run);
    run_length(app, index, &others);
    if (others > 0)
        snprintf(more, sizeof more, " and %d more", others);
    snprintf(text, sizeof text, "%.100s%s, %s. %s", space_name(app->envelope->plan, piece->space),
             more, say_side(app, &run, side), say_opens(piece->to, false, opens));
    say_clean(text);
    parts_text(parts, text, app->theme->ink2);
    if (piece->left_to_sheathing)
        parts_small(parts,
                    "Left to the sheathing, which is the air barrier here: not in the totals.");
}

static void run_square(App *app, Parts *parts, int index)
{
    char first[WORDS], second[WORDS * 3], wide[WORDS], length[WORDS], side[WORDS];
    const JointPiece *piece = &app->envelope->joints[index];
    int others;
    double ticks = run_length(app, index, &others),
           area = piece->gap_mm * ticks / GEOM_TICKS_PER_MM;
    say_hole(app, area, first);
    snprintf(second, sizeof second, "%s wide, %s long: %s square",
             say_small(app, piece->gap_mm, wide), say_length(app, ticks, length),
             say_small(app, sqrt(area), side));
    panel_gauge_square(app, parts, first, second, area);
}

void panel_run(App *app, Parts *parts)
{
    int index = app->selection.index;
    const JointPiece *piece = &app->envelope->joints[index];
    const CatalogJoint *joint = &app->catalog->joints[piece->joint];
    const PlanSeal *seal = piece->seal >= 0 ? &app->envelope->plan->seals[piece->seal] : NULL;
    char plate = seal ? app->catalog->methods[seal->method].plate : '?';
    parts_title(parts, joint->shown, seal ? seal->tag : "");
    run_where(app, parts, index);
    scope_words(app, parts);
    run_square(app, parts, index);
    panel_seal(app, parts);
    state_cards(app, parts, -1, plate);
    panel_caution(app, parts, joint->caution);
    panel_run_air(app, parts, index);
    if (joint_class_is_bay(piece->joint)) {
        parts_small(parts, "An open bay: its width is the depth of the bay.");
        return;
    }
    panel_choices(app, parts, CHOICE_GAP, "Gap before it is sealed");
    panel_field(app, parts, FIELD_GAP);
    char text[WORDS];
    snprintf(text, sizeof text, "Usual gap: %s.", evidence_mark_text(joint->gap_mark));
    parts_small(parts, text);
}

/* ---- rooms ----------------------------------------------------------------------------------- */

static void space_numbers(App *app, Parts *parts, const PlanSpace *space)
{
    char area[WORDS], text[WORDS * 3], wide[WORDS], deep[WORDS];
    GeomPoint low = space->outline[0], high = low;
    for (int i = 1; i < space->outline_count; i++) {
        GeomPoint p = space->outline[i];
        low = (GeomPoint){p.x < low.x ? p.x : low.x, p.y < low.y ? p.y : low.y};
        high = (GeomPoint){p.x > high.x ? p.x : high.x, p.y > high.y ? p.y : high.y};
    }
    double mm2 = fabs((double)geom_area2(space->outline, space->outline_count)) / 2 /
                 GEOM_TICKS_PER_MM / GEOM_TICKS_PER_MM;
    snprintf(text, sizeof text, "%s \xC3\x97 %s, %s as drawn, %d corners.",
             say_length(app, (double)high.x - low.x, wide),
             say_length(app, (double)high.y - low.y, deep), say_area(app, mm2, area),
             space->outline_count);
    parts_text(parts, text, app->theme->ink2);
}

void panel_space(App *app, Parts *parts)
{
    int index = app->selection.index;
    const Plan *plan = doc_plan(app->doc);
    const PlanSpace *space = &plan->spaces[index];
    parts_title(parts, space_name(plan, index), level_name(plan, space->level));
    space_numbers(app, parts, space);
    if (app->mended && (index == app->error_spaces[0] || index == app->error_spaces[1]))
        parts_note(parts, app->plan_fault.reason, app->theme->state[SHOWN_FAILED]);
    panel_field(app, parts, FIELD_SPACE_NAME);
    panel_picker(app, parts, CHOICE_SPACE_KIND, "It is");
    PaintBox fill = box_of(parts->x, parts->y, parts->width, round(28 * app->scale));
    draw_list_picture(&app->list, fill, (Picture){.kind = PICTURE_SPACE, .a = (int)space->kind});
    draw_list_frame(&app->list, fill, fmax(1, round(app->scale)), app->theme->ink2);
    parts->y += fill.height;
    parts_space(parts, 10);
    panel_space_air(app, parts, index);
    parts_rule(parts);
    parts_small(parts, "Heights of its own, for a sunken floor, a tray ceiling or a vault. Left "
                       "empty they are its level's.");
    panel_two_fields(app, parts, FIELD_SPACE_FLOOR, FIELD_SPACE_HEIGHT);
    panel_picker(app, parts, CHOICE_ON_GROUND, "Under it");
}

/* ---- walls ----------------------------------------------------------------------------------- */

void panel_wall(App *app, Parts *parts)
{
    char words[WORDS], text[WORDS * 2];
    const Selection *s = &app->selection;
    parts_title(parts, "Wall between rooms", "");
    snprintf(text, sizeof text, "%s long on %.100s.",
             say_length(app, geom_distance(s->at, s->to), words),
             level_name(doc_plan(app->doc), s->level));
    parts_text(parts, text, app->theme->ink2);
    panel_choices(app, parts, CHOICE_WALL, "It is");
    parts_small(parts, "Open: no wall up to the ceiling. A doorway or a cased opening with wall "
                       "above it is not open. Open takes away the plate "
                       "joint over it.");
    bool rated = choice_now(app, CHOICE_RATED) == 1;
    parts_check(parts, choice_path(CHOICE_RATED), "Fire-resistance-rated", rated,
                (Action){DO_CHOOSE, CHOICE_RATED, !rated});
    parts_space(parts, 8);
    if (rated)
        panel_caution(app, parts,
                      "A rated wall is sealed only with what its listing says. Ask the building "
                      "department before anything goes through it.");
}
