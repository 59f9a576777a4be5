/* Totals as text for people, in the plan's units. */
#include "envelope/envelope_internal.h"

static const double mm2_per_in2 = 645.16, mm2_per_ft2 = 92903.04, mm3_per_ft3 = 28316846.592;

typedef struct Report {
    const Plan *plan;
    TextBuffer *text;
    bool metric;
} Report;

/* A run length: feet or metres with one decimal. */
static void add_length(const Report *report, double mm, int width)
{
    char number[NUMBER_SIZE];
    double value = report->metric ? mm / 1000 : mm / 304.8;
    text_addf(report->text, "%*s %s", width, number_fixed(value, 1, number),
              report->metric ? "m" : "ft");
}

/* An area of surfaces: ft2 or m2. */
static void add_area(const Report *report, double mm2)
{
    char number[NUMBER_SIZE];
    double value = report->metric ? mm2 / 1e6 : mm2 / mm2_per_ft2;
    text_addf(report->text, "%10s %s", number_fixed(value, 1, number),
              report->metric ? "m²" : "ft²");
}

/* An area of holes: in2 or cm2. */
static void add_hole_area(const Report *report, double mm2)
{
    char number[NUMBER_SIZE];
    double value = report->metric ? mm2 / 100 : mm2 / mm2_per_in2;
    text_addf(report->text, "%10s %s", number_fixed(value, report->metric ? 0 : 1, number),
              report->metric ? "cm²" : "in²");
}

static void add_volume(const Report *report, const char *name, double mm3)
{
    char number[NUMBER_SIZE];
    double value = report->metric ? mm3 / 1e9 : mm3 / mm3_per_ft3;
    text_addf(report->text, "  %-34s%10s %s\n", name, number_fixed(value, 0, number),
              report->metric ? "m³" : "ft³");
}

static void add_line_length(const Report *report, const char *name, double mm)
{
    text_addf(report->text, "  %-34s", name);
    add_length(report, mm, 10);
    text_add(report->text, "\n");
}

static void add_line_area(const Report *report, const char *name, double mm2)
{
    text_addf(report->text, "  %-34s", name);
    add_area(report, mm2);
    text_add(report->text, "\n");
}

static void add_lead(const Report *report, const EnvelopeTotals *totals)
{
    char side[GEOM_LENGTH_SIZE];
    TextBuffer *text = report->text;
    const char *name = report->plan->settings.name;
    text_add_line(text, name[0] ? name : "A plan without a name");
    text_add(text, "\n\nNot sealed\n");
    text_add(text, "  lid side:");
    add_length(report, totals->lid_unsealed_mm, 9);
    text_add(text, " of");
    add_length(report, totals->lid_total_mm, 9);
    text_add(text, "\n  all joints:");
    add_length(report, totals->joint_unsealed_mm, 7);
    text_add(text, " of");
    add_length(report, totals->joint_total_mm, 9);
    text_addf(text, "\n  holes: %d of %d on the boundary (%d marked); %d and ",
              totals->hole_unsealed, totals->hole_on_boundary, totals->hole_count,
              totals->hole_unspecified);
    add_length(report, totals->joint_unspecified_mm, 1);
    text_add(text, " of joints have no seal chosen\n  hole on paper:");
    add_hole_area(report, totals->paper_area_mm2);
    int64_t ticks = (int64_t)(totals->paper_square_mm * GEOM_TICKS_PER_MM + 0.5);
    text_addf(text, ", one square of %s a side\n",
              geom_length_print(ticks, report->plan->settings.units, side));
    text_add(text, "    cracks");
    add_hole_area(report, totals->crack_area_mm2);
    text_add(text, ", open bays");
    add_hole_area(report, totals->bay_area_mm2);
    text_add(text, ", holes");
    add_hole_area(report, totals->hole_area_mm2);
    text_add(text, "\n    (gap times length, not what a fan would measure)\n");
}

static void add_joints(const Report *report, const EnvelopeTotals *totals)
{
    text_addf(report->text, "\n%-78s%12s%12s%12s%12s\n", "Joints", "total", "no seal", "not sealed",
              "seen");
    for (int i = 0; i < totals->joint_count; i++) {
        const TotalsJoint *row = &totals->joints[i];
        text_add(report->text, "  ");
        text_add_column(report->text, report->plan->catalog->joints[row->joint].shown, 38);
        text_add_column(report->text, report->plan->levels[row->level].name, 14);
        text_add_column(report->text, space_kind_shown(row->leaks_to), 24);
        const double lengths[] = {row->total_mm, row->unspecified_mm, row->unsealed_mm,
                                  row->seen_mm};
        for (size_t j = 0; j < sizeof lengths / sizeof *lengths; j++) {
            add_length(report, lengths[j], 9);
        }
        text_add(report->text, "\n");
    }
    if (totals->left_to_sheathing_mm > 0) {
        add_line_length(report, "left to the sheathing, not counted", totals->left_to_sheathing_mm);
    }
}

static void add_planes(const Report *report, const char *head, const char *to,
                       const TotalsPlane *rows, int count)
{
    if (count > 0) {
        text_addf(report->text, "\n%s\n", head);
    }
    for (int i = 0; i < count; i++) {
        text_add(report->text, "  ");
        text_add_column(report->text, report->plan->levels[rows[i].level].name, 16);
        text_addf(report->text, "%s ", to);
        text_add_column(report->text, space_kind_shown(rows[i].kind), 25);
        add_area(report, rows[i].area_mm2);
        text_add(report->text, "\n");
    }
}

static void add_walls(const Report *report, const EnvelopeTotals *totals)
{
    if (totals->wall_count > 0) {
        text_add(report->text, "\nWalls\n");
    }
    for (int i = 0; i < totals->wall_count; i++) {
        const TotalsWall *row = &totals->walls[i];
        text_add(report->text, "  ");
        text_add_column(report->text, report->plan->levels[row->level].name, 16);
        text_add(report->text, "to ");
        text_add_column(report->text, space_kind_shown(row->faces), 25);
        add_length(report, row->length_mm, 10);
        add_area(report, row->area_mm2);
        text_add(report->text, "\n");
    }
}

static void add_sizes(const Report *report, const EnvelopeTotals *totals)
{
    text_add(report->text, "\nBoundary\n");
    add_line_length(report, "perimeter", totals->perimeter_mm);
    add_line_area(report, "conditioned floor", totals->floor_area_mm2);
    add_volume(report, "volume of rooms", totals->volume_mm3);
    add_volume(report, "volume between floors", totals->between_volume_mm3);
    add_line_area(report, "enclosure", totals->enclosure_area_mm2);
    add_line_area(report, "ground contact", totals->ground_area_mm2);
}

Status envelope_totals_text(const Envelope *envelope, TextBuffer *text)
{
    Report report = {envelope->plan, text, envelope->plan->settings.units == GEOM_METRIC};
    const EnvelopeTotals *totals = &envelope->totals;
    add_lead(&report, totals);
    add_joints(&report, totals);
    add_sizes(&report, totals);
    add_walls(&report, totals);
    add_planes(&report, "Lid", "under", totals->lid, totals->lid_count);
    add_planes(&report, "Floor", "over", totals->floor, totals->floor_count);
    for (int i = 0; i < envelope->note_count; i++) {
        text_add(text, i ? "  " : "\nTo know\n  ");
        text_add_line(text, envelope->notes[i].text);
        text_add(text, "\n");
    }
    return text->failed ? STATUS_MEMORY : STATUS_OK;
}
