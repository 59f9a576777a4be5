/* What moves through the holes, kept beside the envelope and shown in strip, panel and stack. */
#ifndef LIDMARK_APP_LEAKS_H
#define LIDMARK_APP_LEAKS_H

#include "app/state.h"
#include "lidmark/air.h"

/* The air of the plan as it is: the stack in the plan's weather, seals by state, and 50 Pa. */
typedef struct AppAir {
    Air *air;
    AirFlow *flow, *fifty;
    AirBudget budget;
} AppAir;

/* Derives the air after the envelope; without memory, or where the air does not come to balance,
 * there is none and the cells show a dash. */
void leaks_derive(App *app);
void leaks_forget(App *app);

/* The strip's cell: leakage at 50 Pa as specified, beside it as found and what is allowed. */
void leaks_cell(const App *app, char figure[WORDS], char aside[WORDS]);
/* A sentence on what moves through what is selected: "Air goes out here: ...". */
void panel_hole_air(App *app, Parts *parts, int hole);
void panel_run_air(App *app, Parts *parts, int piece);
/* The list behind the strip's cell. */
void panel_leaks(App *app, Parts *parts);
/* Neutral levels of the groups, mm above the datum, at most limit; returns how many. */
int leaks_neutral(const App *app, double *neutral_mm, int limit);

#endif
