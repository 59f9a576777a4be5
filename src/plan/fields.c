#include "plan/fields.h"

#include <math.h>
#include <string.h>

/* Bounds that the model does not give, chosen so that no sum of them overflows: the width of the
 * largest plan, its square and its cube. */
#define LENGTH_MAX 13421772.8
#define AREA_MAX   1.8e14
#define HEIGHT_MAX 6710886.4

#define AT(S, m) .at = offsetof(S, m)
#define ID(S, f)                                               \
    {                                                          \
        .key = "id", .type = FIELD_ID, .flags = (f), AT(S, id) \
    }
#define TEXT(S, m)                              \
    {                                           \
        .key = #m, .type = FIELD_TEXT, AT(S, m) \
    }
#define TEXT_NULL(S, m, k)                                                  \
    {                                                                       \
        .key = (k), .type = FIELD_TEXT, .flags = FIELD_NULL_EMPTY, AT(S, m) \
    }
#define WORD(S, m, k, w, u, f)                                                               \
    {                                                                                        \
        .key = (k), .type = FIELD_WORD, .flags = (f), AT(S, m), .size = sizeof(((S *)0)->m), \
        .words = &plan_words_##w, .usual = (double)(u)                                       \
    }
#define BOOL(S, m, u)                                                 \
    {                                                                 \
        .key = #m, .type = FIELD_BOOL, AT(S, m), .usual = (double)(u) \
    }
#define MAYBE(S, m)                                           \
    {                                                         \
        .key = #m, .type = FIELD_MAYBE, AT(S, m), .usual = -1 \
    }
#define INT(S, m, u)                                                               \
    {                                                                              \
        .key = #m, .type = FIELD_INT, AT(S, m), .low = 0, .high = PLAN_COUNT_MOST, \
        .usual = (double)(u)                                                       \
    }
#define NUMBER(S, m, k, l, h, u)                                                                  \
    {                                                                                             \
        .key = (k), .type = FIELD_NUMBER, AT(S, m), .low = (l), .high = (h), .usual = (double)(u) \
    }
#define TICKS(S, m, k, l, h, u, f)                                                        \
    {                                                                                     \
        .key = (k), .type = FIELD_TICKS, .flags = (f), AT(S, m), .low = (l), .high = (h), \
        .usual = (double)(u)                                                              \
    }
#define POINT(S, m, k)                                                     \
    {                                                                      \
        .key = (k), .type = FIELD_POINT, .flags = FIELD_REQUIRED, AT(S, m) \
    }
#define REF(S, m, t)                                                                   \
    {                                                                                  \
        .key = #m, .type = FIELD_REF, .flags = FIELD_REQUIRED, AT(S, m), .refers = (t) \
    }
#define OBJECT(k, i)                                    \
    {                                                   \
        .key = (k), .type = FIELD_OBJECT, .inner = &(i) \
    }
#define FIELDS(fields, S, e)                                                    \
    {                                                                           \
        .list = (fields), .count = (int)(sizeof(fields) / sizeof((fields)[0])), \
        .extra = offsetof(S, e)                                                 \
    }

/* ---- settings -------------------------------------------------------------------------------- */

static const PlanField JOB[] = {
    TEXT(PlanSettings, address),  TEXT(PlanSettings, lot),      TEXT(PlanSettings, permit),
    TEXT(PlanSettings, builder),  TEXT(PlanSettings, drawn_by), TEXT(PlanSettings, checked_by),
    TEXT(PlanSettings, revision), TEXT(PlanSettings, edition),  TEXT(PlanSettings, climate_zone),
};
static const PlanFields JOB_FIELDS = FIELDS(JOB, PlanSettings, job_extra);

static const PlanField HOUSE[] = {
    WORD(PlanSettings, ground, "ground", ground, GROUND_UNSAID, FIELD_NULL_FIRST),
    WORD(PlanSettings, lines_outside, "lines_at", lines_at, 0, 0),
    NUMBER(PlanSettings, outer_wall_mm, "outer_wall_mm", 0, LENGTH_MAX, 0),
    NUMBER(PlanSettings, inner_wall_mm, "inner_wall_mm", 0, LENGTH_MAX, 0),
    MAYBE(PlanSettings, combustion_uses_room_air),
    MAYBE(PlanSettings, mechanical_ventilation),
    INT(PlanSettings, bedrooms, -1),
};
static const PlanFields HOUSE_FIELDS = FIELDS(HOUSE, PlanSettings, house_extra);

static const PlanField SITE[] = {
    TICKS(PlanSettings, grade, "grade_mm", -HEIGHT_MAX, HEIGHT_MAX, NAN, 0),
    NUMBER(PlanSettings, north_deg, "north_deg", -360, 360, 0),
    NUMBER(PlanSettings, indoor_c, "indoor_c", -PLAN_CELSIUS_MOST, PLAN_CELSIUS_MOST, 21),
    NUMBER(PlanSettings, outdoor_c, "outdoor_c", -PLAN_CELSIUS_MOST, PLAN_CELSIUS_MOST, -10),
    NUMBER(PlanSettings, altitude_m, "altitude_m", PLAN_ALTITUDE_LEAST, PLAN_ALTITUDE_MOST, 0),
};
static const PlanFields SITE_FIELDS = FIELDS(SITE, PlanSettings, site_extra);

static const PlanField TARGET[] = {
    WORD(PlanSettings, target, "kind", target, TARGET_NONE, FIELD_NULL_FIRST),
    NUMBER(PlanSettings, target_value, "value", 0, PLAN_FLOW_MOST, NAN),
    WORD(PlanSettings, volume, "volume", volume, VOLUME_ROOMS, 0),
    NUMBER(PlanSettings, own_volume_mm3, "own_volume_mm3", 0, PLAN_VOLUME_MOST, NAN),
    TEXT_NULL(PlanSettings, target_preset, "preset"),
    {.key = "checked_by", .type = FIELD_TEXT, AT(PlanSettings, target_checked_by)},
    TEXT_NULL(PlanSettings, target_checked_on, "checked_on"),
};
static const PlanFields TARGET_FIELDS = FIELDS(TARGET, PlanSettings, target_extra);

static const PlanField SETTINGS[] = {
    TEXT(PlanSettings, name),    WORD(PlanSettings, units, "display_units", units, GEOM_FT_IN, 0),
    OBJECT("job", JOB_FIELDS),   OBJECT("house", HOUSE_FIELDS),
    OBJECT("site", SITE_FIELDS), OBJECT("target", TARGET_FIELDS),
};
static const PlanFields SETTINGS_FIELDS = FIELDS(SETTINGS, PlanSettings, rest);

const PlanRest plan_rest[PLAN_REST_COUNT] = {
    {"stages", false},  {"trades", false}, {"notes", true},
    {"tracings", true}, {"visits", true},  {"tags_given", false},
};

/* ---- levels, spaces, edges --------------------------------------------------------------------- */

static const PlanField LEVEL[] = {
    ID(PlanLevel, FIELD_REQUIRED),
    TEXT(PlanLevel, name),
    TICKS(PlanLevel, floor, "floor_mm", -HEIGHT_MAX, HEIGHT_MAX, 0, FIELD_REQUIRED),
    TICKS(PlanLevel, height, "height_mm", 0, HEIGHT_MAX, 0, FIELD_REQUIRED | FIELD_POSITIVE),
    TICKS(PlanLevel, structure, "structure_mm", 0, HEIGHT_MAX, 300, 0),
    BOOL(PlanLevel, on_ground, 0),
    NUMBER(PlanLevel, studs_mm, "studs_mm", 0, LENGTH_MAX, 89),
    NUMBER(PlanLevel, joist_spacing_mm, "joist_spacing_mm", 0, LENGTH_MAX, 406.4),
    WORD(PlanLevel, sheathing, "outside_walls", outside_walls, 0, 0),
};
static const PlanFields LEVEL_FIELDS = FIELDS(LEVEL, PlanLevel, extra);

static const PlanField SPACE[] = {
    ID(PlanSpace, FIELD_REQUIRED),
    REF(PlanSpace, level, PLAN_LEVELS),
    TEXT(PlanSpace, name),
    WORD(PlanSpace, kind, "kind", space_kind, 0, FIELD_REQUIRED),
    {.key = "outline_mm",
     .type = FIELD_OUTLINE,
     .flags = FIELD_REQUIRED,
     AT(PlanSpace, outline),
     .count_at = offsetof(PlanSpace, outline_count)},
    TICKS(PlanSpace, floor, "floor_mm", -HEIGHT_MAX, HEIGHT_MAX, NAN, 0),
    TICKS(PlanSpace, height, "height_mm", 0, HEIGHT_MAX, NAN, FIELD_POSITIVE),
    MAYBE(PlanSpace, on_ground),
    NUMBER(PlanSpace, volume_mm3, "volume_mm3", 0, PLAN_VOLUME_MOST, NAN),
    TEXT_NULL(PlanSpace, shares_air, "shares_air"),
    NUMBER(PlanSpace, vent_area_mm2, "vent_area_mm2", 0, AREA_MAX, NAN),
    NUMBER(PlanSpace, temperature_c, "temperature_c", -PLAN_CELSIUS_MOST, PLAN_CELSIUS_MOST, NAN),
};
static const PlanFields SPACE_FIELDS = FIELDS(SPACE, PlanSpace, extra);

static const PlanField EDGE[] = {
    ID(PlanEdge, 0),
    REF(PlanEdge, level, PLAN_LEVELS),
    POINT(PlanEdge, from, "from_mm"),
    POINT(PlanEdge, to, "to_mm"),
    WORD(PlanEdge, wall, "is", edge, 0, FIELD_REQUIRED),
    BOOL(PlanEdge, rated, 0),
};
static const PlanFields EDGE_FIELDS = FIELDS(EDGE, PlanEdge, extra);

/* ---- seals and penetrations ---------------------------------------------------------------------- */

/* What both say about who seals them, how and when, in the order of the file. */
#define MEASURED(S)                                                          \
    BOOL(S, measured, 0), NUMBER(S, ela4_mm2, "ela4_mm2", 0, AREA_MAX, NAN), \
        NUMBER(S, exponent, "exponent", 0.5, 1, NAN)
#define WORK(S)                                                                      \
    WORD(S, state, "state", state, STATE_PLANNED, 0),                                \
        WORD(S, evidence, "evidence", evidence, EVIDENCE_NONE, 0), TEXT(S, told_by), \
        TEXT_NULL(S, told_on, "told_on"), TEXT_NULL(S, covered_on, "covered_on"),    \
        WORD(S, trade, "trade", trade, -1, FIELD_NULL_NONE),                         \
        WORD(S, stage, "stage", stage, -1, FIELD_NULL_NONE)

static const PlanField SEAL[] = {
    ID(PlanSeal, 0),
    TEXT(PlanSeal, tag),
    REF(PlanSeal, level, PLAN_LEVELS),
    WORD(PlanSeal, joint, "joint", joint, 0, FIELD_REQUIRED),
    POINT(PlanSeal, from, "from_mm"),
    POINT(PlanSeal, to, "to_mm"),
    WORD(PlanSeal, side, "side", side, SIDE_BOTH, 0),
    WORD(PlanSeal, method, "method", method, CATALOG_METHOD_NONE, 0),
    NUMBER(PlanSeal, gap_mm, "gap_mm", 0, LENGTH_MAX, NAN),
    MEASURED(PlanSeal),
    WORK(PlanSeal),
};
static const PlanFields SEAL_FIELDS = FIELDS(SEAL, PlanSeal, extra);

static const PlanField FACTS[] = {
    MAYBE(PlanPenetration, ic_rated),
    MAYBE(PlanPenetration, airtight_label),
};
static const PlanFields FACT_FIELDS = FIELDS(FACTS, PlanPenetration, facts_extra);

static const PlanField PENETRATION[] = {
    ID(PlanPenetration, 0),
    TEXT(PlanPenetration, tag),
    REF(PlanPenetration, level, PLAN_LEVELS),
    WORD(PlanPenetration, kind, "kind", hole_kind, 0, FIELD_REQUIRED),
    WORD(PlanPenetration, plane, "plane", plane, 0, FIELD_OF_KIND),
    POINT(PlanPenetration, at, "at_mm"),
    TICKS(PlanPenetration, above_floor, "above_floor_mm", -HEIGHT_MAX, HEIGHT_MAX, NAN, 0),
    {.key = "size_mm",
     .type = FIELD_SIZES,
     AT(PlanPenetration, size_mm),
     .count_at = offsetof(PlanPenetration, size_count),
     .high = LENGTH_MAX},
    NUMBER(PlanPenetration, gap_mm, "gap_mm", 0, LENGTH_MAX, NAN),
    NUMBER(PlanPenetration, area_mm2, "area_mm2", 0, AREA_MAX, NAN),
    MEASURED(PlanPenetration),
    INT(PlanPenetration, count, 1),
    WORD(PlanPenetration, method, "method", method, CATALOG_METHOD_NONE, 0),
    WORK(PlanPenetration),
    OBJECT("facts", FACT_FIELDS),
    TEXT(PlanPenetration, note),
};
static const PlanFields PENETRATION_FIELDS = FIELDS(PENETRATION, PlanPenetration, extra);

/* ---- air ----------------------------------------------------------------------------------------- */

static const PlanField LINK[] = {
    {.key = "from", .type = FIELD_TEXT, .flags = FIELD_REQUIRED, AT(PlanLink, from)},
    {.key = "to", .type = FIELD_TEXT, .flags = FIELD_REQUIRED, AT(PlanLink, to)},
    NUMBER(PlanLink, area_mm2, "area_mm2", 0, AREA_MAX, 0),
};
static const PlanFields LINK_FIELDS = FIELDS(LINK, PlanLink, extra);

static const PlanField FAN[] = {
    ID(PlanFan, 0),
    REF(PlanFan, space, PLAN_SPACES),
    {.key = "to", .type = FIELD_TEXT, .flags = FIELD_REQUIRED, AT(PlanFan, to)},
    NUMBER(PlanFan, q_l_s, "q_l_s", -PLAN_FLOW_MOST, PLAN_FLOW_MOST, 0),
    BOOL(PlanFan, on, 1),
};
static const PlanFields FAN_FIELDS = FIELDS(FAN, PlanFan, extra);

static const PlanField READING[] = {
    {.key = "pa",
     .type = FIELD_NUMBER,
     .flags = FIELD_REQUIRED,
     AT(PlanReading, pa),
     .low = -PLAN_FLOW_MOST,
     .high = PLAN_FLOW_MOST},
    {.key = "q_m3_h",
     .type = FIELD_NUMBER,
     .flags = FIELD_REQUIRED,
     AT(PlanReading, q_m3_h),
     .low = 0,
     .high = PLAN_FLOW_MOST},
    TEXT(PlanReading, label),
};
static const PlanFields READING_FIELDS = FIELDS(READING, PlanReading, extra);

static const PlanField ZONE[] = {
    {.key = "node", .type = FIELD_TEXT, .flags = FIELD_REQUIRED, AT(PlanZoneReading, node)},
    {.key = "house_to_zone_pa",
     .type = FIELD_NUMBER,
     .flags = FIELD_REQUIRED,
     AT(PlanZoneReading, house_to_zone_pa),
     .low = -PLAN_FLOW_MOST,
     .high = PLAN_FLOW_MOST},
};
static const PlanFields ZONE_FIELDS = FIELDS(ZONE, PlanZoneReading, extra);

static const PlanField FAN_TEST[] = {
    ID(PlanFanTest, 0),
    TEXT_NULL(PlanFanTest, date, "date"),
    WORD(PlanFanTest, pressurize, "direction", direction, 0, 0),
    {.key = "baseline_pa",
     .type = FIELD_NUMBERS,
     AT(PlanFanTest, baseline_pa),
     .count_at = offsetof(PlanFanTest, baseline_count),
     .low = -PLAN_FLOW_MOST,
     .high = PLAN_FLOW_MOST},
    NUMBER(PlanFanTest, indoor_c, "indoor_c", -PLAN_CELSIUS_MOST, PLAN_CELSIUS_MOST, NAN),
    NUMBER(PlanFanTest, outdoor_c, "outdoor_c", -PLAN_CELSIUS_MOST, PLAN_CELSIUS_MOST, NAN),
    NUMBER(PlanFanTest, altitude_m, "altitude_m", PLAN_ALTITUDE_LEAST, PLAN_ALTITUDE_MOST, NAN),
    NUMBER(PlanFanTest, exponent, "exponent", 0.5, 1, NAN),
    TEXT(PlanFanTest, tester),
    TEXT(PlanFanTest, instrument),
    TEXT_NULL(PlanFanTest, calibrated, "calibrated"),
    {.key = "readings",
     .type = FIELD_ITEMS,
     AT(PlanFanTest, readings),
     .size = sizeof(PlanReading),
     .count_at = offsetof(PlanFanTest, reading_count),
     .inner = &READING_FIELDS},
    {.key = "zones",
     .type = FIELD_ITEMS,
     AT(PlanFanTest, zones),
     .size = sizeof(PlanZoneReading),
     .count_at = offsetof(PlanFanTest, zone_count),
     .inner = &ZONE_FIELDS},
};
static const PlanFields FAN_TEST_FIELDS = FIELDS(FAN_TEST, PlanFanTest, extra);

/* ---- tables -------------------------------------------------------------------------------------- */

#define TABLE(w, o, l, S, m, c, f)                                                          \
    {                                                                                       \
        .word = (w), .one = (o), .letter = (l), .size = sizeof(S), .at = offsetof(Plan, m), \
        .count_at = offsetof(Plan, c), .fields = &(f)                                       \
    }

const PlanTableInfo plan_tables[PLAN_TABLE_COUNT] = {
    [PLAN_SETTINGS] = {.word = "settings",
                       .one = "settings",
                       .letter = '\0',
                       .size = sizeof(PlanSettings),
                       .at = offsetof(Plan, settings),
                       .fields = &SETTINGS_FIELDS},
    [PLAN_LEVELS] = TABLE("levels", "level", 'L', PlanLevel, levels, level_count, LEVEL_FIELDS),
    [PLAN_SPACES] = TABLE("spaces", "space", 'S', PlanSpace, spaces, space_count, SPACE_FIELDS),
    [PLAN_EDGES] = TABLE("edges", "edge mark", 'E', PlanEdge, edges, edge_count, EDGE_FIELDS),
    [PLAN_SEALS] = TABLE("seals", "seal", 'J', PlanSeal, seals, seal_count, SEAL_FIELDS),
    [PLAN_PENETRATIONS] = TABLE("penetrations", "hole", 'P', PlanPenetration, penetrations,
                                penetration_count, PENETRATION_FIELDS),
    [PLAN_LINKS] = TABLE("air_links", "link", '\0', PlanLink, links, link_count, LINK_FIELDS),
    [PLAN_FANS] = TABLE("fans", "fan", 'F', PlanFan, fans, fan_count, FAN_FIELDS),
    [PLAN_FAN_TESTS] =
        TABLE("fan_tests", "test", 'T', PlanFanTest, fan_tests, fan_test_count, FAN_TEST_FIELDS),
};

void *plan_items(const Plan *plan, PlanTable table)
{
    char *at = (char *)plan + plan_tables[table].at;
    void *items;
    if (table == PLAN_SETTINGS)
        return at;
    memcpy(&items, at, sizeof items);
    return items;
}

int plan_count(const Plan *plan, PlanTable table)
{
    int count;
    if (table == PLAN_SETTINGS)
        return 1;
    memcpy(&count, (const char *)plan + plan_tables[table].count_at, sizeof count);
    return count;
}

void plan_set_items(Plan *plan, PlanTable table, void *items, int count)
{
    memcpy((char *)plan + plan_tables[table].at, &items, sizeof items);
    memcpy((char *)plan + plan_tables[table].count_at, &count, sizeof count);
}
