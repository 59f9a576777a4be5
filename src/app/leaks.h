/* What moves through the holes, kept beside the envelope and shown in strip, panel and stack. */
#ifndef LIDMARK_APP_LEAKS_H
#define LIDMARK_APP_LEAKS_H

#include "app/state.h"
#include "lidmark/air.h"

/* A fan test and what is mapped in the same state. */
typedef struct LeakTest {
    AirTest test;
    AirBeside beside;
} LeakTest;

typedef enum OrderState { ORDER_NOT_ASKED, ORDER_TOO_LONG, ORDER_KNOWN } OrderState;

/* The air of the plan as it is: the stack in the plan's weather, seals by state, and 50 Pa. What
 * only a panel shows is made when it is first asked for. */
typedef struct AppAir {
    Air *air;
    AirFlow *flow;
    AirFlow *fifty[AIR_SEALS_COUNT]; /* as found from the start, the others when asked for */
    AirBudget budget;
    AirOrder order;
    OrderState order_state;
    LeakTest *tests; /* of each of the plan's; NULL: not asked for */
} AppAir;

/* ---- leaks.c: deriving, and what the panels read --------------------------------------------- */

/* Derives the air after the envelope; without memory, or where the air does not come to balance,
 * there is none and the cells show a dash. */
void leaks_derive(App *app);
void leaks_forget(App *app);
/* 50 Pa with seals counted so; NULL without memory. */
const AirFlow *leaks_fifty(App *app, AirSeals seals);
/* The order of work, seals by state; NULL where it is not known. With more things than are worked
 * through at once the state says that it would take long, and it is made only when that is asked
 * for. */
const AirOrder *leaks_order(App *app, bool however_long);
/* The plan's fan tests; NULL without any, or without memory. */
const LeakTest *leaks_tests(App *app);
/* True when something inside the boundary leaks. */
bool leaks_mapped(const App *app);
/* What there is to look at: the notes of the envelope, then those of the air. */
int findings_count(const App *app);
/* One of the notes of the air that the envelope does not have already; NULL after the last. */
const AirNote *air_finding(const App *app, int index);

/* ---- leaks_passing.c: what moves through one thing ------------------------------------------- */

typedef struct RoomAir {
    double out, in, at_50; /* m3/s, as found */
} RoomAir;

/* Through the holes and runs of a room that is inside; there is air. */
RoomAir leaks_room(const App *app, int space);
void panel_hole_air(App *app, Parts *parts, int hole);
void panel_run_air(App *app, Parts *parts, int piece);
/* Of a room: through its holes and runs; of a space that is not inside: its pressure. */
void panel_space_air(App *app, Parts *parts, int space);
/* A leak of the list is tapped: its hole, or the longest of its runs, is taken and shown. */
void panel_leak_show(App *app, int leak);

/* ---- leaks_list.c, leaks_tests.c, leaks_ranks.c, leaks_cautions.c: the list behind the cell --- */

void panel_leaks(App *app, Parts *parts);
void leaks_tests_list(App *app, Parts *parts);
void leaks_stack_list(App *app, Parts *parts);
void leaks_ranks_list(App *app, Parts *parts);
void leaks_order_list(App *app, Parts *parts);
/* What is to be done about burning appliances before a house is tightened; short where it stands
 * beside a seal in the hand. */
void panel_combustion(App *app, Parts *parts, bool in_short);
void panel_ventilation(App *app, Parts *parts);

#endif
