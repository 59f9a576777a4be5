/* plan: the house as drawn and marked.
 *
 * Levels, spaces, edge marks, seals, penetrations and what goes with them; the catalog of kinds,
 * joints, methods, stages and trades; every change as one kind of command with its inverse; the plan
 * file. Everything else in the program is computed from a Plan anew and never written back into it.
 *
 * Units: heights and coordinates in ticks (geom.h), read from the file's millimetres; gaps, sizes,
 * areas and volumes in millimetres, mm2 and mm3 as the file has them; degrees C, metres of altitude.
 * "Not given" is PLAN_UNSET for ticks, NAN for doubles, -1 for int and for the three-valued bools,
 * "" for texts. */
#ifndef LIDMARK_PLAN_H
#define LIDMARK_PLAN_H

#include "lidmark/base.h"
#include "lidmark/geom.h"

struct json_t; /* jansson's value; only src/plan and src/findings look inside */

#define PLAN_UNSET INT32_MIN

/* ---- words ----------------------------------------------------------------------------------- */

typedef enum SpaceKind { /* stored by these words in lower case; the order is the program's own */
    SPACE_CONDITIONED,
    SPACE_UNVENTED_ATTIC,
    SPACE_UNVENTED_CRAWLSPACE, /* the three above are inside the boundary */
    SPACE_VENTED_ATTIC,
    SPACE_GARAGE,
    SPACE_VENTED_CRAWLSPACE,
    SPACE_UNCONDITIONED_BASEMENT,
    SPACE_PORCH,
    SPACE_SHAFT,
    SPACE_OTHER_DWELLING,
    SPACE_BUFFER,
    SPACE_OUTDOORS,
    SPACE_VOID,
    SPACE_KIND_COUNT
} SpaceKind;

/* True for the kinds inside the boundary. */
bool space_kind_inside(SpaceKind kind);
/* "vented_attic" as stored; "Vented attic" as shown. Never NULL. */
const char *space_kind_word(SpaceKind kind);
const char *space_kind_shown(SpaceKind kind);
/* -1 when there is no such word. */
int space_kind_from_word(const char *word);

typedef enum JointClass {
    JOINT_TOP_PLATE,
    JOINT_SILL,
    JOINT_INTERIOR_TOP_PLATE,
    JOINT_STUD_BAYS,
    JOINT_BOTTOM_PLATE,
    JOINT_STEP_BAYS,
    JOINT_JOIST_BAYS,
    JOINT_RIM,
    JOINT_CLASS_COUNT
} JointClass;

const char *joint_class_word(JointClass joint);
int joint_class_from_word(const char *word);
/* True for stud_bays, step_bays, joist_bays: deep open bays, not cracks. */
bool joint_class_is_bay(JointClass joint);

typedef enum PlanState { STATE_PLANNED, STATE_DONE, STATE_FAILED, STATE_ABSENT, STATE_COUNT } PlanState;
typedef enum PlanEvidence {
    EVIDENCE_NONE,
    EVIDENCE_DECLARED,
    EVIDENCE_OBSERVED,
    EVIDENCE_TESTED,
    EVIDENCE_NOT_OBSERVABLE,
    EVIDENCE_COUNT
} PlanEvidence;
typedef enum PlanPlane { PLANE_CEILING, PLANE_WALL, PLANE_FLOOR, PLANE_COUNT } PlanPlane;
typedef enum PlanSide { SIDE_BOTH, SIDE_LEFT, SIDE_RIGHT, SIDE_COUNT } PlanSide;

const char *plan_state_word(PlanState state);
const char *plan_evidence_word(PlanEvidence evidence);
const char *plan_plane_word(PlanPlane plane);
const char *plan_side_word(PlanSide side);

/* The six plain words a state is shown as (design section 2), in the order of the drawing language,
 * and a seventh for things that are not there after all. */
typedef enum ShownState {
    SHOWN_NO_SEAL,
    SHOWN_PLANNED,
    SHOWN_FAILED,
    SHOWN_TOLD,
    SHOWN_COVERED,
    SHOWN_SEEN,
    SHOWN_ABSENT,
    SHOWN_STATE_COUNT
} ShownState;
/* method: index in the catalog, CATALOG_METHOD_NONE = 0 is "none". failed and absent come first, then
 * no method chosen, then planned, then by evidence: observed or tested is seen, not_observable is
 * covered, anything else done is told. */
ShownState plan_shown_state(int method, PlanState state, PlanEvidence evidence);
/* "no seal chosen", "planned", "failed", "told done", "covered", "seen", "not there". */
const char *shown_state_text(ShownState shown);

/* ---- the catalog ----------------------------------------------------------------------------- */

enum { CATALOG_METHOD_NONE = 0, CATALOG_ALLOWED_MAX = 8 };

/* How much is known about a number (reference marks): shown wherever the number is. */
typedef enum EvidenceMark {
    MARK_VERIFIED,         /* seen in the source named */
    MARK_VERIFIED_SECOND,  /* seen in a page that reprints it */
    MARK_MEMORY,           /* from memory, not yet checked */
    MARK_DERIVED,          /* computed from a formula */
    MARK_COMMON_PRACTICE,  /* trade habit, no source */
    MARK_ASSUMED,          /* the program's own assumption */
    MARK_COUNT
} EvidenceMark;
const char *evidence_mark_text(EvidenceMark mark); /* "from memory", ... */

/* What a leakage rate is for. */
typedef enum LeakPer { LEAK_PER_EACH, LEAK_PER_M, LEAK_PER_M_PERIMETER, LEAK_PER_M2, LEAK_PER_COUNT } LeakPer;

/* A published leakage rate: effective leakage area (4 Pa, Cd 1) in cm2 per unit. */
typedef struct LeakRow {
    bool given;
    LeakPer per;
    double best, low, high; /* cm2; low or high NAN when the source has none */
    double exponent;        /* 0.65 unless the row says otherwise */
    EvidenceMark mark;
    const char *source;
} LeakRow;

typedef struct CatalogTrade {
    const char *word, *shown;
    char letter; /* of the tag */
} CatalogTrade;

typedef struct CatalogStage {
    const char *word, *shown;
} CatalogStage;

typedef struct CatalogMethod {
    const char *word, *shown;
    char plate;           /* letter in the plate of a run: G S F T B R ...; '?' for none */
    bool heat;            /* may stand at a hot vent: metal and heat-rated sealant */
    const char *material; /* what is bought for it, "" for none */
} CatalogMethod;

/* A row of the inspection checklist. */
typedef struct CatalogCheck {
    const char *word, *shown; /* "R11", "Recessed lights" */
} CatalogCheck;

/* How a kind's hole is measured. */
typedef enum CatalogMeasure {
    MEASURE_GAP,     /* gap x perimeter of the size (one number: a diameter) */
    MEASURE_OPENING, /* the whole size */
    MEASURE_LENGTH,  /* gap x the size, which is a length */
    MEASURE_AREA,    /* the size is an area of leaky surface; no hole of its own */
    MEASURE_EACH,    /* no size */
    MEASURE_COUNT
} CatalogMeasure;

typedef struct CatalogKind {
    const char *word, *shown, *symbol; /* symbol: name known to src/draw/symbol.c */
    PlanPlane plane;
    bool opening;     /* the whole size is the hole */
    bool hot;         /* a hot vent: metal and heat-rated sealant only */
    CatalogMeasure measure;
    int size_count;   /* 1: a diameter or a length; 2: a rectangle; 0: MEASURE_EACH has none */
    double size_mm[2];
    double gap_mm;         /* 0 where the measure needs none */
    double above_floor_mm; /* default height of a wall mark; 0 for other planes */
    const char *size_source, *gap_source, *above_source; /* "" where there is no number */
    EvidenceMark size_mark, gap_mark, above_mark;
    LeakRow open, sealed; /* sealed: given false when there is none */
    LeakRow airtight_label, cover_box; /* rows a fact or a method picks; given false when none */
    int trade, make_at, too_late_after; /* indices */
    int allowed[CATALOG_ALLOWED_MAX], allowed_count; /* methods */
    int usual_method;
    int check;                 /* index of its checklist row */
    const char *checklist_row; /* that row's word, "R11" ... */
    const char *caution;       /* "" when there is none */
} CatalogKind;

typedef struct CatalogJoint {
    const char *shown;
    double gap_mm; /* usual gap; 0 for bays, which have the depth of the bay */
    const char *gap_source; /* "" for bays */
    EvidenceMark gap_mark;
    LeakRow open, sealed; /* per metre */
    int trade, make_at, too_late_after;
    int allowed[CATALOG_ALLOWED_MAX], allowed_count;
    int usual_method;
    int check;
    const char *checklist_row, *caution;
} CatalogJoint;

typedef enum TargetKind {
    TARGET_NONE,
    TARGET_ACH50,              /* air changes an hour at 50 Pa */
    TARGET_FLOW_PER_ENCLOSURE, /* m3/(h m2) of enclosure at 50 Pa, as is the next */
    TARGET_AIR_PERMEABILITY
} TargetKind;

/* A leakage limit that a plan's target may be taken from (target.preset). */
typedef struct CatalogTarget {
    const char *word, *shown, *edition;
    const char *zones; /* climate zones, "" where it does not go by them */
    TargetKind kind;
    double value; /* in the unit of its kind */
    EvidenceMark mark;
    const char *source;
} CatalogTarget;

/* Immutable once loaded; texts live as long as it. */
typedef struct Catalog {
    const char *edition; /* the catalog file's own name and date */
    CatalogTrade *trades;
    CatalogStage *stages;
    CatalogMethod *methods; /* [0] is none */
    CatalogCheck *checks;
    CatalogKind *kinds;
    CatalogJoint joints[JOINT_CLASS_COUNT];
    CatalogTarget *targets;
    int trade_count, stage_count, method_count, check_count, kind_count, target_count;
    void *hidden;
} Catalog;

/* The catalog built into the program (assets/catalog.json). NULL without memory. */
Catalog *catalog_built_in(Fault *fault);
/* A catalog file of the user's, in the form of assets/catalog.json, in place of the built-in one. */
Status catalog_load(const char *path, Catalog **catalog, Fault *fault);
Status catalog_read(const char *bytes, size_t length, const char *name, Catalog **catalog, Fault *fault);
void catalog_free(Catalog *catalog);
/* Indices by stored word; -1 when there is none. */
int catalog_kind(const Catalog *catalog, const char *word);
int catalog_method(const Catalog *catalog, const char *word);
int catalog_trade(const Catalog *catalog, const char *word);
int catalog_stage(const Catalog *catalog, const char *word);
int catalog_target(const Catalog *catalog, const char *word);

/* ---- the plan -------------------------------------------------------------------------------- */

/* Every record keeps in extra the keys of its JSON object that the program does not know (NULL when
 * there are none), so that they survive a load and save. Texts and arrays are owned by the record and
 * taken with mem_alloc or text_copy; a text is never NULL. Values in extra are shared between copies
 * of a record and must never be changed in place: to change one, put a changed copy in its place. */

typedef struct PlanLevel {
    char *id, *name;
    int32_t floor, height, structure; /* ticks; structure default 300 mm */
    bool on_ground;
    bool sheathing; /* outside_walls: the sheathing is the air barrier */
    double studs_mm, joist_spacing_mm;
    struct json_t *extra;
} PlanLevel;

typedef struct PlanSpace {
    char *id, *name;
    int level; /* index in Plan.levels */
    SpaceKind kind;
    GeomPoint *outline;
    int outline_count;
    int32_t floor, height; /* PLAN_UNSET: the level's; see plan_space_floor, plan_space_ceiling */
    int8_t on_ground;      /* -1: the level's */
    double volume_mm3, vent_area_mm2, temperature_c;
    char *shares_air;
    struct json_t *extra;
} PlanSpace;

typedef struct PlanEdge {
    char *id;
    int level;
    GeomPoint from, to;
    bool wall;  /* is: wall; else open */
    bool rated; /* fire-resistance-rated */
    struct json_t *extra;
} PlanEdge;

typedef struct PlanSeal {
    char *id, *tag;
    int level;
    JointClass joint;
    GeomPoint from, to;
    PlanSide side;
    int method;
    double gap_mm; /* NAN: the default */
    bool measured;
    double ela4_mm2, exponent;
    PlanState state;
    PlanEvidence evidence;
    char *told_by, *told_on, *covered_on;
    int trade, stage; /* -1: none */
    struct json_t *extra;
} PlanSeal;

enum { PLAN_SIZE_MAX = 2 };

typedef struct PlanPenetration {
    char *id, *tag;
    int level, kind; /* kind: index in the catalog */
    PlanPlane plane;
    GeomPoint at;
    int32_t above_floor; /* ticks or PLAN_UNSET */
    double size_mm[PLAN_SIZE_MAX];
    int size_count; /* 0: none given */
    double gap_mm, area_mm2, ela4_mm2, exponent;
    bool measured;
    int count;
    int method;
    PlanState state;
    PlanEvidence evidence;
    char *told_by, *told_on, *covered_on;
    int trade, stage;
    int8_t ic_rated, airtight_label; /* facts */
    char *note;
    struct json_t *facts_extra; /* facts the program does not know */
    struct json_t *extra;       /* photos among them */
} PlanPenetration;

typedef struct PlanLink { /* air_links */
    char *from, *to;
    double area_mm2;
    struct json_t *extra;
} PlanLink;

typedef struct PlanFan {
    char *id, *to;
    int space; /* index */
    double q_l_s;
    bool on;
    struct json_t *extra;
} PlanFan;

typedef struct PlanReading {
    double pa, q_m3_h;
    char *label;
    struct json_t *extra; /* "covered" among them */
} PlanReading;

typedef struct PlanZoneReading {
    char *node;
    double house_to_zone_pa;
    struct json_t *extra;
} PlanZoneReading;

typedef struct PlanFanTest {
    char *id, *date, *tester, *instrument, *calibrated;
    bool pressurize;
    double *baseline_pa;
    int baseline_count;
    double indoor_c, outdoor_c, altitude_m, exponent;
    PlanReading *readings;
    int reading_count;
    PlanZoneReading *zones;
    int zone_count;
    struct json_t *extra;
} PlanFanTest;

typedef enum VolumeBasis { VOLUME_ROOMS, VOLUME_ROOMS_AND_FLOORS, VOLUME_OWN } VolumeBasis;
typedef enum GroundKind { GROUND_UNSAID, GROUND_SLAB, GROUND_CRAWLSPACE, GROUND_BASEMENT } GroundKind;

/* Limits of what a plan file may hold as settings. */
#define PLAN_CELSIUS_MOST   60.0 /* and as far below */
#define PLAN_ALTITUDE_LEAST (-500.0)
#define PLAN_ALTITUDE_MOST  6000.0
#define PLAN_FLOW_MOST      1e9    /* of a target's value */
#define PLAN_VOLUME_MOST    2.4e21 /* mm3 */
#define PLAN_COUNT_MOST     1000000

/* All that a plan has once. */
typedef struct PlanSettings {
    char *name;
    GeomUnits units; /* display_units */
    char *address, *lot, *permit, *builder, *drawn_by, *checked_by, *revision, *edition, *climate_zone;
    GroundKind ground;
    bool lines_outside; /* house.lines_at is outside */
    double outer_wall_mm, inner_wall_mm;
    int8_t combustion_uses_room_air, mechanical_ventilation;
    int bedrooms;
    int32_t grade; /* ticks; PLAN_UNSET: 500 mm below the datum, see plan_grade */
    double north_deg, indoor_c, outdoor_c, altitude_m;
    TargetKind target;
    double target_value;
    VolumeBasis volume;
    double own_volume_mm3;
    char *target_preset, *target_checked_by, *target_checked_on;
    struct json_t *job_extra, *house_extra, *site_extra, *target_extra;
    struct json_t *rest; /* stages, trades, notes, tracings, visits, tags_given and unknown keys of
                            the file's top object, as they were read */
} PlanSettings;

typedef struct Plan {
    const Catalog *catalog; /* borrowed; outlives the plan */
    PlanSettings settings;
    PlanLevel *levels;
    PlanSpace *spaces;
    PlanEdge *edges;
    PlanSeal *seals;
    PlanPenetration *penetrations;
    PlanLink *links;
    PlanFan *fans;
    PlanFanTest *fan_tests;
    int level_count, space_count, edge_count, seal_count, penetration_count, link_count, fan_count,
        fan_test_count;
    Random *ids; /* where new ids come from; seeded by the system */
} Plan;

/* Floor and ceiling of a space (its own or its level's): a space with a floor of its own and no
 * height of its own keeps its level's ceiling. Ticks above the datum. */
int32_t plan_space_floor(const Plan *plan, int space);
int32_t plan_space_ceiling(const Plan *plan, int space);
bool plan_space_on_ground(const Plan *plan, int space);
/* Site grade in ticks. */
int32_t plan_grade(const Plan *plan);
/* Index by id; -1 when there is none. */
int plan_level_by_id(const Plan *plan, const char *id);
int plan_space_by_id(const Plan *plan, const char *id);
int plan_seal_by_id(const Plan *plan, const char *id);
int plan_penetration_by_id(const Plan *plan, const char *id);

/* Hole area of one mark, all its holes together, mm2: area_mm2 if given; else the whole size x count
 * for openings; else gap x perimeter x count. Sizes and gap not given are the kind's usual ones. */
double plan_hole_area(const Plan *plan, const PlanPenetration *penetration);
/* Height of a wall mark above its floor in ticks: its own or its kind's default. */
int32_t plan_above_floor(const Plan *plan, const PlanPenetration *penetration);

/* Date of a stage ("2026-05-27"), "" when the plan has none. */
const char *plan_stage_date(const Plan *plan, int stage);
/* How many things a fan test's reading was taken with covered, and the id of one of them. */
int plan_reading_covered_count(const PlanReading *reading);
const char *plan_reading_covered(const PlanReading *reading, int index);

/* An empty plan of one level, for a house that meets the ground so. NULL without memory. */
Plan *plan_new(const Catalog *catalog, GroundKind ground, GeomUnits units);
Plan *plan_copy(const Plan *plan);
void plan_free(Plan *plan);
/* Lets new ids of this plan follow from seed, so that a replayed script gives the same file. */
void plan_seed_ids(Plan *plan, uint64_t seed);

/* ---- the plan file (docs/plan-file.md, docs/plan.schema.json) --------------------------------- */

/* What a person should know of a file that was read all the same: lengths that were no whole number
 * of ticks, and how many. */
typedef struct PlanReadNotes {
    int rounded;      /* lengths rounded to the nearest tick */
    char first[FAULT_PLACE_SIZE]; /* JSON pointer of the first */
} PlanReadNotes;

/* Reads a whole plan or nothing: on failure *plan is NULL and the fault has file (name), line and
 * column or JSON pointer, reason and advice. notes may be NULL. */
Status plan_read(const char *bytes, size_t length, const char *name, const Catalog *catalog,
                 Plan **plan, PlanReadNotes *notes, Fault *fault);
Status plan_load(const char *path, const Catalog *catalog, Plan **plan, PlanReadNotes *notes,
                 Fault *fault);
/* The plan as text; equal plans give equal bytes. */
Status plan_write(const Plan *plan, TextBuffer *text);
/* Saves whole or not at all (file_save). */
Status plan_save(const Plan *plan, const char *path, Fault *fault);

/* ---- changes --------------------------------------------------------------------------------- */

typedef enum PlanTable {
    PLAN_SETTINGS, /* one record */
    PLAN_LEVELS,
    PLAN_SPACES,
    PLAN_EDGES,
    PLAN_SEALS,
    PLAN_PENETRATIONS,
    PLAN_LINKS,
    PLAN_FANS,
    PLAN_FAN_TESTS,
    PLAN_TABLE_COUNT
} PlanTable;

/* A record of a table with everything it owns: PlanSettings, PlanLevel ... by table. */
typedef union PlanRecord {
    PlanSettings settings;
    PlanLevel level;
    PlanSpace space;
    PlanEdge edge;
    PlanSeal seal;
    PlanPenetration penetration;
    PlanLink link;
    PlanFan fan;
    PlanFanTest fan_test;
} PlanRecord;

int plan_table_count(const Plan *plan, PlanTable table);
/* The record at index as it stands in the plan (borrowed), NULL out of range. */
const void *plan_table_at(const Plan *plan, PlanTable table, int index);
/* A fresh record with usual values and, where the table has ids, a new random id. */
Status plan_record_new(const Plan *plan, PlanTable table, PlanRecord *record);
/* A deep copy of the record at index. */
Status plan_record_copy(const Plan *plan, PlanTable table, int index, PlanRecord *record);
void plan_record_free(PlanTable table, PlanRecord *record);

/* A plan being worked on: the plan, what was done to it, and what was undone. Every change goes
 * through here: a step is what one gesture of a person did, made of changes; each change puts,
 * replaces or takes away one record and knows the record before and after. Undo, redo, the journal
 * and merge are readers of the same steps. */
typedef struct PlanDoc PlanDoc;

/* Takes the plan over. NULL without memory (the plan is then freed). */
PlanDoc *doc_new(Plan *plan);
void doc_free(PlanDoc *doc);
const Plan *doc_plan(const PlanDoc *doc);
/* Who makes the steps from now on (a name; empty at first). */
Status doc_set_who(PlanDoc *doc, const char *who);

/* Starts a step; label says what it does in the words of the Undo button ("drew Closet"). */
Status doc_begin(PlanDoc *doc, const char *label);
/* The three changes. Records are taken over, also on failure: the record is left empty. A level that
 * is removed takes its spaces, marks, seals and penetrations with it, a space its fans (more changes of
 * the same step); indices that refer to what moved are kept right. STATUS_USAGE outside a step, for an
 * index that is not there and for putting in or removing settings; STATUS_BAD_INPUT for a record that
 * no plan file may hold (see plan_read) and for removing the last level. After a failure the plan is as
 * it was before the call, and the step goes on. */
Status doc_insert(PlanDoc *doc, PlanTable table, int index, PlanRecord *record);
Status doc_replace(PlanDoc *doc, PlanTable table, int index, PlanRecord *record);
Status doc_remove(PlanDoc *doc, PlanTable table, int index);
/* Ends the step; one without changes leaves no trace. */
void doc_commit(PlanDoc *doc);
/* Takes back what the unfinished step did. */
void doc_abort(PlanDoc *doc);

/* False when there is nothing to undo or redo. */
bool doc_undo(PlanDoc *doc);
bool doc_redo(PlanDoc *doc);
/* Label of what the next undo or redo would be, back steps further (0: the next), NULL when none. */
const char *doc_undo_label(const PlanDoc *doc, int back);
const char *doc_redo_label(const PlanDoc *doc, int back);
/* A number that every change raises, never used twice; equal numbers mean an equal plan. Undo gives
 * back the number of the state it returns to. */
uint64_t doc_revision(const PlanDoc *doc);

/* Steps as text, one JSON object a line, and back: the form of the journal and of the command fuzzer.
 * doc_step_write writes the step `back` steps ago with id, counter, time, who, label and every record
 * before and after; doc_step_apply does what a line says, as a step of its own, or fails without a
 * change when a record is bad or is not the one the step was made on. The lines {"undo": true} and
 * {"redo": true} undo and redo. */
Status doc_step_write(const PlanDoc *doc, int back, TextBuffer *text);
Status doc_step_apply(PlanDoc *doc, const char *line, size_t length, Fault *fault);

/* ---- compound changes (inside a step of the caller's) ------------------------------------------ */

/* All three fail as the changes above do.
 *
 * Gives the space another outline; edge marks and seals of its level that lie along its edges (within
 * 3 mm, within 1 in 30) move with them, and are cut where only a part of them does: the first part keeps
 * the id, the others follow it with its tag. With as many corners as before corner i becomes corner i;
 * else the corners before the first and after the last difference stay. Along an edge that only became
 * longer or shorter marks stay, but for their own ends at its corners. */
Status doc_reshape(PlanDoc *doc, int space, const GeomPoint *outline, int count);
/* Moves a space with the marks and seals of its level that lie within it or along its edges, and the
 * penetrations that are its own: those in it and in no space drawn over it, and those in its walls. */
Status doc_move_space(PlanDoc *doc, int space, int32_t dx, int32_t dy);
/* The next tag for a trade's letter ("35E"), never given before in this plan; buffer of 16. Records
 * it in the settings (a change of the step). */
Status doc_next_tag(PlanDoc *doc, char letter, char buffer[16]);

#endif
