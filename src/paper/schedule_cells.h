/* What the two schedules have in common. */
#ifndef LIDMARK_PAPER_SCHEDULE_CELLS_H
#define LIDMARK_PAPER_SCHEDULE_CELLS_H

#include "paper/set.h"
#include "paper/texts.h"

/* A sum before rounding beside the sum of the figures as they are printed. */
typedef struct Sum {
    double exact;
    int64_t printed;
} Sum;

void sum_add(Sum *sum, double value, Figure figure);

/* On letter and A4, texts that belong together share a cell:
 * "Told done, 2026-04-20. Torn at the corner" and "Gasket. Drywall, by drywall". */
void cell_state_slim(Table *table, int column, const char *state, const char *told,
                     const char *note);
void cell_seal_slim(Table *table, int column, const char *seal, const char *trade,
                    const char *stage);
/* "All joints", "All joints, Electrical (rows are rounded)". */
void cell_total_name(const SheetSet *set, Table *table, int column, const char *all, bool rounded);

#endif
