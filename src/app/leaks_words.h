/* Flows, pressures and places of air in words, in the plan's units. */
#ifndef LIDMARK_APP_LEAKS_WORDS_H
#define LIDMARK_APP_LEAKS_WORDS_H

#include "app/leaks.h"

/* "37 cfm", "0.4 L/s"; never 0 for what is only small. The size of a flow, without its sign. */
const char *tell_flow(const App *app, double m3_s, char buffer[WORDS]);
/* The same without the unit. */
const char *tell_flow_number(const App *app, double m3_s, char buffer[WORDS]);
/* "22 to 74 cfm" */
const char *tell_flows(const App *app, double low, double high, char buffer[WORDS]);
/* Low, best, high less a limit as what is over it, or left: "84 cfm over the limit". */
const char *tell_over(const App *app, double over_m3_s, char buffer[WORDS]);
const char *tell_temperature(const App *app, double celsius, char buffer[WORDS]);
const char *tell_pressure(double pa, char buffer[WORDS]);
/* Air changes an hour of the plan's volume; "" without one. */
const char *tell_changes(const App *app, double m3_s, char buffer[WORDS]);
/* "House", "Kitchen and 3 more", "Attic", "outdoors" */
const char *tell_node(const App *app, int node, char buffer[WORDS]);
/* "10H  Duct boot" */
const char *tell_leak(const App *app, int leak, char buffer[WORDS]);
/* "to Attic"; of a joint without a tag also its level, and its group where there are several:
 * "Ground floor, from Guest house to outdoors" */
const char *tell_leak_place(const App *app, int leak, char buffer[WORDS]);
/* Where the figure of a leak as found comes from: "by a published rate, from memory" */
const char *tell_basis(const App *app, int leak, char buffer[WORDS]);

#endif
