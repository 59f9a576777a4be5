/* The words of the model: as the file stores them and as people read them. */
#include <string.h>

#include "plan/fields.h"

static const char *const SPACE_WORDS[SPACE_KIND_COUNT] = {
    "conditioned",
    "unvented_attic",
    "unvented_crawlspace",
    "vented_attic",
    "garage",
    "vented_crawlspace",
    "unconditioned_basement",
    "porch",
    "shaft",
    "other_dwelling",
    "buffer",
    "outdoors",
    "void",
};

static const char *const SPACE_SHOWN[SPACE_KIND_COUNT] = {
    "Conditioned",
    "Unvented attic",
    "Unvented crawlspace",
    "Vented attic",
    "Garage",
    "Vented crawlspace",
    "Unconditioned basement",
    "Porch",
    "Shaft",
    "Other dwelling",
    "Buffer",
    "Outdoors",
    "Void",
};

static const char *const JOINT_WORDS[JOINT_CLASS_COUNT] = {
    "top_plate",    "sill",      "interior_top_plate", "stud_bays",
    "bottom_plate", "step_bays", "joist_bays",         "rim",
};

static const char *const STATE_WORDS[STATE_COUNT] = {"planned", "done", "failed", "absent"};
static const char *const EVIDENCE_WORDS[EVIDENCE_COUNT] = {"none", "declared", "observed", "tested",
                                                           "not_observable"};
static const char *const PLANE_WORDS[PLANE_COUNT] = {"ceiling", "wall", "floor"};
static const char *const SIDE_WORDS[SIDE_COUNT] = {"both", "left", "right"};
static const char *const UNIT_WORDS[] = {"ft-in", "metric"};
static const char *const GROUND_WORDS[] = {"", "slab", "crawlspace", "basement"};
static const char *const LINES_WORDS[] = {"inside", "outside"};
static const char *const AIR_BARRIER_WORDS[] = {"lining", "sheathing"};
static const char *const EDGE_WORDS[] = {"open", "wall"};
static const char *const DIRECTION_WORDS[] = {"depressurize", "pressurize"};
static const char *const TARGET_WORDS[] = {"", "ach50", "flow_per_enclosure", "air_permeability"};
static const char *const VOLUME_WORDS[] = {"rooms", "rooms_and_floors", "own"};

#define LISTED(what_it_is, words)                                    \
    {                                                                \
        .what = (what_it_is), .from = WORDS_LISTED, .list = (words), \
        .count = (int)(sizeof(words) / sizeof((words)[0]))           \
    }

const PlanWords plan_words_space_kind = LISTED("kind of space", SPACE_WORDS);
const PlanWords plan_words_joint = LISTED("joint", JOINT_WORDS);
const PlanWords plan_words_state = LISTED("state", STATE_WORDS);
const PlanWords plan_words_evidence = LISTED("evidence", EVIDENCE_WORDS);
const PlanWords plan_words_plane = LISTED("plane", PLANE_WORDS);
const PlanWords plan_words_side = LISTED("side", SIDE_WORDS);
const PlanWords plan_words_units = LISTED("unit of display", UNIT_WORDS);
const PlanWords plan_words_ground = LISTED("way to meet the ground", GROUND_WORDS);
const PlanWords plan_words_lines_at = LISTED("face for lines", LINES_WORDS);
const PlanWords plan_words_outside_walls =
    LISTED("air barrier of outside walls", AIR_BARRIER_WORDS);
const PlanWords plan_words_edge = LISTED("edge mark", EDGE_WORDS);
const PlanWords plan_words_direction = LISTED("direction of a fan test", DIRECTION_WORDS);
const PlanWords plan_words_target = LISTED("kind of target", TARGET_WORDS);
const PlanWords plan_words_volume = LISTED("volume", VOLUME_WORDS);
const PlanWords plan_words_hole_kind = {.what = "kind of penetration", .from = WORDS_KINDS};
const PlanWords plan_words_method = {.what = "method of sealing", .from = WORDS_METHODS};
const PlanWords plan_words_trade = {.what = "trade", .from = WORDS_TRADES};
const PlanWords plan_words_stage = {.what = "stage", .from = WORDS_STAGES};

int plan_words_count(const PlanWords *words, const Catalog *catalog)
{
    switch (words->from) {
    case WORDS_LISTED:
        return words->count;
    case WORDS_KINDS:
        return catalog->kind_count;
    case WORDS_METHODS:
        return catalog->method_count;
    case WORDS_TRADES:
        return catalog->trade_count;
    case WORDS_STAGES:
        return catalog->stage_count;
    }
    return 0;
}

const char *plan_words_at(const PlanWords *words, const Catalog *catalog, int index)
{
    switch (words->from) {
    case WORDS_LISTED:
        return words->list[index];
    case WORDS_KINDS:
        return catalog->kinds[index].word;
    case WORDS_METHODS:
        return catalog->methods[index].word;
    case WORDS_TRADES:
        return catalog->trades[index].word;
    case WORDS_STAGES:
        return catalog->stages[index].word;
    }
    return "";
}

int plan_words_find(const PlanWords *words, const Catalog *catalog, const char *word)
{
    int count = plan_words_count(words, catalog);
    if (word[0] == '\0')
        return -1;
    for (int i = 0; i < count; i++) {
        if (strcmp(plan_words_at(words, catalog, i), word) == 0)
            return i;
    }
    return -1;
}

/* A word of a list, "" for a value that is none of its enumeration. */
static const char *word_of(const PlanWords *words, int value)
{
    return value >= 0 && value < words->count ? words->list[value] : "";
}

bool space_kind_inside(SpaceKind kind)
{
    return kind == SPACE_CONDITIONED || kind == SPACE_UNVENTED_ATTIC ||
           kind == SPACE_UNVENTED_CRAWLSPACE;
}

const char *space_kind_word(SpaceKind kind)
{
    return word_of(&plan_words_space_kind, (int)kind);
}

const char *space_kind_shown(SpaceKind kind)
{
    return (int)kind >= 0 && kind < SPACE_KIND_COUNT ? SPACE_SHOWN[kind] : "";
}

int space_kind_from_word(const char *word)
{
    return plan_words_find(&plan_words_space_kind, NULL, word);
}

const char *joint_class_word(JointClass joint)
{
    return word_of(&plan_words_joint, (int)joint);
}

int joint_class_from_word(const char *word)
{
    return plan_words_find(&plan_words_joint, NULL, word);
}

bool joint_class_is_bay(JointClass joint)
{
    return joint == JOINT_STUD_BAYS || joint == JOINT_STEP_BAYS || joint == JOINT_JOIST_BAYS;
}

const char *plan_state_word(PlanState state)
{
    return word_of(&plan_words_state, (int)state);
}

const char *plan_evidence_word(PlanEvidence evidence)
{
    return word_of(&plan_words_evidence, (int)evidence);
}

const char *plan_plane_word(PlanPlane plane)
{
    return word_of(&plan_words_plane, (int)plane);
}

const char *plan_side_word(PlanSide side)
{
    return word_of(&plan_words_side, (int)side);
}

ShownState plan_shown_state(int method, PlanState state, PlanEvidence evidence)
{
    if (state == STATE_FAILED)
        return SHOWN_FAILED;
    if (state == STATE_ABSENT)
        return SHOWN_ABSENT;
    if (method == CATALOG_METHOD_NONE)
        return SHOWN_NO_SEAL;
    if (state == STATE_PLANNED)
        return SHOWN_PLANNED;
    if (evidence == EVIDENCE_OBSERVED || evidence == EVIDENCE_TESTED)
        return SHOWN_SEEN;
    return evidence == EVIDENCE_NOT_OBSERVABLE ? SHOWN_COVERED : SHOWN_TOLD;
}

const char *shown_state_text(ShownState shown)
{
    static const char *const texts[SHOWN_STATE_COUNT] = {
        [SHOWN_NO_SEAL] = "no seal chosen", [SHOWN_PLANNED] = "planned", [SHOWN_FAILED] = "failed",
        [SHOWN_TOLD] = "told done",         [SHOWN_COVERED] = "covered", [SHOWN_SEEN] = "seen",
        [SHOWN_ABSENT] = "not there",
    };
    return (int)shown >= 0 && shown < SHOWN_STATE_COUNT ? texts[shown] : "";
}
