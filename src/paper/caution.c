#include "paper/caution.h"

#include <string.h>

const char caution_standing[] =
    "This set records observations and reminders. It is no permit, approval, fire or structural "
    "design. The adopted code and its local amendments, the building official, product labels and "
    "listings, licensed trades and engineers decide; where this set and any of them disagree, "
    "follow "
    "them.";

/* What there is in a plan that someone can be hurt by. */
typedef enum Hazard {
    HAZARD_COMBUSTION,
    HAZARD_HOT,
    HAZARD_RATED,
    HAZARD_GAS,
    HAZARD_CIRCUITS,
    HAZARD_ATTIC,
    HAZARD_VENT,
    HAZARD_SPRINKLER,
    HAZARD_FALL,
    HAZARD_BORING,
    HAZARD_FOAM,
    HAZARD_TIGHT,
    HAZARD_COUNT
} Hazard;

static const struct {
    const char *text;
    bool attic; /* also for work on the attic side */
} cautions[HAZARD_COUNT] = {
    [HAZARD_COMBUSTION] =
        {"Fuel-burning appliances that take room air: test draft, spillage and CO "
         "before and after tightening. Leave combustion-air openings open.",
         false},
    [HAZARD_HOT] =
        {"Hot vents: clearance as the label says, sheet metal and heat-rated sealant. No "
         "foam, no ordinary caulk, a shield against insulation.",
         true},
    [HAZARD_RATED] = {"Garage and rated walls and ceilings: listed systems only, as the local code "
                      "says.",
                      true},
    [HAZARD_GAS] =
        {"Smell of gas: leave and call, seal nothing. Gas lines are for licensed fitters.", false},
    [HAZARD_CIRCUITS] = {"Circuits off and proved dead; changes by a licensed electrician. Nothing "
                         "filled into boxes or panels.",
                         true},
    [HAZARD_ATTIC] =
        {"In the attic step on framing or planks only. In old houses pebble-like loose "
         "fill may hold asbestos and knob-and-tube wiring may be live: leave them alone "
         "and ask.",
         true},
    [HAZARD_VENT] = {"Never cap a radon or plumbing vent.", true},
    [HAZARD_SPRINKLER] = {"No sealant on sprinkler heads or their cover plates.", true},
    [HAZARD_FALL] = {"Open chases and shafts: someone can fall through. Cover or guard them.",
                     true},
    [HAZARD_BORING] = {"A mark on a plan is no leave to bore or notch framing.", false},
    [HAZARD_FOAM] =
        {"Foam: gloves, goggles and breathing protection as its data sheet says, others "
         "out of the room.",
         true},
    [HAZARD_TIGHT] = {"A tighter house needs planned ventilation. Seal nothing over leaks, wet or "
                      "mouldy material.",
                      false},
};

static bool is_any(const char *word, const char *const *words)
{
    for (int i = 0; words[i] != NULL; i++)
        if (strcmp(word, words[i]) == 0)
            return true;
    return false;
}

static void hazards_of_kind(const CatalogKind *kind, bool found[HAZARD_COUNT])
{
    static const char *const vents[] = {"plumbing_vent", "radon_vent", NULL};
    static const char *const bored[] = {"wire_hole", "pipe_hole", "plumbing_vent", "line_set",
                                        NULL};
    static const char *const falls[] = {"chase", "skylight_shaft", NULL};
    found[HAZARD_HOT] = found[HAZARD_HOT] || kind->hot;
    found[HAZARD_GAS] = found[HAZARD_GAS] || strcmp(kind->word, "gas_line") == 0;
    found[HAZARD_VENT] = found[HAZARD_VENT] || is_any(kind->word, vents);
    found[HAZARD_SPRINKLER] = found[HAZARD_SPRINKLER] || strcmp(kind->word, "sprinkler") == 0;
    found[HAZARD_FALL] = found[HAZARD_FALL] || is_any(kind->word, falls);
    found[HAZARD_BORING] = found[HAZARD_BORING] || is_any(kind->word, bored);
}

static void hazards_of_method(const CatalogMethod *method, bool found[HAZARD_COUNT])
{
    static const char *const foams[] = {"foam", "sprayed", NULL};
    found[HAZARD_FOAM] = found[HAZARD_FOAM] || is_any(method->word, foams);
}

static void hazards_of_spaces(const Plan *plan, bool found[HAZARD_COUNT])
{
    for (int i = 0; i < plan->space_count; i++) {
        SpaceKind kind = plan->spaces[i].kind;
        if (kind == SPACE_GARAGE || kind == SPACE_OTHER_DWELLING)
            found[HAZARD_RATED] = true;
        if (kind == SPACE_VENTED_ATTIC || kind == SPACE_UNVENTED_ATTIC)
            found[HAZARD_ATTIC] = true;
        if (kind == SPACE_SHAFT)
            found[HAZARD_FALL] = true;
    }
    for (int i = 0; i < plan->edge_count; i++)
        found[HAZARD_RATED] = found[HAZARD_RATED] || plan->edges[i].rated;
}

/* The lid may be given without the attic over it: what is above is then outdoors or an attic not
 * drawn, and both are walked on framing. */
static void hazards_of_house(const Envelope *envelope, bool found[HAZARD_COUNT])
{
    const PlanSettings *settings = &envelope->plan->settings;
    found[HAZARD_COMBUSTION] = settings->combustion_uses_room_air != 0;
    found[HAZARD_TIGHT] = settings->mechanical_ventilation != 1;
    found[HAZARD_ATTIC] = found[HAZARD_ATTIC] || envelope->totals.lid_total_mm > 0.0;
}

static void hazards_find(const Envelope *envelope, bool found[HAZARD_COUNT])
{
    const Plan *plan = envelope->plan;
    const Catalog *catalog = plan->catalog;
    hazards_of_spaces(plan, found);
    hazards_of_house(envelope, found);
    for (int i = 0; i < plan->penetration_count; i++) {
        const PlanPenetration *hole = &plan->penetrations[i];
        char letter = catalog->trades[catalog->kinds[hole->kind].trade].letter;
        hazards_of_kind(&catalog->kinds[hole->kind], found);
        hazards_of_method(&catalog->methods[hole->method], found);
        found[HAZARD_CIRCUITS] = found[HAZARD_CIRCUITS] || letter == 'E' || letter == 'L';
    }
    for (int i = 0; i < plan->seal_count; i++)
        hazards_of_method(&catalog->methods[plan->seals[i].method], found);
}

int cautions_for(const Envelope *envelope, bool attic_only, const char *texts[CAUTIONS_MAX])
{
    bool found[HAZARD_COUNT] = {false};
    hazards_find(envelope, found);
    int count = 0;
    for (int i = 0; i < HAZARD_COUNT; i++)
        if (found[i] && (cautions[i].attic || !attic_only))
            texts[count++] = cautions[i].text;
    return count;
}
