/* Leaks of the joints: stretches of one class, level, from, to, height and seal are one leak. */
#include "air/air_internal.h"

#include <math.h>
#include <stdlib.h>

/* A piece with what decides which leak it is part of. */
typedef struct JointKey {
    int piece, level, joint, from, to, z, seal;
} JointKey;

static int compare_leaks(const JointKey *a, const JointKey *b)
{
    const int keys[][2] = {{a->level, b->level}, {a->joint, b->joint}, {a->from, b->from},
                           {a->to, b->to},       {a->z, b->z},         {a->seal, b->seal}};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++) {
        if (keys[i][0] != keys[i][1])
            return keys[i][0] < keys[i][1] ? -1 : 1;
    }
    return 0;
}

static int by_leak(const void *one, const void *two)
{
    const JointKey *a = one, *b = two;
    int by = compare_leaks(a, b);
    return by ? by : a->piece < b->piece ? -1 : a->piece > b->piece;
}

/* Joints under way: the pieces by leak, and the length that each seal covers in all. */
typedef struct Joints {
    AirWork *work;
    JointKey *keys;
    int count;
    double *seal_mm;
} Joints;

static void list_pieces(Joints *joints)
{
    const AirWork *work = joints->work;
    const Envelope *envelope = work->envelope;
    for (int i = 0; i < envelope->joint_count; i++) {
        const JointPiece *piece = &envelope->joints[i];
        if (piece->left_to_sheathing)
            continue;
        JointKey key = {i,
                        piece->level,
                        (int)piece->joint,
                        air_node_of(work->air, piece->space),
                        air_node_of(work->air, piece->to_space),
                        piece->z,
                        piece->seal};
        joints->keys[joints->count++] = key;
        if (piece->seal >= 0)
            joints->seal_mm[piece->seal] += geom_to_mm(piece->length);
    }
    if (joints->count > 0)
        qsort(joints->keys, (size_t)joints->count, sizeof *joints->keys, by_leak);
}

/* A seal's own figures, where it has enough of them; false: the catalog's. */
static bool laws_of_seal(const Joints *joints, const PlanSeal *seal, JointClass joint,
                         AirLeak *leak)
{
    bool own_width = joint_class_is_bay(joint) || !isnan(seal->gap_mm);
    if (!isnan(seal->ela4_mm2)) {
        leak->basis = BASIS_GIVEN;
        leak->open = law_scaled(law_given(seal->ela4_mm2, seal->exponent),
                                leak->length_mm / joints->seal_mm[leak->seal]);
    } else if (seal->measured && own_width) {
        leak->basis = BASIS_MEASURED;
        leak->area_mm2 = leak->length_mm * leak->gap_mm;
        leak->open = law_measured(leak->area_mm2);
    } else {
        return false;
    }
    leak->sealed = law_shared(leak->open);
    return true;
}

static Status joint_laws(Joints *joints, JointClass joint, AirLeak *leak)
{
    AirWork *work = joints->work;
    const PlanSeal *seal = leak->seal >= 0 ? &work->plan->seals[leak->seal] : NULL;
    const CatalogJoint *row = &work->plan->catalog->joints[joint];
    Status status = STATUS_OK;
    if (seal && laws_of_seal(joints, seal, joint, leak))
        return status;
    if (seal && seal->measured)
        air_note(work, AIR_NOTE_MEASURED, PLAN_SEALS, leak->seal, &status,
                 "Seal %s is said to be measured, but has no gap of its own; a published rate is "
                 "used. Give its gap.",
                 seal->tag[0] ? seal->tag : seal->id);
    leak->basis = BASIS_CATALOG;
    leak->open = law_of_row(&row->open, leak->length_mm / 1000);
    leak->sealed = row->sealed.given ? law_of_row(&row->sealed, leak->length_mm / 1000)
                                     : law_shared(leak->open);
    return status;
}

static char *joint_ref(const AirWork *work, const AirLeak *leak, const JointPiece *piece)
{
    if (leak->seal >= 0)
        return text_copy(work->plan->seals[leak->seal].id);
    char height[NUMBER_SIZE];
    return text_format("%s %s %s to %s at %s", joint_class_word(piece->joint),
                       work->plan->levels[piece->level].id, work->air->nodes[leak->from].name,
                       work->air->nodes[leak->to].name, number_exact(geom_to_mm(piece->z), height));
}

/* The leak of pieces that are one. */
static Status add_joint(Joints *joints, const JointKey *keys, int count)
{
    AirWork *work = joints->work;
    const JointPiece *piece = &work->envelope->joints[keys->piece];
    AirLeak leak = {.what = AIR_JOINT,
                    .index = keys->joint,
                    .level = keys->level,
                    .from = keys->from,
                    .to = keys->to,
                    .height_m = geom_to_mm(piece->z) / 1000,
                    .has_method = !joint_piece_unspecified(work->plan, piece),
                    .is_sealed = joint_piece_sealed(work->plan, piece),
                    .area_mm2 = (double)NAN,
                    .seal = keys->seal};
    double area = 0;
    for (int i = 0; i < count; i++) {
        const JointPiece *part = &work->envelope->joints[keys[i].piece];
        leak.length_mm += geom_to_mm(part->length);
        area += geom_to_mm(part->length) * part->gap_mm;
    }
    if (leak.from < 0 || leak.to < 0 || !(leak.length_mm > 0))
        return STATUS_OK;
    leak.gap_mm = area / leak.length_mm;
    int index = work->air->leak_count;
    Status status = joint_laws(joints, piece->joint, &leak);
    if (status == STATUS_OK)
        status = air_add_leak(work, leak, joint_ref(work, &leak, piece));
    for (int i = 0; i < count && work->air->leak_count > index; i++)
        work->air->leak_of_joint[keys[i].piece] = index;
    return status;
}

Status air_find_joints(AirWork *work)
{
    Joints joints = {.work = work};
    joints.keys = mem_alloc((size_t)work->envelope->joint_count + 1, sizeof *joints.keys);
    joints.seal_mm = mem_alloc((size_t)work->plan->seal_count + 1, sizeof *joints.seal_mm);
    int *leaks = mem_alloc((size_t)work->envelope->joint_count + 1, sizeof *leaks);
    work->air->leak_of_joint = leaks;
    Status status = joints.keys && joints.seal_mm && leaks ? STATUS_OK : STATUS_MEMORY;
    for (int i = 0; i < work->envelope->joint_count && leaks; i++)
        leaks[i] = -1;
    if (status == STATUS_OK)
        list_pieces(&joints);
    for (int i = 0; i < joints.count && status == STATUS_OK;) {
        int end = i + 1;
        while (end < joints.count && compare_leaks(&joints.keys[i], &joints.keys[end]) == 0)
            end++;
        status = add_joint(&joints, &joints.keys[i], end - i);
        i = end;
    }
    mem_free(joints.keys);
    mem_free(joints.seal_mm);
    return status;
}
