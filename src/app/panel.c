/* The panel: one thing or the hand, as a sentence to fill in. */
#include "app/panel.h"

#include <math.h>

#include "app/leaks.h"

/* Between what is scrolled and the foot, where it says that there is more. */
#define FOOT_GAP 22.0

/* What stands at the panel's foot, whatever is scrolled above it. */
typedef struct Foot {
    const char *path, *label;
    ButtonLook look;
    bool enabled;
    Action action;
} Foot;

static int foot_of(const App *app, Foot foot[2])
{
    const Action put_down = {DO_PUT_DOWN, 0, 0}, remove = {DO_REMOVE, 0, 0};
    bool seal = app->selection.thing == THING_RUN && app->envelope &&
                app->envelope->joints[app->selection.index].seal >= 0;
    if (app->panel == PANEL_LEVEL) {
        foot[0] = (Foot){"panel/remove-level",
                         "Remove it",
                         BUTTON_PLAIN,
                         doc_plan(app->doc)->level_count > 1,
                         {DO_REMOVE_LEVEL, 0, 0}};
        foot[1] = (Foot){"panel/close", "Close", BUTTON_PLAIN, true, put_down};
        return 2;
    }
    if (app->panel != PANEL_AUTO || app->selection.thing == THING_WALL) {
        foot[0] = (Foot){"panel/close", "Close", BUTTON_PLAIN, true, put_down};
        return 1;
    }
    if (app->selection.thing != THING_NONE) {
        const char *label = app->selection.thing == THING_RUN ? "Remove seal" : "Remove";
        foot[0] = (Foot){"panel/remove", label, BUTTON_PLAIN,
                         seal || app->selection.thing != THING_RUN, remove};
        foot[1] = (Foot){"panel/close", "Close", BUTTON_PLAIN, true, put_down};
        return 2;
    }
    if (app->hand == HAND_ROOM && app->room.count > 0) {
        foot[0] = (Foot){"panel/close-room",
                         "Close the room",
                         BUTTON_MAIN,
                         app->room.count > 2,
                         {DO_CLOSE_ROOM, 0, 0}};
        return 1;
    }
    foot[0] = (Foot){"panel/put-down", "Put it down", BUTTON_PLAIN, true, put_down};
    return 1;
}

static double foot_build(App *app, PaintBox box)
{
    Foot foot[2];
    int count = foot_of(app, foot);
    double rp = app->scale, high = app->ui.m.row, gap = round(8 * rp);
    double width = box.width - round(36 * rp), each = (width - (count - 1) * gap) / count;
    double top = box.y + box.height - high - round(14 * rp);
    for (int i = 0; i < count; i++)
        ui_button(&app->ui, foot[i].path,
                  box_of(round(box.x + 20 * rp + i * (each + gap)), top, floor(each), high),
                  foot[i].label, foot[i].look, foot[i].enabled, foot[i].action);
    return high + round((14 + FOOT_GAP) * rp);
}

static void content_build(App *app, Parts *parts)
{
    switch (app->panel) {
    case PANEL_AUTO:
        break;
    case PANEL_LEVEL:
        panel_level(app, parts);
        return;
    case PANEL_PLAN:
        panel_plan(app, parts);
        return;
    default:
        panel_list(app, parts);
        return;
    }
    switch (app->selection.thing) {
    case THING_HOLE:
        panel_hole(app, parts);
        break;
    case THING_RUN:
        panel_run(app, parts);
        break;
    case THING_SPACE:
        panel_space(app, parts);
        break;
    case THING_WALL:
        panel_wall(app, parts);
        break;
    default:
        panel_hand(app, parts);
        break;
    }
}

/* How far the panel reaches and where it is; under it whether there is more. */
static void scroll_signs(App *app, PaintBox seen)
{
    Ui *ui = &app->ui;
    const Scroll *scroll = &app->panel_scroll;
    double rp = app->scale, whole = seen.height + scroll->most, foot = seen.y + seen.height;
    draw_list_box(&app->list,
                  box_of(seen.x + seen.width - round(6 * rp),
                         seen.y + scroll->at / whole * seen.height, round(4 * rp),
                         seen.height * seen.height / whole),
                  app->theme->ink2);
    if (scroll->at >= scroll->most - 1)
        return;
    draw_list_box(&app->list, box_of(seen.x, foot, seen.width, fmax(1, round(rp))),
                  app->theme->rule);
    double x = seen.x + seen.width / 2,
           half = ui_width(ui, "More below", ui->m.small, FONT_LABEL) / 2;
    ui_text(ui, x, foot + round(FOOT_GAP / 2 * rp + ui->m.small * 0.36), "More below", ui->m.small,
            FONT_LABEL, app->theme->ink2, TEXT_MIDDLE, 0);
    ui_icon(ui, box_of(x + half + 6 * rp, foot + round((FOOT_GAP / 2 - 5) * rp), 10 * rp, 10 * rp),
            ICON_DOWN, app->theme->ink2);
}

void panel_build(App *app, PaintBox box)
{
    Ui *ui = &app->ui;
    double rp = app->scale;
    Widget *ground = ui_widget(ui, "panel", box, true, (Action){DO_CATCH, 0, 0});
    if (ground)
        ground->enabled = false;
    double foot = foot_build(app, box);
    PaintBox seen = box_of(box.x, box.y, box.width, box.height - foot), before = ui->clip;
    ui_clip(ui, seen);
    double top = seen.y + round(20 * rp);
    Parts parts = {ui, box.x + round(20 * rp), top - round(app->panel_scroll.at),
                   box.width - round(36 * rp)};
    content_build(app, &parts);
    ui_unclip(ui, before);
    app->panel_scroll.most = fmax(0, parts.y + app->panel_scroll.at - (seen.y + seen.height));
    app->panel_scroll.at = fmin(app->panel_scroll.at, app->panel_scroll.most);
    if (app->panel_scroll.most > 0)
        scroll_signs(app, seen);
}

/* ---- what is in the hand --------------------------------------------------------------------- */

void panel_gauge_square(App *app, Parts *parts, const char *first, const char *second,
                        double area_mm2)
{
    Ui *ui = &app->ui;
    double rp = app->scale, side_mm = sqrt(area_mm2), high = round(64 * rp);
    /* 8 px an inch, 4 from 8 inches up, and never more than there is room for */
    double side = side_mm / 25.4 * (side_mm < 8 * 25.4 ? 8 : 4) * rp;
    side = fmin(side, 120 * rp);
    high = fmax(high, round(side + 20 * rp));
    high = fmax(high, round(ui->m.head + ui->m.small * 2.9 + 26 * rp));
    PaintBox box = box_of(parts->x, parts->y, parts->width, high);
    draw_list_box(&app->list, box, app->theme->card);
    draw_list_frame(&app->list, box, fmax(1, round(rp)), app->theme->rule);
    double middle = round(box.y + high / 2), text = box.width - side - 40 * rp;
    bool two = ui_width(ui, second, ui->m.small, FONT_TEXT) > text;
    double first_y = middle - round(two ? 12 * rp : 4 * rp);
    ui_text(ui, box.x + 14 * rp, first_y, first, ui->m.head, FONT_NAME, app->theme->ink, TEXT_START,
            text);
    ui_lines(ui, box.x + 14 * rp, first_y + round(ui->m.small * 1.3 + 4 * rp), text, second,
             ui->m.small, FONT_TEXT, app->theme->ink2, 2);
    if (side >= 1)
        draw_list_box(&app->list,
                      box_of(round(box.x + box.width - 14 * rp - side), round(middle - side / 2),
                             round(side), round(side)),
                      app->theme->ink);
    parts->y += high;
    parts_space(parts, 12);
}

void panel_picker(App *app, Parts *parts, Choice choice, const char *label)
{
    char text[WORDS];
    choice_label(app, choice, choice_now(app, choice), text, sizeof text);
    parts_picker(parts, choice_path(choice), label, text, (Action){DO_PICKER, (int)choice, 0});
}

void panel_field(App *app, Parts *parts, Field field)
{
    char text[TEXT_FIELD_SIZE], hint[WORDS];
    field_shown(app, field, text, sizeof text);
    field_hint(app, field, hint, sizeof hint);
    parts_field(parts, field_path(field), field_label(field), text, hint,
                (Action){DO_FIELD, (int)field, 0});
}

void panel_two_fields(App *app, Parts *parts, Field left, Field right)
{
    Parts a = parts_half(parts, false), b = parts_half(parts, true);
    panel_field(app, &a, left);
    panel_field(app, &b, right);
    parts->y = fmax(a.y, b.y);
}

void panel_seal(App *app, Parts *parts)
{
    panel_picker(app, parts, CHOICE_METHOD, "Seal with");
    Parts a = parts_half(parts, false), b = parts_half(parts, true);
    panel_picker(app, &a, CHOICE_TRADE, "by");
    panel_picker(app, &b, CHOICE_STAGE, "before the end of");
    parts->y = fmax(a.y, b.y);
}

/* A few values as buttons. */
void panel_choices(App *app, Parts *parts, Choice choice, const char *label)
{
    enum { MOST = 4 };
    int values[CHOICE_OPTIONS], count = choice_options(app, choice, values), on = -1;
    char texts[MOST][WORDS];
    Ui *ui = &app->ui;
    count = count > MOST ? MOST : count;
    for (int i = 0; i < count; i++) {
        choice_label(app, choice, values[i], texts[i], sizeof texts[i]);
        if (values[i] == choice_now(app, choice))
            on = i;
    }
    if (label[0])
        parts_label(parts, label);
    double gap = round(4 * app->scale), each = (parts->width + gap) / count;
    for (int i = 0; i < count; i++) {
        char path[WIDGET_PATH];
        double x0 = round(parts->x + i * each), x1 = round(parts->x + (i + 1) * each - gap);
        snprintf(path, sizeof path, "%s/%d", choice_path(choice), values[i]);
        ui_button(ui, path, box_of(x0, parts->y, x1 - x0, ui->m.row), texts[i],
                  i == on ? BUTTON_SOFT : BUTTON_PLAIN, true,
                  (Action){DO_CHOOSE, (int)choice, values[i]});
    }
    parts->y += ui->m.row;
    parts_space(parts, 8);
}

static void hand_joint(App *app, Parts *parts)
{
    char words[WORDS], text[WORDS * 2];
    const CatalogMethod *method = &app->catalog->methods[app->joint.method];
    parts_label(parts, "In your hand");
    parts_title(parts, method->shown, "");
    if (app->joint.placed == 0)
        snprintf(text, sizeof text, "Nothing sealed since you picked it up.");
    else
        snprintf(text, sizeof text, "%d %s, %s since you picked it up.", app->joint.placed,
                 app->joint.placed == 1 ? "run" : "runs",
                 say_length(app, app->joint.placed_length, words));
    parts_text(parts, text, app->theme->ink2);
    PaintBox band = box_of(parts->x, parts->y, parts->width, round(22 * app->scale));
    ShownState shown = app->joint.method == CATALOG_METHOD_NONE ? SHOWN_NO_SEAL : SHOWN_PLANNED;
    draw_list_picture(&app->list, band,
                      (Picture){.kind = PICTURE_BAND, .a = (int)shown, .b = method->plate});
    parts->y += band.height;
    parts_space(parts, 10);
    Parts a = parts_half(parts, false), b = parts_half(parts, true);
    panel_picker(app, &a, CHOICE_TRADE, "by");
    panel_picker(app, &b, CHOICE_STAGE, "before the end of");
    parts->y = fmax(a.y, b.y);
    panel_choices(app, parts, CHOICE_GAP, "Gap before it is sealed");
    panel_field(app, parts, FIELD_GAP);
    if (app->joint.method != CATALOG_METHOD_NONE)
        panel_combustion(app, parts, true);
    parts_rule(parts);
    parts_pair(parts, "Tap", "the whole run, corner to corner");
    parts_pair(parts, "Drag", "a part of a run");
    parts_pair(parts, "Tap a room", "every run of that room");
    parts_pair(parts, "Press, hold", "see the run");
}

static void kind_head(App *app, Parts *parts, int kind, const char *below)
{
    Ui *ui = &app->ui;
    double rp = app->scale, side = round(56 * rp), sign = round(34 * rp);
    PaintBox card = box_of(parts->x, parts->y, side, side);
    draw_list_box(&app->list, card, app->theme->card);
    draw_list_frame(&app->list, card, fmax(1, round(rp)), app->theme->rule);
    draw_list_picture(&app->list, box_inset(card, (side - sign) / 2),
                      (Picture){.kind = PICTURE_SYMBOL, .a = kind, .b = -1});
    double x = card.x + side + round(14 * rp), width = parts->width - side - round(14 * rp);
    const char *name = app->catalog->kinds[kind].shown;
    bool long_name = ui_width(ui, name, ui->m.title, FONT_NAME) > width;
    ui_text(ui, x, card.y + round(24 * rp), name, long_name ? ui->m.head : ui->m.title, FONT_NAME,
            app->theme->ink, TEXT_START, width);
    ui_text(ui, x, card.y + round(24 * rp + ui->m.body * 1.6), below, ui->m.small, FONT_TEXT,
            app->theme->ink2, TEXT_START, width);
    parts->y += side;
    parts_space(parts, 12);
}

void panel_sizes(App *app, Parts *parts, const CatalogKind *kind)
{
    if (kind->size_count == 2)
        panel_two_fields(app, parts, FIELD_HOLE_SIZE, FIELD_HOLE_SIZE_2);
    if (kind->gap_mm <= 0) {
        if (kind->size_count == 1)
            panel_field(app, parts, FIELD_HOLE_SIZE);
        return;
    }
    if (kind->size_count == 1)
        panel_two_fields(app, parts, FIELD_HOLE_SIZE, FIELD_GAP);
    else
        panel_field(app, parts, FIELD_GAP);
}

void panel_caution(const App *app, Parts *parts, const char *caution)
{
    /* cautions are read before anything is done: a bar of the warning colour */
    const Theme *t = app->theme;
    parts_note(parts, caution, t->no_hue ? t->ink : t->state[SHOWN_PLANNED]);
}

static void hand_hole(App *app, Parts *parts)
{
    char text[WORDS];
    parts_label(parts, "In your hand");
    if (app->hole.kind < 0) {
        parts_title(parts, "No kind yet", "");
        parts_text(parts, "Choose a kind of hole; then tap every place it occurs.",
                   app->theme->ink2);
        parts_button(parts, "panel/kinds", "All kinds", BUTTON_MAIN, true,
                     (Action){DO_KINDS, 0, 0});
        return;
    }
    const CatalogKind *kind = &app->catalog->kinds[app->hole.kind];
    int on_plan = 0;
    for (int i = 0; i < doc_plan(app->doc)->penetration_count; i++)
        on_plan += doc_plan(app->doc)->penetrations[i].kind == app->hole.kind;
    snprintf(text, sizeof text, "%d placed, %d on this plan", app->hole.placed, on_plan);
    kind_head(app, parts, app->hole.kind, text);
    panel_sizes(app, parts, kind);
    panel_seal(app, parts);
    if (kind->airtight_label.given) {
        parts_check(parts, "panel/ic", "May touch insulation (IC)", app->hole.ic_rated == 1,
                    (Action){DO_CHOOSE, CHOICE_IC_RATED, app->hole.ic_rated != 1});
        parts_check(parts, "panel/airtight", "Airtight label", app->hole.airtight_label == 1,
                    (Action){DO_CHOOSE, CHOICE_AIRTIGHT, app->hole.airtight_label != 1});
        parts_space(parts, 8);
    }
    panel_caution(app, parts, kind->caution);
    parts_rule(parts);
    parts_pair(parts, "Tap", "place one");
    parts_pair(parts, "Drag", "place a row, evenly spaced");
    parts_pair(parts, "Press, hold", "take the kind that is there");
    panel_field(app, parts, FIELD_ROW_STEP);
}

static const char *way(GeomPoint from, GeomPoint to)
{
    double dx = (double)to.x - from.x, dy = (double)to.y - from.y;
    if (fabs(dx) > 8 * fabs(dy))
        return dx > 0 ? "right" : "left";
    if (fabs(dy) > 8 * fabs(dx))
        return dy > 0 ? "up" : "down";
    return "slanting";
}

static void side_row(App *app, Parts *parts, int side, bool last)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    GeomPoint from = app->room.corners[side], to = app->room.corners[side + 1];
    double rp = app->scale, high = round(34 * rp),
           base = round(parts->y + high / 2 + ui->m.body * 0.36);
    PaintBox box = box_of(parts->x, parts->y, parts->width, high);
    char number[16], words[WORDS];
    draw_list_box(&app->list, box, last ? t->act_soft : t->card);
    draw_list_frame(&app->list, box, fmax(1, round(rp)), last ? t->act : t->rule);
    snprintf(number, sizeof number, "%d", side + 1);
    ui_text(ui, box.x + 12 * rp, base, number, ui->m.body, FONT_TEXT, t->ink2, TEXT_START, 0);
    ui_text(ui, box.x + 36 * rp, base, way(from, to), ui->m.body, FONT_TEXT, t->ink, TEXT_START, 0);
    ui_text(ui, box.x + box.width - 12 * rp, base, say_length(app, geom_distance(from, to), words),
            ui->m.body, FONT_NAME, t->ink, TEXT_END, 0);
    parts->y += high + round(4 * rp);
}

static void room_names(App *app, Parts *parts)
{
    Ui *ui = &app->ui;
    double rp = app->scale, x = parts->x, high = fmax(round(26 * rp), ui->m.touch ? ui->m.row : 0);
    for (int i = 0; i < room_usual_names(); i++) {
        double width = round(ui_width(ui, room_usual_name(i), ui->m.small, FONT_LABEL) + 16 * rp);
        if (x + width > parts->x + parts->width) {
            x = parts->x;
            parts->y += high + round(4 * rp);
        }
        PaintBox box = box_of(x, parts->y, width, high);
        Colour colour = ui_button_ground(ui, ui_path(ui, "panel/room-name/%d", i), box,
                                         BUTTON_PLAIN, true, (Action){DO_ROOM_NAME, i, 0});
        ui_text(ui, x + width / 2, round(box.y + high / 2 + ui->m.small * 0.36), room_usual_name(i),
                ui->m.small, FONT_LABEL, colour, TEXT_MIDDLE, 0);
        x += width + round(4 * rp);
    }
    parts->y += high;
    parts_space(parts, 12);
}

static void snap_buttons(App *app, Parts *parts)
{
    static const struct {
        const char *path, *label;
        int what;
    } snaps[] = {{"panel/snap-corner", "Corner", SNAP_CORNERS},
                 {"panel/snap-edge", "Edge", SNAP_EDGES},
                 {"panel/snap-grid", "Grid", SNAP_GRID},
                 {"panel/snap-angle", "15\xC2\xB0", SNAP_ANGLES}};
    Ui *ui = &app->ui;
    double gap = round(4 * app->scale), each = (parts->width + gap) / 4;
    parts_label(parts, "Snap to");
    for (int i = 0; i < 4; i++) {
        bool on = (app->snapping & (unsigned)snaps[i].what) != 0;
        double x0 = round(parts->x + i * each), x1 = round(parts->x + (i + 1) * each - gap);
        ui_button(ui, snaps[i].path, box_of(x0, parts->y, x1 - x0, ui->m.row), snaps[i].label,
                  on ? BUTTON_MAIN : BUTTON_PLAIN, true, (Action){DO_SNAP, snaps[i].what, 0});
    }
    parts->y += ui->m.row;
    parts_space(parts, 10);
}

static void hand_room(App *app, Parts *parts)
{
    const RoomHand *room = &app->room;
    parts_title(parts, "A new room", space_kind_shown(room->kind));
    panel_field(app, parts, FIELD_ROOM_NAME);
    room_names(app, parts);
    if (room->count > 1)
        parts_label(parts, "Sides so far");
    for (int i = 0; i + 1 < room->count; i++)
        side_row(app, parts, i, i + 2 == room->count);
    if (room->count == 2) {
        parts_button(parts, "panel/wall-only", "Only a wall inside a room", BUTTON_PLAIN, true,
                     (Action){DO_WALL_ONLY, 0, 0});
    }
    snap_buttons(app, parts);
    if (room->count > 0)
        parts_button(parts, "panel/length", "Type the length of this side", BUTTON_PLAIN, true,
                     (Action){DO_LENGTH, 0, 0});
    else
        parts_text(parts,
                   "Drag a rectangle, or tap corner after corner. Type a length once the first "
                   "corner is set.",
                   app->theme->ink2);
    parts_rule(parts);
    parts_key(parts, "Enter", "set this corner");
    parts_key(parts, "C", "close the room");
    parts_key(parts, "Backspace", "take back the last corner");
    parts_key(parts, "Esc", "leave the room undrawn");
    parts_space(parts, 6);
    parts_small(parts,
                app_units(app) == GEOM_METRIC
                    ? "Lengths as you say them: 3.81 m   381 cm   3810   12' 6 1/2\""
                    : "Lengths as you say them: 12' 6 1/2   12-6-1/2   150.5 in   3.81 m   3810");
}

static void hand_measure(App *app, Parts *parts)
{
    parts_title(parts, "Measure", "");
    if (app->measured.count < 2)
        parts_text(parts, "Tap two places, or drag from one to the other.", app->theme->ink2);
    for (int i = 0; i + 1 < app->measured.count; i += 2) {
        GeomPoint a = app->measured.ends[i], b = app->measured.ends[i + 1];
        char words[WORDS], across[WORDS], up[WORDS], text[WORDS * 3];
        snprintf(text, sizeof text, "%s across, %s up",
                 say_length(app, fabs((double)a.x - b.x), across),
                 say_length(app, fabs((double)a.y - b.y), up));
        parts_head(parts, say_length(app, geom_distance(a, b), words));
        parts_small(parts, text);
    }
}

void panel_hand(App *app, Parts *parts)
{
    switch (app->hand) {
    case HAND_ROOM:
        hand_room(app, parts);
        break;
    case HAND_JOINT:
        hand_joint(app, parts);
        break;
    case HAND_HOLE:
        hand_hole(app, parts);
        break;
    case HAND_MEASURE:
        hand_measure(app, parts);
        break;
    default:
        break;
    }
}
