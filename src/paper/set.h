/* What the files that make the sheets share: the set being made, its sheets and their title
 * strips. */
#ifndef LIDMARK_PAPER_SET_H
#define LIDMARK_PAPER_SET_H

#include "paper/page.h"
#include "paper/rows.h"
#include "paper/table.h"

enum { SHEET_NUMBER_SIZE = 64 };

/* A line of the list of sheets on the cover. */
typedef struct SheetListed {
    char number[SHEET_NUMBER_SIZE];
    char *title;
    int parts; /* tiles of a plan, 1: not tiled */
} SheetListed;

typedef struct SheetSet {
    const Envelope *envelope;
    const Plan *plan;
    const SheetOptions *options;
    GeomUnits units;
    Page page;
    RunRows runs;
    HoleRows holes;
    RowsFaces *faces;    /* by level */
    int *levels_up;      /* levels from the ground up */
    char *project, *job; /* name; address, lot, permit, builder on one line */
    char **level_names;
    Table joint_table, hole_table;
    Table *attic_tables; /* by level */
    double strip;        /* height of the title strip */
    bool mapped;         /* a sheet has a key map in it */
    PaintBox body;       /* of the sheet being made: where its contents stand */
    SheetListed *listed;
    int listed_count, listed_room;
    int page_count; /* of the whole set, once counted */
    Status status;
} SheetSet;

/* What stands in a sheet's title strip. */
typedef struct SheetTitle {
    char number[SHEET_NUMBER_SIZE];
    const char *title;                                                    /* "Ground floor plan" */
    double scale;                                                         /* 0: none */
    void (*map)(struct SheetSet *set, PaintBox box, const void *context); /* key map; NULL: none */
    const void *map_context;
} SheetTitle;

/* AS-602 and, on page part, AS-602b, AS-602c. */
void set_number(const SheetSet *set, int number, int part, char buffer[SHEET_NUMBER_SIZE]);
/* Starts a sheet: page, frame, title strip; body is then where its contents stand. */
void set_sheet(SheetSet *set, const SheetTitle *title);
/* Finds the body that a sheet with this title will have, without starting it. */
void set_probe(SheetSet *set, const SheetTitle *title);
/* Names a sheet in the list on the cover (while counting). */
void set_list(SheetSet *set, const char *number, const char *title, int parts);
/* Notes a failure; the first one stays. */
void set_fail(SheetSet *set, Status status);
/* Height the title strip needs for the longest of its texts; mapped: with a key map in it. */
double set_strip_height(SheetSet *set, bool mapped);
/* The title over a schedule or cover part: title at the left, a note at the right. Returns the y
 * under it. On small pages the head has said the title, and only the note is set. */
double set_page_title(SheetSet *set, const char *title, const char *note);
/* Lays a measured table over as many sheets as it needs. */
void set_table_sheets(SheetSet *set, Table *table, int number, const char *title,
                      const char *heading, const char *note);
/* True when a thing of this trade is listed. */
bool set_lists(const SheetSet *set, int trade);

/* A name for headings and strips: clean and, beyond 120 characters, ended by an ellipsis. */
char *set_name(const char *text);

/* ---- the sheets, each drawn or, while page.dry, only counted ------------------------------------ */

void cover_sheet(SheetSet *set);
void plan_sheets(SheetSet *set);
void attic_sheets(SheetSet *set);
/* False for a level with nothing inside and nothing to seal (an attic, a crawlspace): it has no
 * plan. */
bool plan_sheet_needed(const SheetSet *set, int level);
void joint_sheets(SheetSet *set);
void hole_sheets(SheetSet *set);
/* Their tables, filled once before the sheets are counted. */
/* level -1: of all levels; wide: a column for each text, else the form for narrow columns. */
void joint_table_fill(SheetSet *set, Table *table, int level, bool wide);
void hole_table_make(SheetSet *set);
void attic_tables_make(SheetSet *set);

#endif
