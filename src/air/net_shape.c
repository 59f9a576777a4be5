/* Shape of the matrix: in which order nodes are eliminated, and which places fill. */
#include "air/network_parts.h"

#include <stdlib.h>

/* A way between two free nodes, as rows. */
typedef struct Pair {
    int low, high;
} Pair;

static int by_pair(const void *one, const void *two)
{
    const Pair *a = one, *b = two;
    int by = a->low < b->low ? -1 : a->low > b->low;
    return by ? by : a->high < b->high ? -1 : a->high > b->high;
}

/* Pairs of free nodes that a run joins, each once; by node, or by row once there are rows. */
static int list_pairs(const NetSolver *solver, bool rows, Pair *pairs)
{
    int count = 0, kept = 0;
    for (int i = 0; i < solver->run_count; i++) {
        int a = solver->runs[i].a, b = solver->runs[i].b;
        if (solver->fixed[a] || solver->fixed[b])
            continue;
        a = rows ? solver->row_of[a] : a;
        b = rows ? solver->row_of[b] : b;
        pairs[count++] = (Pair){a < b ? a : b, a < b ? b : a};
    }
    if (count > 0)
        qsort(pairs, (size_t)count, sizeof *pairs, by_pair);
    for (int i = 0; i < count; i++) {
        if (kept == 0 || by_pair(&pairs[i], &pairs[kept - 1]) != 0)
            pairs[kept++] = pairs[i];
    }
    return kept;
}

/* Rows in the order of the number of neighbours: the many zones first, the houses they hang on
 * last, so that little fills. degree: room for a number by node, 0. */
static void order_rows(NetSolver *solver, const Pair *pairs, int pair_count, int *degree)
{
    int most = 0;
    for (int i = 0; i < pair_count; i++) {
        degree[pairs[i].low]++;
        degree[pairs[i].high]++;
    }
    for (int i = 0; i < solver->node_count; i++) {
        most = degree[i] > most ? degree[i] : most;
        solver->row_of[i] = -1;
        solver->free_count += !solver->fixed[i];
    }
    int row = 0;
    for (int d = 0; d <= most && row < solver->free_count; d++) {
        for (int i = 0; i < solver->node_count; i++) {
            if (degree[i] == d && !solver->fixed[i]) {
                solver->row_of[i] = row;
                solver->node_of[row++] = i;
            }
        }
    }
}

/* ---- places ---- */

typedef struct Filling {
    NetSolver *solver;
    int *seen;                 /* by row: the column that took it last, + 1 */
    int *child, *next_sibling; /* columns by the first row below them, + 1 */
    int capacity;
} Filling;

static int compare_int(const void *one, const void *two)
{
    const int *a = one, *b = two;
    return *a < *b ? -1 : *a > *b;
}

static Status take_row(Filling *filling, int column, int row)
{
    NetSolver *solver = filling->solver;
    if (row <= column || filling->seen[row] == column + 1)
        return STATUS_OK;
    filling->seen[row] = column + 1;
    if (array_reserve((void **)&solver->below, &filling->capacity, solver->place_count + 1,
                      sizeof *solver->below) != STATUS_OK)
        return STATUS_MEMORY;
    solver->below[solver->place_count++] = row;
    return STATUS_OK;
}

/* The rows below a column: its neighbours, and those below the columns whose first row it is. */
static Status fill_column(Filling *filling, int column, const Pair **pair, const Pair *end)
{
    NetSolver *solver = filling->solver;
    Status status = STATUS_OK;
    int first = solver->below_start[column] = solver->place_count;
    for (; *pair < end && (*pair)->low == column && status == STATUS_OK; (*pair)++)
        status = take_row(filling, column, (*pair)->high);
    for (int child = filling->child[column]; child > 0 && status == STATUS_OK;
         child = filling->next_sibling[child - 1]) {
        for (int n = solver->below_start[child - 1]; n < solver->below_start[child]; n++) {
            if (status == STATUS_OK)
                status = take_row(filling, column, solver->below[n]);
        }
    }
    solver->below_start[column + 1] = solver->place_count;
    if (status != STATUS_OK || solver->place_count == first)
        return status;
    qsort(solver->below + first, (size_t)(solver->place_count - first), sizeof *solver->below,
          compare_int);
    int parent = solver->below[first];
    filling->next_sibling[column] = filling->child[parent];
    filling->child[parent] = column + 1;
    return status;
}

static Status fill(NetSolver *solver, const Pair *pairs, int pair_count)
{
    size_t rows = (size_t)solver->free_count + 1;
    Filling filling = {.solver = solver};
    filling.seen = mem_alloc(rows, sizeof *filling.seen);
    filling.child = mem_alloc(rows, sizeof *filling.child);
    filling.next_sibling = mem_alloc(rows, sizeof *filling.next_sibling);
    Status status =
        filling.seen && filling.child && filling.next_sibling ? STATUS_OK : STATUS_MEMORY;
    const Pair *pair = pairs;
    for (int column = 0; column < solver->free_count && status == STATUS_OK; column++)
        status = fill_column(&filling, column, &pair, pairs + pair_count);
    mem_free(filling.seen);
    mem_free(filling.child);
    mem_free(filling.next_sibling);
    return status;
}

/* Where each run between free nodes stands. */
static void find_places(NetSolver *solver)
{
    for (int i = 0; i < solver->run_count; i++) {
        NetRun *run = &solver->runs[i];
        int a = solver->row_of[run->a], b = solver->row_of[run->b];
        run->place = -1;
        if (a < 0 || b < 0)
            continue;
        int low = a < b ? a : b, high = a < b ? b : a;
        int from = solver->below_start[low], to = solver->below_start[low + 1];
        const int *found =
            bsearch(&high, solver->below + from, (size_t)(to - from), sizeof high, compare_int);
        run->place = (int)(found - solver->below);
    }
}

Status net_shape(NetSolver *solver)
{
    Pair *pairs = mem_alloc((size_t)solver->run_count + 1, sizeof *pairs);
    int *degree = mem_alloc((size_t)solver->node_count + 1, sizeof *degree);
    Status status = pairs && degree ? STATUS_OK : STATUS_MEMORY;
    if (status == STATUS_OK) {
        order_rows(solver, pairs, list_pairs(solver, false, pairs), degree);
        status = fill(solver, pairs, list_pairs(solver, true, pairs));
    }
    mem_free(pairs);
    mem_free(degree);
    if (status != STATUS_OK)
        return status;
    find_places(solver);
    solver->matrix = mem_alloc((size_t)solver->place_count + 1, sizeof *solver->matrix);
    return solver->matrix ? STATUS_OK : STATUS_MEMORY;
}
