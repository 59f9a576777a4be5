/* The derivation in its order: overlay, columns, pairs, surface, joints, holes, findings, totals. */
#include "envelope/envelope_internal.h"

#include <math.h>

Derivation *envelope_derivation(const Envelope *envelope)
{
    return envelope->hidden;
}

static void derivation_free(Derivation *derivation)
{
    if (!derivation) {
        return;
    }
    mem_free(derivation->floor);
    mem_free(derivation->ceiling);
    mem_free(derivation->booked);
    mem_free(derivation->seen_area);
    mem_free(derivation->edge_pair);
    rules_free(&derivation->book);
    holds_free(&derivation->marks);
    holds_free(&derivation->seals);
    mem_free(derivation);
}

void envelope_free(Envelope *envelope)
{
    if (!envelope) {
        return;
    }
    if (envelope->columns) {
        for (int i = 0; i < envelope->overlay->cover_count; i++) {
            mem_free(envelope->columns[i].parts);
            mem_free(envelope->columns[i].drops);
        }
    }
    mem_free(envelope->columns);
    geom_overlay_free(envelope->overlay);
    mem_free(envelope->joints);
    mem_free(envelope->walls);
    mem_free(envelope->holes);
    mem_free(envelope->notes);
    mem_free(envelope->totals.walls);
    mem_free(envelope->totals.lid);
    mem_free(envelope->totals.floor);
    mem_free(envelope->totals.joints);
    derivation_free(envelope->hidden);
    mem_free(envelope);
}

/* ---- levels a ceiling is booked to ---- */

static bool level_has_conditioned(const Plan *plan, int level)
{
    for (int i = 0; i < plan->space_count; i++) {
        if (plan->spaces[i].level == level && plan->spaces[i].kind == SPACE_CONDITIONED) {
            return true;
        }
    }
    return false;
}

/* The highest level that has a conditioned space and at least half of whose height lies below a
 * ceiling; own when there is none. */
static int level_under(const Plan *plan, const bool *conditioned, int own, int32_t ceiling)
{
    int best = -1;
    for (int i = 0; i < plan->level_count; i++) {
        const PlanLevel *level = &plan->levels[i];
        if (conditioned[i] && 2 * ((int64_t)ceiling - level->floor) >= level->height &&
            (best < 0 || level->floor > plan->levels[best].floor)) {
            best = i;
        }
    }
    return best < 0 ? own : best;
}

static Status find_heights(const Plan *plan, Derivation *derivation)
{
    size_t count = (size_t)plan->space_count + 1;
    bool *conditioned = mem_alloc((size_t)plan->level_count + 1, sizeof *conditioned);
    derivation->floor = mem_alloc(count, sizeof *derivation->floor);
    derivation->ceiling = mem_alloc(count, sizeof *derivation->ceiling);
    derivation->booked = mem_alloc(count, sizeof *derivation->booked);
    derivation->seen_area = mem_alloc(count, sizeof *derivation->seen_area);
    if (!conditioned || !derivation->floor || !derivation->ceiling || !derivation->booked ||
        !derivation->seen_area) {
        mem_free(conditioned);
        return STATUS_MEMORY;
    }
    for (int i = 0; i < plan->level_count; i++) {
        conditioned[i] = level_has_conditioned(plan, i);
    }
    for (int i = 0; i < plan->space_count; i++) {
        const PlanSpace *space = &plan->spaces[i];
        const PlanLevel *level = &plan->levels[space->level];
        derivation->floor[i] = plan_space_floor(plan, i);
        derivation->ceiling[i] = plan_space_ceiling(plan, i);
        int64_t top = (int64_t)level->floor + level->height + level->structure;
        bool over = space->kind == SPACE_CONDITIONED &&
                    derivation->ceiling[i] - top > ENVELOPE_IGNORED_TICKS;
        derivation->booked[i] =
            over ? level_under(plan, conditioned, space->level, derivation->ceiling[i])
                 : space->level;
    }
    mem_free(conditioned);
    return STATUS_OK;
}

/* ---- what the edges need ---- */

static Status find_holds(const Envelope *envelope, Derivation *derivation)
{
    const Plan *plan = envelope->plan;
    size_t most =
        (size_t)(plan->edge_count > plan->seal_count ? plan->edge_count : plan->seal_count) + 1;
    Stretch *stretches = mem_alloc(most, sizeof *stretches);
    if (!stretches) {
        return STATUS_MEMORY;
    }
    for (int i = 0; i < plan->edge_count; i++) {
        stretches[i] = (Stretch){plan->edges[i].from, plan->edges[i].to};
    }
    Status status = along_holds(envelope->overlay, stretches, plan->edge_count, &derivation->marks);
    if (status == STATUS_OK) {
        for (int i = 0; i < plan->seal_count; i++) {
            stretches[i] = (Stretch){plan->seals[i].from, plan->seals[i].to};
        }
        status = along_holds(envelope->overlay, stretches, plan->seal_count, &derivation->seals);
    }
    mem_free(stretches);
    return status;
}

static Status find_pairs(const Envelope *envelope, Derivation *derivation)
{
    const GeomOverlay *overlay = envelope->overlay;
    derivation->edge_pair =
        mem_alloc((size_t)overlay->edge_count + 1, sizeof *derivation->edge_pair);
    if (!derivation->edge_pair) {
        return STATUS_MEMORY;
    }
    for (int i = 0; i < overlay->edge_count; i++) {
        const GeomEdge *edge = &overlay->edges[i];
        const PairRules *pair = rules_for(envelope, derivation, overlay->faces[edge->left].cover,
                                          overlay->faces[edge->right].cover);
        if (!pair) {
            return STATUS_MEMORY;
        }
        derivation->edge_pair[i] = (int)(pair - derivation->book.pairs);
    }
    return STATUS_OK;
}

static Status derive(Envelope *envelope, Derivation *derivation, Fault *fault)
{
    const Plan *plan = envelope->plan;
    derivation->plan = plan;
    derivation->grade = plan_grade(plan);
    Status status = find_heights(plan, derivation);
    status = status == STATUS_OK ? marks_overlay(plan, &envelope->overlay, fault) : status;
    status = status == STATUS_OK ? columns_make(envelope, derivation, fault) : status;
    status = status == STATUS_OK ? find_holds(envelope, derivation) : status;
    status = status == STATUS_OK ? find_pairs(envelope, derivation) : status;
    status = status == STATUS_OK ? surface_make(envelope, derivation) : status;
    status = status == STATUS_OK ? pieces_make(envelope, derivation) : status;
    status = status == STATUS_OK ? holes_place(envelope, derivation) : status;
    status = status == STATUS_OK ? notes_make(envelope, derivation) : status;
    return status == STATUS_OK ? totals_joints_and_holes(envelope) : status;
}

Status envelope_make(const Plan *plan, Envelope **envelope, Fault *fault)
{
    *envelope = NULL;
    fault_clear(fault);
    Envelope *made = mem_alloc(1, sizeof *made);
    Derivation *derivation = mem_alloc(1, sizeof *derivation);
    Status status = STATUS_MEMORY;
    if (made && derivation) {
        made->plan = plan;
        made->hidden = derivation;
        derivation = NULL;
        status = derive(made, made->hidden, fault);
    }
    mem_free(derivation);
    if (status != STATUS_OK) {
        envelope_free(made);
        if (status == STATUS_MEMORY) {
            fault_set(fault, status, "there is not enough memory to derive the plan");
        }
        return status;
    }
    *envelope = made;
    return STATUS_OK;
}

/* ---- questions of the screens ---- */

const Column *envelope_column_at(const Envelope *envelope, GeomPoint point)
{
    int face = geom_overlay_face_at(envelope->overlay, point);
    return &envelope->columns[envelope->overlay->faces[face].cover];
}

int envelope_space_on(const Envelope *envelope, int level, int face)
{
    return cover_shows(envelope, envelope->overlay->faces[face].cover, level);
}
