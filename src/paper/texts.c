#include "paper/texts.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static bool given(const char *text)
{
    return text != NULL && text[0] != 0;
}

const char *text_state(ShownState shown, char buffer[TEXTS_SIZE])
{
    snprintf(buffer, TEXTS_SIZE, "%s", shown_state_text(shown));
    buffer[0] = (char)toupper((unsigned char)buffer[0]);
    return buffer;
}

const char *text_method(const Catalog *catalog, int method)
{
    return method == CATALOG_METHOD_NONE ? "Not chosen" : catalog->methods[method].shown;
}

const char *text_trade(const Catalog *catalog, int trade)
{
    return trade < 0 ? TEXT_DASH : catalog->trades[trade].shown;
}

const char *text_stage(const Catalog *catalog, int stage)
{
    return stage < 0 ? TEXT_DASH : catalog->stages[stage].shown;
}

const char *text_told(ShownState shown, const char *told_on, const char *covered_on,
                      char buffer[TEXTS_SIZE])
{
    if (shown == SHOWN_TOLD)
        snprintf(buffer, TEXTS_SIZE, "%.40s", given(told_on) ? told_on : "no" TEXT_NBSP "date");
    else if (shown == SHOWN_COVERED || (shown == SHOWN_SEEN && given(covered_on)))
        snprintf(buffer, TEXTS_SIZE, "(%.40s)",
                 given(covered_on) ? covered_on : "no" TEXT_NBSP "date");
    else
        snprintf(buffer, TEXTS_SIZE, TEXT_DASH);
    return buffer;
}

const char *text_offset(const HoleOffset *offset, GeomUnits units, char buffer[WORDS_SIZE])
{
    char length[WORDS_SIZE];
    if (offset->wall == 0)
        return strcpy(buffer, TEXT_DASH);
    if (offset->on_wall)
        snprintf(buffer, WORDS_SIZE, "%c" TEXT_NBSP "wall", offset->wall);
    else
        snprintf(buffer, WORDS_SIZE, "%c" TEXT_NBSP "%.56s", offset->wall,
                 words_offset(offset->ticks, units, length));
    return buffer;
}

const char *text_faces_note(const PlanSettings *settings)
{
    bool known = settings->lines_outside || settings->outer_wall_mm > 0.0;
    return known ? ""
                 : " The thickness of outside walls is not given: offsets run from the lines as "
                   "drawn.";
}

/* ---- holes -------------------------------------------------------------------------------------- */

const char *text_hole_size(const Plan *plan, const PlanPenetration *hole, GeomUnits units,
                           char buffer[WORDS_SIZE])
{
    const CatalogKind *kind = &plan->catalog->kinds[hole->kind];
    bool own = hole->size_count > 0;
    const double *size = own ? hole->size_mm : kind->size_mm;
    int count = own ? hole->size_count : kind->size_count;
    buffer[0] = 0;
    if (isfinite(hole->area_mm2) && !own)
        return buffer;
    if (kind->measure == MEASURE_LENGTH && count == 1)
        return words_offset(llround(size[0] * GEOM_TICKS_PER_MM), units, buffer);
    return words_size(size, count, units, buffer);
}

const char *text_hole_gap(const Plan *plan, const PlanPenetration *hole, GeomUnits units,
                          char buffer[WORDS_SIZE])
{
    const CatalogKind *kind = &plan->catalog->kinds[hole->kind];
    if (isfinite(hole->area_mm2))
        return strcpy(buffer, "given");
    if (kind->opening)
        return strcpy(buffer, "open");
    if (kind->measure == MEASURE_AREA || kind->measure == MEASURE_EACH)
        return strcpy(buffer, "");
    return words_gap(isfinite(hole->gap_mm) ? hole->gap_mm : kind->gap_mm, units, buffer);
}

const char *text_above(const Plan *plan, const PlanPenetration *hole, GeomUnits units,
                       char buffer[WORDS_SIZE])
{
    buffer[0] = 0;
    if (hole->plane == PLANE_WALL || hole->above_floor != PLAN_UNSET)
        words_offset(plan_above_floor(plan, hole), units, buffer);
    return buffer;
}

static void add_sentence(TextBuffer *note, const char *sentence)
{
    if (!given(sentence))
        return;
    bool stop = note->length > 0 && strchr(".!?", note->bytes[note->length - 1]) == NULL;
    if (note->length > 0)
        text_add(note, stop ? ". " : " ");
    text_add(note, sentence);
}

static void add_told_by(TextBuffer *note, ShownState shown, const char *told_by)
{
    if (shown != SHOWN_TOLD && shown != SHOWN_COVERED)
        return;
    if (!given(told_by)) {
        add_sentence(note, "Told by: no" TEXT_NBSP "name");
        return;
    }
    add_sentence(note, "Told by ");
    text_add(note, told_by);
}

static char *note_done(TextBuffer *note)
{
    char *text = note->failed ? NULL : text_copy(note->bytes);
    text_free(note);
    return text;
}

char *text_hole_note(const Envelope *envelope, const HoleRow *row)
{
    const PlanPenetration *hole = &envelope->plan->penetrations[row->hole];
    TextBuffer note = {0};
    if (given(hole->note))
        text_add(&note, hole->note);
    if (row->hot && row->open)
        add_sentence(&note, "Hot: sheet metal and heat-rated sealant, never foam");
    if (row->rated && row->open)
        add_sentence(&note, "Rated wall: a listed seal");
    switch (envelope->holes[row->hole].sits) {
    case HOLE_INSIDE:
        add_sentence(&note, "Inside the house, not counted");
        break;
    case HOLE_TO_GROUND:
        add_sentence(&note, "Opens to ground, not counted");
        break;
    case HOLE_NOWHERE:
        add_sentence(&note, "Outside every room, not counted");
        break;
    case HOLE_ON_BOUNDARY:
        break;
    }
    add_told_by(&note, row->shown, hole->told_by);
    return note_done(&note);
}

char *text_run_note(const Envelope *envelope, const RunRow *row)
{
    TextBuffer note = {0};
    if (row->rated && row->open)
        add_sentence(&note, "Rated wall: a listed seal");
    if (row->seal >= 0)
        add_told_by(&note, row->shown, envelope->plan->seals[row->seal].told_by);
    return note_done(&note);
}

const char *text_room(const Plan *plan, int space)
{
    if (space < 0)
        return "outside every room";
    const char *name = plan->spaces[space].name;
    return given(name) ? name : "a room without a name";
}

BandLook text_run_band(const RunRow *row)
{
    return (BandLook){.shown = row->shown,
                      .bay = joint_class_is_bay(row->joint),
                      .partition = row->joint == JOINT_INTERIOR_TOP_PLATE};
}
