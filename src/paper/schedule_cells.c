#include "paper/schedule_cells.h"

#include <string.h>

void sum_add(Sum *sum, double value, Figure figure)
{
    sum->exact += value;
    sum->printed += figure.value;
}

void cell_state_slim(Table *table, int column, const char *state, const char *told,
                     const char *note)
{
    bool dated = strcmp(told, TEXT_DASH) != 0;
    table_cellf(table, column, "%s%s%s%s%s", state, dated ? ", " : "", dated ? told : "",
                note[0] != 0 ? ". " : "", note);
}

void cell_seal_slim(Table *table, int column, const char *seal, const char *trade,
                    const char *stage)
{
    bool staged = strcmp(stage, TEXT_DASH) != 0;
    table_cellf(table, column, "%s. %s%s%s", seal, trade, staged ? ", by stage: " : "",
                staged ? stage : "");
}

void cell_total_name(const SheetSet *set, Table *table, int column, const char *all, bool rounded)
{
    int trade = set->options->trade;
    table_cellf(table, column, "%s%s%s%s", all, trade >= 0 ? ", " : "",
                trade >= 0 ? set->plan->catalog->trades[trade].shown : "",
                rounded ? " (rows are rounded)" : "");
}
