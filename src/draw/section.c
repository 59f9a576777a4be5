/* The section laid out on its area. */
#include "draw/section_parts.h"

#include <math.h>

/* Heights to show: from under the lowest floor or the grade to over the highest ceiling. */
static void find_heights(SectionView *view, int32_t grade)
{
    double low = grade, high = grade;
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            const ColumnPart *part = &column->parts[p];
            if (part->is != COLUMN_SPACE)
                continue;
            low = fmin(low, part->z0);
            high = fmax(high, part->z1);
        }
    }
    view->z_low = low - 700.0 * GEOM_TICKS_PER_MM;
    view->z_high = high + 500.0 * GEOM_TICKS_PER_MM;
}

/* Where the line passes spaces; false: nowhere. */
static bool find_span(SectionView *view)
{
    view->s_low = view->cut->length;
    view->s_high = 0;
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            if (column->parts[p].is != COLUMN_SPACE || column->parts[p].kind == SPACE_OUTDOORS)
                continue;
            view->s_low = fmin(view->s_low, view->cut->strips[i].s0);
            view->s_high = fmax(view->s_high, view->cut->strips[i].s1);
        }
    }
    return view->s_low < view->s_high;
}

/* Beside the house: arrows with their flows, heights at the left, the pressure line at the right. */
static void lay_out(SectionView *view)
{
    double left = 140 * view->rp, right = 250 * view->rp;
    PaintBox area = view->area;
    double wide = area.width - left - right, span = view->s_high - view->s_low,
           tall = view->z_high - view->z_low;
    view->scale = fmin(wide / span, area.height / tall);
    view->left = area.x + left + (wide - span * view->scale) / 2 - view->s_low * view->scale;
    view->foot = area.y + (area.height + tall * view->scale) / 2 + view->z_low * view->scale;
}

static bool passes_level(const SectionView *view, int level)
{
    for (int i = 0; i < view->cut->strip_count; i++) {
        const Column *column = section_column(view, i);
        for (int p = 0; p < column->count; p++) {
            const ColumnPart *part = &column->parts[p];
            if (part->is == COLUMN_SPACE && part->kind != SPACE_OUTDOORS &&
                view->envelope->plan->spaces[part->space].level == level)
                return true;
        }
    }
    return false;
}

/* Heights of the floors that the line passes, at the left. */
static void draw_heights(const SectionView *view)
{
    const Plan *plan = view->envelope->plan;
    TextStyle style = {.size = 11 * view->rp,
                       .weight = FONT_LABEL,
                       .colour = view->theme->ink2,
                       .anchor = TEXT_END};
    Stroke line = {.colour = view->theme->ink2, .width = 1 * view->rp * view->theme->weight};
    double last = HUGE_VAL, x = section_x(view, view->s_low) - 80 * view->rp;
    for (int i = 0; i < plan->level_count; i++) {
        double z = plan->levels[i].floor, y = section_y(view, z);
        if (z < view->z_low || z > view->z_high || fabs(y - last) < 14 * view->rp ||
            !passes_level(view, i))
            continue;
        last = y;
        char length[GEOM_LENGTH_SIZE];
        geom_length_print(plan->levels[i].floor, plan->settings.units, length);
        PaintBox box = paint_text(view->painter, x - 8 * view->rp, y + 4 * view->rp,
                                  plan->levels[i].floor == 0 ? "0" : length, &style);
        label_field_block_box(view->taken, box, LABEL_NEVER);
        paint_move(view->painter, x - 4 * view->rp, y);
        paint_line(view->painter, x + 6 * view->rp, y);
        paint_stroke(view->painter, &line, false);
    }
}

int section_groups_cut(const Air *air, const SectionCut *cut)
{
    SectionView view = {.air = air, .envelope = air->envelope, .cut = cut};
    return find_span(&view) ? section_group_count(&view) : -1;
}

double section_draw(Painter *painter, const Air *air, const AirFlow *flow, const SectionCut *cut,
                    const SectionLook *look, PaintBox area)
{
    LabelField taken;
    SectionView view = {.painter = painter,
                        .air = air,
                        .envelope = air->envelope,
                        .flow = flow,
                        .cut = cut,
                        .theme = look->theme,
                        .rp = look->rp,
                        .area = area,
                        .taken = &taken};
    if (!find_span(&view))
        return 0;
    label_field_start(&taken, area, look->rp, false);
    find_heights(&view, plan_grade(air->envelope->plan));
    lay_out(&view);
    paint_save(painter);
    paint_clip_box(painter, area);
    section_house_draw(&view);
    draw_heights(&view);
    if (look->holes)
        section_air_draw(&view);
    section_names_draw(&view);
    paint_restore(painter);
    painter_fail(painter, taken.status);
    label_field_clear(&taken);
    return view.scale;
}
