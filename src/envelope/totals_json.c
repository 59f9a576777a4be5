/* Totals as JSON: the form is docs/method.md, "Totals as JSON". */
#include "envelope/envelope_internal.h"

static void member(TextBuffer *text, const char *key, double value, const char *after)
{
    text_addf(text, "\"%s\": ", key);
    text_add_json_number(text, value);
    text_add(text, after);
}

static void add_walls(const Plan *plan, const EnvelopeTotals *totals, TextBuffer *text)
{
    text_add(text, "  \"walls\": [");
    for (int i = 0; i < totals->wall_count; i++) {
        const TotalsWall *row = &totals->walls[i];
        text_add(text, i ? ",\n            {\"level\": " : "{\"level\": ");
        text_add_json(text, plan->levels[row->level].id);
        text_addf(text, ", \"faces\": \"%s\", ", space_kind_word(row->faces));
        member(text, "length_mm", row->length_mm, ", ");
        member(text, "area_mm2", row->area_mm2, "}");
    }
    text_add(text, "],\n");
}

static void add_planes(const Plan *plan, const char *name, const char *key, const TotalsPlane *rows,
                       int count, TextBuffer *text)
{
    text_addf(text, "  \"%s\": [", name);
    for (int i = 0; i < count; i++) {
        text_add(text, i ? ",\n            {\"level\": " : "{\"level\": ");
        text_add_json(text, plan->levels[rows[i].level].id);
        text_addf(text, ", \"%s\": \"%s\", ", key, space_kind_word(rows[i].kind));
        member(text, "area_mm2", rows[i].area_mm2, "}");
    }
    text_add(text, "],\n");
}

static void add_conditioned(const EnvelopeTotals *totals, TextBuffer *text)
{
    text_add(text, "  \"conditioned\": {");
    member(text, "floor_area_mm2", totals->floor_area_mm2, ", ");
    member(text, "volume_mm3", totals->volume_mm3, ", ");
    member(text, "between_volume_mm3", totals->between_volume_mm3, ", ");
    member(text, "enclosure_area_mm2", totals->enclosure_area_mm2, ", ");
    member(text, "ground_area_mm2", totals->ground_area_mm2, "},\n");
}

static void add_joint_row(const Plan *plan, const TotalsJoint *row, TextBuffer *text)
{
    text_addf(text, "{\"joint\": \"%s\", \"level\": ", joint_class_word(row->joint));
    text_add_json(text, plan->levels[row->level].id);
    text_addf(text, ", \"leaks_to\": \"%s\", ", space_kind_word(row->leaks_to));
    member(text, "total_mm", row->total_mm, ", ");
    member(text, "unspecified_mm", row->unspecified_mm, ", ");
    member(text, "unsealed_mm", row->unsealed_mm, ", ");
    member(text, "sealed_mm", row->sealed_mm, ", ");
    member(text, "seen_mm", row->seen_mm, "}");
}

static void add_joints(const Plan *plan, const EnvelopeTotals *totals, TextBuffer *text)
{
    text_add(text, "  \"joints\": {");
    member(text, "total_mm", totals->joint_total_mm, ", ");
    member(text, "unspecified_mm", totals->joint_unspecified_mm, ", ");
    member(text, "unsealed_mm", totals->joint_unsealed_mm, ", ");
    member(text, "sealed_mm", totals->joint_sealed_mm, ", ");
    member(text, "seen_mm", totals->joint_seen_mm, ",\n             \"lid_side\": {");
    member(text, "total_mm", totals->lid_total_mm, ", ");
    member(text, "unsealed_mm", totals->lid_unsealed_mm, "}, ");
    member(text, "left_to_sheathing_mm", totals->left_to_sheathing_mm, ", ");
    member(text, "crack_area_mm2", totals->crack_area_mm2, ", ");
    member(text, "bay_area_mm2", totals->bay_area_mm2, ",\n             \"by\": [");
    for (int i = 0; i < totals->joint_count; i++) {
        text_add(text, i ? ",\n                    " : "");
        add_joint_row(plan, &totals->joints[i], text);
    }
    text_add(text, "]},\n");
}

static void add_holes(const EnvelopeTotals *totals, TextBuffer *text)
{
    text_addf(text,
              "  \"penetrations\": {\"count\": %d, \"on_boundary\": %d, \"unsealed\": %d, "
              "\"unspecified\": %d, ",
              totals->hole_count, totals->hole_on_boundary, totals->hole_unsealed,
              totals->hole_unspecified);
    member(text, "hole_area_mm2", totals->hole_area_mm2, "},\n");
    text_add(text, "  \"hole_on_paper\": {");
    member(text, "area_mm2", totals->paper_area_mm2, ", ");
    member(text, "square_mm", totals->paper_square_mm, "}\n");
}

Status envelope_totals_json(const Envelope *envelope, TextBuffer *text)
{
    const Plan *plan = envelope->plan;
    const EnvelopeTotals *totals = &envelope->totals;
    text_add(text, "{ \"plan\": ");
    text_add_json(text, plan->settings.name);
    text_add(text, ",\n  ");
    member(text, "perimeter_mm", totals->perimeter_mm, ",\n");
    add_walls(plan, totals, text);
    add_planes(plan, "lid", "above", totals->lid, totals->lid_count, text);
    add_planes(plan, "floor", "below", totals->floor, totals->floor_count, text);
    add_conditioned(totals, text);
    add_joints(plan, totals, text);
    add_holes(totals, text);
    text_add(text, "}\n");
    return text->failed ? STATUS_MEMORY : STATUS_OK;
}
