/* The plan in memory: made, copied, freed, looked up. */
#include <math.h>
#include <string.h>

#include "plan/model.h"

Plan *plan_empty(const Catalog *catalog)
{
    Plan *plan = mem_alloc(1, sizeof *plan);
    if (plan == NULL)
        return NULL;
    plan->catalog = catalog;
    plan->ids = mem_alloc(1, sizeof *plan->ids);
    if (plan->ids == NULL || !fields_usual(plan_tables[PLAN_SETTINGS].fields, &plan->settings)) {
        plan_free(plan);
        return NULL;
    }
    plan->ids->state = random_seed_from_system();
    return plan;
}

void plan_seed_ids(Plan *plan, uint64_t seed)
{
    plan->ids->state = seed;
}

static void free_table(Plan *plan, PlanTable table)
{
    const PlanTableInfo *info = &plan_tables[table];
    char *items = plan_items(plan, table);
    int count = plan_count(plan, table);
    for (int i = 0; i < count; i++)
        fields_free(info->fields, items + (size_t)i * info->size);
    if (table != PLAN_SETTINGS)
        mem_free(items);
}

void plan_free(Plan *plan)
{
    if (plan == NULL)
        return;
    for (int i = 0; i < PLAN_TABLE_COUNT; i++)
        free_table(plan, (PlanTable)i);
    mem_free(plan->ids);
    mem_free(plan);
}

static bool copy_table(const Plan *plan, PlanTable table, Plan *copy)
{
    const PlanTableInfo *info = &plan_tables[table];
    const char *from = plan_items(plan, table);
    int count = plan_count(plan, table);
    if (count == 0)
        return true;
    char *to = mem_alloc((size_t)count, info->size);
    if (to == NULL)
        return false;
    plan_set_items(copy, table, to, 0);
    for (int i = 0; i < count; i++) {
        size_t at = (size_t)i * info->size;
        if (!fields_copy(info->fields, from + at, to + at, info->size))
            return false;
        plan_set_items(copy, table, to, i + 1);
    }
    return true;
}

Plan *plan_copy(const Plan *plan)
{
    Plan *copy = mem_alloc(1, sizeof *copy);
    if (copy == NULL)
        return NULL;
    copy->catalog = plan->catalog;
    copy->ids = mem_alloc(1, sizeof *copy->ids);
    bool copied =
        copy->ids != NULL && fields_copy(plan_tables[PLAN_SETTINGS].fields, &plan->settings,
                                         &copy->settings, sizeof copy->settings);
    for (int i = PLAN_LEVELS; copied && i < PLAN_TABLE_COUNT; i++)
        copied = copy_table(plan, (PlanTable)i, copy);
    if (!copied) {
        plan_free(copy);
        return NULL;
    }
    copy->ids->state = random_seed_from_system();
    return copy;
}

/* ---- a new plan ------------------------------------------------------------------------------------ */

enum {
    NEW_STOREY_TICKS_IN = 8 * GEOM_TICKS_PER_FOOT,
    NEW_STOREY_TICKS_MM = 2400 * GEOM_TICKS_PER_MM,
    NEW_SLAB_STEP_IN = 8 * GEOM_TICKS_PER_INCH, /* a slab's top over the ground outside */
    NEW_SLAB_STEP_MM = 200 * GEOM_TICKS_PER_MM,
};

static bool add_first_level(Plan *plan, GroundKind ground, GeomUnits units)
{
    PlanRecord record;
    if (plan_record_new(plan, PLAN_LEVELS, &record) != STATUS_OK)
        return false;
    char *name = text_copy("Ground floor");
    PlanLevel *levels = mem_alloc(1, sizeof *levels);
    if (name == NULL || levels == NULL) {
        mem_free(name);
        mem_free(levels);
        plan_record_free(PLAN_LEVELS, &record);
        return false;
    }
    mem_free(record.level.name);
    record.level.name = name;
    record.level.on_ground = ground == GROUND_SLAB;
    record.level.height = units == GEOM_METRIC ? NEW_STOREY_TICKS_MM : NEW_STOREY_TICKS_IN;
    levels[0] = record.level;
    plan_set_items(plan, PLAN_LEVELS, levels, 1);
    return true;
}

Plan *plan_new(const Catalog *catalog, GroundKind ground, GeomUnits units)
{
    Plan *plan = plan_empty(catalog);
    if (plan == NULL)
        return NULL;
    plan->settings.ground = ground;
    plan->settings.units = units;
    if (ground == GROUND_SLAB)
        plan->settings.grade = units == GEOM_METRIC ? -NEW_SLAB_STEP_MM : -NEW_SLAB_STEP_IN;
    if (!add_first_level(plan, ground, units)) {
        plan_free(plan);
        return NULL;
    }
    return plan;
}

/* ---- heights --------------------------------------------------------------------------------------- */

int32_t plan_space_floor(const Plan *plan, int space)
{
    const PlanSpace *at = &plan->spaces[space];
    return at->floor != PLAN_UNSET ? at->floor : plan->levels[at->level].floor;
}

int32_t plan_space_ceiling(const Plan *plan, int space)
{
    const PlanSpace *at = &plan->spaces[space];
    const PlanLevel *level = &plan->levels[at->level];
    if (at->height != PLAN_UNSET)
        return plan_space_floor(plan, space) + at->height;
    return level->floor + level->height;
}

bool plan_space_on_ground(const Plan *plan, int space)
{
    const PlanSpace *at = &plan->spaces[space];
    return at->on_ground >= 0 ? at->on_ground > 0 : plan->levels[at->level].on_ground;
}

int32_t plan_grade(const Plan *plan)
{
    enum { USUAL_GRADE = -500 * GEOM_TICKS_PER_MM };
    return plan->settings.grade != PLAN_UNSET ? plan->settings.grade : USUAL_GRADE;
}

/* ---- by id ----------------------------------------------------------------------------------------- */

int plan_index_by_id(const Plan *plan, PlanTable table, const char *id)
{
    const char *items = plan_items(plan, table);
    int count = plan_count(plan, table);
    for (int i = 0; i < count; i++) {
        const char *at = plan_record_id(table, items + (size_t)i * plan_tables[table].size);
        if (at != NULL && strcmp(at, id) == 0)
            return i;
    }
    return -1;
}

int plan_level_by_id(const Plan *plan, const char *id)
{
    return plan_index_by_id(plan, PLAN_LEVELS, id);
}

int plan_space_by_id(const Plan *plan, const char *id)
{
    return plan_index_by_id(plan, PLAN_SPACES, id);
}

int plan_seal_by_id(const Plan *plan, const char *id)
{
    return plan_index_by_id(plan, PLAN_SEALS, id);
}

int plan_penetration_by_id(const Plan *plan, const char *id)
{
    return plan_index_by_id(plan, PLAN_PENETRATIONS, id);
}

bool plan_id_taken(const Plan *plan, PlanTable table, const char *id)
{
    for (int i = PLAN_LEVELS; i < PLAN_TABLE_COUNT; i++) {
        if (plan_ids_shared(table, (PlanTable)i) && plan_index_by_id(plan, (PlanTable)i, id) >= 0)
            return true;
    }
    return false;
}

void plan_new_id(const Plan *plan, PlanTable table, char buffer[PLAN_ID_SIZE])
{
    do {
        plan_random_id(plan->ids, plan_tables[table].letter, buffer);
    } while (plan_id_taken(plan, table, buffer));
}

/* ---- records --------------------------------------------------------------------------------------- */

int plan_table_count(const Plan *plan, PlanTable table)
{
    return plan_count(plan, table);
}

const void *plan_table_at(const Plan *plan, PlanTable table, int index)
{
    if (index < 0 || index >= plan_count(plan, table))
        return NULL;
    return (const char *)plan_items(plan, table) + (size_t)index * plan_tables[table].size;
}

Status plan_record_new(const Plan *plan, PlanTable table, PlanRecord *record)
{
    const PlanTableInfo *info = &plan_tables[table];
    char id[PLAN_ID_SIZE];
    memset(record, 0, sizeof *record);
    if (!fields_usual(info->fields, record)) {
        plan_record_free(table, record);
        return STATUS_MEMORY;
    }
    if (info->letter == '\0')
        return STATUS_OK;
    plan_new_id(plan, table, id);
    if (!field_set_text(&info->fields->list[0], record, id)) {
        plan_record_free(table, record);
        return STATUS_MEMORY;
    }
    return STATUS_OK;
}

Status plan_record_copy(const Plan *plan, PlanTable table, int index, PlanRecord *record)
{
    const void *from = plan_table_at(plan, table, index);
    memset(record, 0, sizeof *record);
    if (from == NULL)
        return STATUS_USAGE;
    return fields_copy(plan_tables[table].fields, from, record, plan_tables[table].size)
               ? STATUS_OK
               : STATUS_MEMORY;
}

void plan_record_free(PlanTable table, PlanRecord *record)
{
    fields_free(plan_tables[table].fields, record);
}

/* ---- holes ----------------------------------------------------------------------------------------- */

static const double PI = 3.14159265358979323846;

/* The hole of one: sizes and gap of its own or its kind's. */
static double one_hole_area(const CatalogKind *kind, const double *size, int size_count, double gap)
{
    if (kind->opening)
        return size_count == 2 ? size[0] * size[1] : PI * size[0] * size[0] / 4;
    if (kind->measure == MEASURE_LENGTH && size_count == 1)
        return gap * size[0];
    return gap * (size_count == 2 ? 2 * (size[0] + size[1]) : PI * size[0]);
}

double plan_hole_area(const Plan *plan, const PlanPenetration *penetration)
{
    const CatalogKind *kind = &plan->catalog->kinds[penetration->kind];
    bool own_size = penetration->size_count > 0;
    const double *size = own_size ? penetration->size_mm : kind->size_mm;
    int size_count = own_size ? penetration->size_count : kind->size_count;
    double gap = isnan(penetration->gap_mm) ? kind->gap_mm : penetration->gap_mm;
    if (!isnan(penetration->area_mm2))
        return penetration->area_mm2;
    if (size_count == 0)
        return 0;
    return one_hole_area(kind, size, size_count, gap) * penetration->count;
}

int32_t plan_above_floor(const Plan *plan, const PlanPenetration *penetration)
{
    int32_t ticks = 0;
    bool exact;
    if (penetration->above_floor != PLAN_UNSET)
        return penetration->above_floor;
    geom_from_mm(plan->catalog->kinds[penetration->kind].above_floor_mm, &ticks, &exact);
    return ticks;
}
