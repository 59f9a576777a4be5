/* What the totals of a small house must be, a line a figure, so that the arithmetic can stand beside
 * it. Every figure that is not said must be zero, every row that is not said must not be there. */
#ifndef LIDMARK_TESTS_HOUSE_WANT_H
#define LIDMARK_TESTS_HOUSE_WANT_H

#include "support/house_build.h"

typedef enum WantWhat {
    WANT_END,
    WANT_PERIMETER,
    WANT_WALL,
    WANT_LID,
    WANT_FLOOR,
    WANT_INSIDE,
    WANT_JOINT,
    WANT_LID_SIDE,
    WANT_SHEATHING,
    WANT_OPEN,
    WANT_HOLES
} WantWhat;

typedef struct Want {
    WantWhat what;
    const char *level;
    SpaceKind kind;
    JointClass joint;
    double v[5];
} Want;

#define GAP 3.175 /* mm: a crack without a seal */

/* clang-format off */
#define PERIMETER(mm) {.what = WANT_PERIMETER, .v = {mm}}
#define WALL(on, faces, mm, mm2) \
    {.what = WANT_WALL, .level = #on, .kind = SPACE_##faces, .v = {mm, mm2}}
#define LID(on, above, mm2) {.what = WANT_LID, .level = #on, .kind = SPACE_##above, .v = {mm2}}
#define FLOOR(on, below, mm2) {.what = WANT_FLOOR, .level = #on, .kind = SPACE_##below, .v = {mm2}}
/* Floor area, volume, volume between floors, enclosure, ground. */
#define INSIDE(floor_mm2, mm3, between_mm3, enclosure_mm2, ground_mm2) \
    {.what = WANT_INSIDE, .v = {floor_mm2, mm3, between_mm3, enclosure_mm2, ground_mm2}}
/* A joint without any seal: all of it is unspecified and unsealed. */
#define JOINT(on, class, to, mm) \
    {.what = WANT_JOINT, .level = #on, .joint = JOINT_##class, .kind = SPACE_##to, \
     .v = {mm, mm, mm, 0, 0}}
/* Total, unspecified, unsealed, sealed, seen. */
#define SEALED(on, class, to, total, unspecified, unsealed, sealed, seen) \
    {.what = WANT_JOINT, .level = #on, .joint = JOINT_##class, .kind = SPACE_##to, \
     .v = {total, unspecified, unsealed, sealed, seen}}
#define LID_SIDE(mm, unsealed_mm) {.what = WANT_LID_SIDE, .v = {mm, unsealed_mm}}
#define SHEATHING(mm) {.what = WANT_SHEATHING, .v = {mm}}
/* Area of open cracks, of open bays. */
#define OPEN(crack_mm2, bay_mm2) {.what = WANT_OPEN, .v = {crack_mm2, bay_mm2}}
/* Holes, on the boundary, of these unsealed, unspecified, area of the unsealed ones. */
#define HOLES(count, on, unsealed, unspecified, mm2) \
    {.what = WANT_HOLES, .v = {count, on, unsealed, unspecified, mm2}}

/* What the surface of the usual room (8000 x 5000 x 2400) under an attic is, and its plates. */
#define ROOM_UNDER_ATTIC \
    PERIMETER(26000), WALL(L1, OUTDOORS, 26000, 62.4e6), LID(L1, VENTED_ATTIC, 40e6), \
        INSIDE(40e6, 96e9, 0, 102.4e6, 40e6)

/* Builds the house, empties it, and fails the test when the program or the reference finds otherwise. */
#define HOUSE_IS(house, ...) \
    house_is(house, (const Want[]){__VA_ARGS__, {.what = WANT_END}}, __FILE__, __LINE__)
/* clang-format on */

void house_is(House *house, const Want *want, const char *file, int line);

/* The catalog of the test program: from the setup, taken back in the teardown. */
int house_catalog_begin(void **state);
int house_catalog_end(void **state);
const Catalog *house_catalog(void);

#endif
