/* Lists in the panel: what a total is made of, findings, what was done, what was found. */
#include "app/leaks.h"
#include "app/panel.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

/* The texts of a row; returns the lowest baseline. */
static double row_texts(App *app, const Parts *parts, const PanelRow *row)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double base = round(parts->y + 6 * app->scale + ui->m.body),
           tail = ui_width(ui, row->figure, ui->m.body, FONT_NAME);
    ui_text(ui, parts->x + parts->width, base, row->figure, ui->m.body, FONT_NAME, t->ink, TEXT_END,
            0);
    double used = ui_paragraph(ui, parts->x, base, parts->width - tail - 10 * app->scale, row->name,
                               ui->m.body, FONT_LABEL, t->ink);
    base += fmax(0, used - ui_pitch(ui->m.body));
    if (row->below[0])
        base += ui_paragraph(ui, parts->x, base + ui_pitch(ui->m.small), parts->width, row->below,
                             ui->m.small, FONT_TEXT, t->ink2);
    return base;
}

void panel_tap_row(App *app, Parts *parts, const PanelRow *row)
{
    Ui *ui = &app->ui;
    const Theme *t = app->theme;
    double rp = app->scale;
    bool taps = row->action.command != DO_NOTHING,
         lit = taps &&
               (row->on || text_same(ui->hover, row->path) || text_same(ui->focus, row->path));
    int at = ui->list->count; /* the ground goes under the texts, its height is known after them */
    draw_list_box(&app->list, box_of(parts->x - 8 * rp, parts->y, parts->width + 16 * rp, 0),
                  row->on ? t->act_soft
                  : lit   ? t->card
                          : t->panel);
    double high = row_texts(app, parts, row) - parts->y + round(12 * rp);
    high = fmax(high, taps && ui->m.touch ? ui->m.row : 0);
    if (at < ui->list->count)
        ui->list->commands[at].box.height = high;
    PaintBox box = box_of(parts->x - 8 * rp, parts->y, parts->width + 16 * rp, high);
    Widget *widget = taps ? ui_widget(ui, row->path, box, true, row->action) : NULL;
    if (widget)
        widget->on = row->on;
    draw_list_box(&app->list,
                  box_of(parts->x, parts->y + high - 1, parts->width, fmax(1, round(rp))), t->rule);
    parts->y += high;
}

void panel_line(App *app, Parts *parts, const char *name, const char *figure, const char *below)
{
    panel_tap_row(app, parts, &(PanelRow){"", name, figure, below, false, {DO_NOTHING, 0, 0}});
}

/* ---- joints by level, class and what they open to -------------------------------------------- */

typedef struct JointRow {
    JointClass joint;
    int level;
    SpaceKind to;
    double open, total; /* ticks */
} JointRow;

enum { JOINT_ROWS = 128 };

static int joint_rows(const App *app, bool lid_only, JointRow rows[JOINT_ROWS])
{
    const Envelope *envelope = app_envelope(app);
    int count = 0;
    for (int i = 0; envelope && i < envelope->joint_count; i++) {
        const JointPiece *piece = &envelope->joints[i];
        int at = 0;
        if (piece->left_to_sheathing || (lid_only && !piece->lid_side))
            continue;
        while (at < count && (rows[at].joint != piece->joint || rows[at].level != piece->level ||
                              rows[at].to != piece->to))
            at++;
        if (at == JOINT_ROWS)
            continue;
        if (at == count)
            rows[count++] = (JointRow){piece->joint, piece->level, piece->to, 0, 0};
        rows[at].total += piece->length;
        if (!joint_piece_sealed(envelope->plan, piece))
            rows[at].open += piece->length;
    }
    return count;
}

void panel_row(App *app, int row)
{
    JointRow rows[JOINT_ROWS];
    bool lid_only = app->panel == PANEL_LID;
    int count = joint_rows(app, lid_only, rows);
    if (row < 0 || row >= count)
        return;
    level_go(app, rows[row].level);
    app->lit = (Lit){true, lid_only, rows[row].joint, rows[row].level, rows[row].to};
    bool bottom = rows[row].joint == JOINT_BOTTOM_PLATE;
    bool wall = rows[row].joint == JOINT_RIM || rows[row].joint == JOINT_JOIST_BAYS;
    app->planes |= bottom ? LOOK_FLOOR : wall ? LOOK_WALLS : LOOK_LID;
}

static void joints_list(App *app, Parts *parts)
{
    JointRow rows[JOINT_ROWS];
    bool lid_only = app->panel == PANEL_LID;
    int count = joint_rows(app, lid_only, rows);
    const Plan *plan = doc_plan(app->doc);
    parts_title(parts, lid_only ? "Lid side" : "All joints", "not sealed");
    parts_small(parts, lid_only
                           ? "Joints that open through the lid. Tap a row to see them on the plan."
                           : "By level and what they open to. Tap a row to see them on the plan.");
    for (int i = 0; i < count; i++) {
        char path[WIDGET_PATH], open[WORDS], total[WORDS], below[WORDS * 2], opens[WORDS];
        const JointRow *row = &rows[i];
        bool on = app->lit.on && app->lit.joint == row->joint && app->lit.level == row->level &&
                  app->lit.to == row->to;
        snprintf(path, sizeof path, "list/%d", i);
        snprintf(below, sizeof below, "%.60s. of %s. %s", level_name(plan, row->level),
                 say_length(app, row->total, total), say_opens(row->to, false, opens));
        say_clean(below);
        panel_tap_row(app, parts,
                      &(PanelRow){path,
                                  say_joint(app, row->joint),
                                  say_length(app, row->open, open),
                                  below,
                                  on,
                                  {DO_ROW, i, 0}});
    }
    const Envelope *envelope = app_envelope(app);
    if (envelope && !lid_only && envelope->totals.left_to_sheathing_mm > 0) {
        char words[WORDS];
        panel_line(app, parts, "Left to the sheathing",
                   say_mm(app, envelope->totals.left_to_sheathing_mm, words), "not in the totals");
    }
}

/* ---- the square ------------------------------------------------------------------------------ */

static void square_list(App *app, Parts *parts)
{
    const Envelope *envelope = app_envelope(app);
    char words[WORDS], side[WORDS];
    if (!envelope)
        return;
    const EnvelopeTotals *t = &envelope->totals;
    const Plan *plan = envelope->plan;
    parts_title(parts, "All that is open", "");
    panel_gauge_square(app, parts, say_hole(app, t->paper_area_mm2, words),
                       say_mm(app, t->paper_square_mm, side), t->paper_area_mm2);
    panel_line(app, parts, "Cracks", say_hole(app, t->crack_area_mm2, words),
               "gap times length of joints not sealed");
    panel_line(app, parts, "Open bays", say_hole(app, t->bay_area_mm2, words),
               "stud, joist and step bays not blocked");
    for (int kind = 0; kind < app->catalog->kind_count; kind++) {
        double area = 0;
        int count = 0;
        for (int i = 0; i < plan->penetration_count; i++) {
            const PlanPenetration *hole = &plan->penetrations[i];
            if (hole->kind != kind || envelope->holes[i].sits != HOLE_ON_BOUNDARY ||
                hole_sealed(hole) || hole->state == STATE_ABSENT)
                continue;
            area += envelope->holes[i].area_mm2;
            count += hole->count;
        }
        char below[WORDS];
        snprintf(below, sizeof below, "%d not sealed", count);
        if (count > 0)
            panel_line(app, parts, app->catalog->kinds[kind].shown, say_hole(app, area, words),
                       below);
    }
    parts_space(parts, 8);
    parts_small(parts, "A hole on paper: it shows how much hangs on a thin line. It is not what a "
                       "fan would measure.");
}

/* ---- walls, lid, floor ----------------------------------------------------------------------- */

static void kind_lower(SpaceKind kind, char name[WORDS])
{
    snprintf(name, WORDS, "%s", space_kind_shown(kind));
    name[0] = (char)tolower((unsigned char)name[0]);
}

static void perimeter_list(App *app, Parts *parts)
{
    const Envelope *envelope = app_envelope(app);
    char words[WORDS], area[WORDS], kind[WORDS], name[WORDS * 2], below[WORDS * 2];
    if (!envelope)
        return;
    parts_title(parts, "Perimeter", say_mm(app, envelope->totals.perimeter_mm, words));
    parts_small(parts, "Walls of the boundary, by what they face.");
    for (int i = 0; i < envelope->totals.wall_count; i++) {
        const TotalsWall *wall = &envelope->totals.walls[i];
        kind_lower(wall->faces, kind);
        snprintf(name, sizeof name, "Faces %s", kind);
        snprintf(below, sizeof below, "%.80s. %s", level_name(envelope->plan, wall->level),
                 say_area(app, wall->area_mm2, area));
        say_clean(below);
        panel_line(app, parts, name, say_mm(app, wall->length_mm, words), below);
    }
    parts_space(parts, 12);
    parts_button(parts, "panel/inside", "Areas and volumes", BUTTON_PLAIN, true,
                 (Action){DO_LIST, PANEL_INSIDE, 0});
}

static void planes_rows(App *app, Parts *parts, const TotalsPlane *planes, int count,
                        const char *what)
{
    for (int i = 0; i < count; i++) {
        char kind[WORDS], name[WORDS * 2], area[WORDS];
        kind_lower(planes[i].kind, kind);
        snprintf(name, sizeof name, "%s %s", what, kind);
        panel_line(app, parts, name, say_area(app, planes[i].area_mm2, area),
                   level_name(app_envelope(app)->plan, planes[i].level));
    }
}

static void inside_list(App *app, Parts *parts)
{
    const Envelope *envelope = app_envelope(app);
    char words[WORDS];
    if (!envelope)
        return;
    const EnvelopeTotals *t = &envelope->totals;
    parts_title(parts, "Inside", "");
    panel_line(app, parts, "Conditioned floor area", say_area(app, t->floor_area_mm2, words), "");
    panel_line(app, parts, "Volume of the rooms", say_volume(app, t->volume_mm3, words), "");
    panel_line(app, parts, "Between floors", say_volume(app, t->between_volume_mm3, words), "");
    panel_line(app, parts, "Enclosure area", say_area(app, t->enclosure_area_mm2, words),
               "walls, lid and floor");
    panel_line(app, parts, "Touching the ground", say_area(app, t->ground_area_mm2, words), "");
    planes_rows(app, parts, t->lid, t->lid_count, "Lid under");
    planes_rows(app, parts, t->floor, t->floor_count, "Floor over");
}

/* ---- findings -------------------------------------------------------------------------------- */

/* A piece of the joint that a seal is in force on, -1. */
static int piece_of_seal(const App *app, int seal)
{
    for (int i = 0; i < app->envelope->joint_count; i++)
        if (app->envelope->joints[i].seal == seal)
            return i;
    return -1;
}

/* What is shown when a finding of the air is tapped; DO_NOTHING: it has no place. */
static Action air_finding_action(const App *app, const AirNote *note)
{
    int piece = note->table == PLAN_SEALS ? piece_of_seal(app, note->index) : -1;
    if (note->table == PLAN_SETTINGS)
        return (Action){DO_PLAN_PANEL, 0, 0};
    if (note->table == PLAN_PENETRATIONS)
        return (Action){DO_SHOW, THING_HOLE, note->index};
    if (note->table == PLAN_SPACES && note->index >= 0)
        return (Action){DO_SHOW, THING_SPACE, note->index};
    return piece >= 0 ? (Action){DO_SHOW, THING_RUN, piece} : (Action){DO_NOTHING, 0, 0};
}

void panel_finding(App *app, int index)
{
    const Envelope *envelope = app_envelope(app);
    if (!envelope || index < 0 || index >= envelope->note_count)
        return;
    const EnvelopeNote *note = &envelope->notes[index];
    if (note->level >= 0)
        level_go(app, note->level);
    place_show(app, note->at);
    app->finding = index;
}

static void finding_row(App *app, Parts *parts, int index, const char *text, Action action)
{
    Ui *ui = &app->ui;
    double rp = app->scale, top = parts->y, left = round(26 * rp);
    char path[WIDGET_PATH], number[16];
    bool on = app->finding == index;
    int at = ui->list->count;
    snprintf(path, sizeof path, "list/%d", index);
    draw_list_box(&app->list, box_of(parts->x - 8 * rp, top, parts->width + 16 * rp, 0),
                  on ? app->theme->act_soft : app->theme->panel);
    ui_icon(ui, box_of(parts->x - 2 * rp, top + 8 * rp, 20 * rp, 18 * rp), ICON_TRIANGLE,
            app->theme->ink);
    snprintf(number, sizeof number, "%d", index + 1);
    ui_text(ui, parts->x + 8 * rp, top + 22 * rp, number, ui->m.small, FONT_BOLD, app->theme->panel,
            TEXT_MIDDLE, 0);
    double used = ui_paragraph(ui, parts->x + left, top + round(8 * rp + ui->m.body),
                               parts->width - left, text, ui->m.body, FONT_TEXT, app->theme->ink);
    double high = used + round(16 * rp);
    if (at < ui->list->count)
        ui->list->commands[at].box.height = high;
    if (action.command != DO_NOTHING)
        ui_widget(ui, path, box_of(parts->x - 8 * rp, top, parts->width + 16 * rp, high), true,
                  action);
    draw_list_box(&app->list, box_of(parts->x, top + high - 1, parts->width, fmax(1, round(rp))),
                  app->theme->rule);
    parts->y += high;
}

static void findings_list(App *app, Parts *parts)
{
    parts_title(parts, "Findings", "");
    if (app->plan_fault.status != STATUS_OK) {
        parts_note(parts, app->plan_fault.reason, app->theme->state[SHOWN_FAILED]);
        parts_text(parts, app->plan_fault.advice, app->theme->ink);
        return;
    }
    if (findings_count(app) == 0) {
        parts_text(parts, "Nothing was found wrong with the drawing or its air.", app->theme->ink2);
        return;
    }
    parts_small(parts, "Tap one to see its place.");
    int own = app_envelope(app) ? app->envelope->note_count : 0;
    for (int i = 0; i < own; i++)
        finding_row(app, parts, i, app->envelope->notes[i].text, (Action){DO_FINDING, i, 0});
    const AirNote *note;
    for (int i = 0; (note = air_finding(app, i)) != NULL; i++)
        finding_row(app, parts, own + i, note->text, air_finding_action(app, note));
}

/* ---- what was done --------------------------------------------------------------------------- */

enum { HISTORY = 20 };

static void history_list(App *app, Parts *parts)
{
    char path[WIDGET_PATH];
    parts_title(parts, "What was done", "");
    parts_small(parts, "Tap a step to take back all that was done since, and it too.");
    for (int i = HISTORY - 1; i >= 0; i--) {
        const char *label = doc_redo_label(app->doc, i);
        snprintf(path, sizeof path, "list/again/%d", i);
        if (label)
            panel_tap_row(
                app, parts,
                &(PanelRow){path, label, "do again", "", false, {DO_UNDO_TO, -(i + 1), 0}});
    }
    for (int i = 0; i < HISTORY; i++) {
        const char *label = doc_undo_label(app->doc, i);
        snprintf(path, sizeof path, "list/%d", i);
        if (!label)
            break;
        panel_tap_row(app, parts, &(PanelRow){path, label, "", "", i == 0, {DO_UNDO_TO, i + 1, 0}});
    }
}

/* ---- finding a tag or a room ----------------------------------------------------------------- */

static bool begins(const char *text, const char *with)
{
    for (; *with; text++, with++)
        if (tolower((unsigned char)*text) != tolower((unsigned char)*with))
            return false;
    return true;
}

typedef struct Found {
    Thing thing;
    int index;
} Found;

enum { FOUND = 30 };

static int search(const App *app, Found found[FOUND])
{
    const Plan *plan = doc_plan(app->doc);
    int count = 0;
    if (app->find[0] == '\0')
        return 0;
    for (int i = 0; i < plan->space_count && count < FOUND; i++)
        if (begins(plan->spaces[i].name, app->find))
            found[count++] = (Found){THING_SPACE, i};
    for (int i = 0; i < plan->penetration_count && count < FOUND; i++)
        if (begins(plan->penetrations[i].tag, app->find))
            found[count++] = (Found){THING_HOLE, i};
    for (int i = 0;
         app->envelope && !app->mended && i < app->envelope->joint_count && count < FOUND; i++) {
        int seal = app->envelope->joints[i].seal;
        if (seal >= 0 && begins(plan->seals[seal].tag, app->find))
            found[count++] = (Found){THING_RUN, i};
    }
    return count;
}

static int level_of(const App *app, const Found *found)
{
    const Plan *plan = doc_plan(app->doc);
    if (found->thing == THING_SPACE)
        return plan->spaces[found->index].level;
    return found->thing == THING_HOLE ? plan->penetrations[found->index].level
                                      : app->envelope->joints[found->index].level;
}

void panel_found(App *app, int row)
{
    Found found[FOUND];
    int count = search(app, found);
    if (row < 0 || row >= count)
        return;
    thing_show(app, found[row].thing, found[row].index);
}

static void find_list(App *app, Parts *parts)
{
    Found found[FOUND];
    const Plan *plan = doc_plan(app->doc);
    parts_title(parts, "Find", "");
    panel_field(app, parts, FIELD_FIND);
    int count = search(app, found);
    for (int i = 0; i < count; i++) {
        char path[WIDGET_PATH];
        const char *name = "", *below = level_name(plan, level_of(app, &found[i])), *figure = "";
        snprintf(path, sizeof path, "list/%d", i);
        if (found[i].thing == THING_SPACE)
            name = space_name(plan, found[i].index);
        else if (found[i].thing == THING_HOLE) {
            name = app->catalog->kinds[plan->penetrations[found[i].index].kind].shown;
            figure = plan->penetrations[found[i].index].tag;
        } else {
            const JointPiece *piece = &app->envelope->joints[found[i].index];
            name = say_joint(app, piece->joint);
            figure = plan->seals[piece->seal].tag;
        }
        panel_tap_row(app, parts, &(PanelRow){path, name, figure, below, false, {DO_FOUND, i, 0}});
    }
    if (count == 0 && app->find[0])
        parts_text(parts, "Nothing on this plan begins so.", app->theme->ink2);
}

void panel_list(App *app, Parts *parts)
{
    switch (app->panel) {
    case PANEL_LID:
    case PANEL_JOINTS:
        joints_list(app, parts);
        break;
    case PANEL_SQUARE:
        square_list(app, parts);
        break;
    case PANEL_LEAKS:
        panel_leaks(app, parts);
        break;
    case PANEL_PERIMETER:
        perimeter_list(app, parts);
        break;
    case PANEL_INSIDE:
        inside_list(app, parts);
        break;
    case PANEL_FINDINGS:
        findings_list(app, parts);
        break;
    case PANEL_HISTORY:
        history_list(app, parts);
        break;
    case PANEL_FIND:
        find_list(app, parts);
        break;
    default:
        break;
    }
}
