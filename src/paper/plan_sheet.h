/* What the plan sheets and the attic sheets have in common: a drawing, whole or in tiles, and a key
 * beside it, under it or on a page of its own. */
#ifndef LIDMARK_PAPER_PLAN_SHEET_H
#define LIDMARK_PAPER_PLAN_SHEET_H

#include "paper/drawing.h"
#include "paper/key.h"

/* The rooms of one sheet, mm. */
typedef struct PlanRooms {
    PaintBox drawing, side; /* side: of the key, or of the attic's list */
    int key_columns;
    bool key_apart; /* the key has a page of its own */
} PlanRooms;

/* A level's sheets. */
typedef struct PlanSheet {
    Drawing drawing;
    PlanRooms rooms;
    KeyUse use;    /* of the whole level */
    PaintBox body; /* of a sheet without a key map */
    bool listed;   /* a list of the caller's stands beside it, in place of the key */
    char *title;
} PlanSheet;

/* Starts a level's sheets: title and use. side: least width of the column beside the drawing, 0:
 * that of the key. Fails into set. */
void plan_sheet_start(SheetSet *set, PlanSheet *sheet, int level, bool attic_side, int number,
                      double side);
void plan_sheet_free(PlanSheet *sheet);
/* The scale that suits the sheet alone. */
double plan_sheet_scale(const SheetSet *set, const PlanSheet *sheet);
/* Sets scale and tiles. */
void plan_sheet_fit(SheetSet *set, PlanSheet *sheet, double scale);
/* Draws all its sheets. side, when not NULL, draws what stands beside a drawing that is whole, in
 * place of the key; it is not called on small pages and for tiles. */
typedef void PlanSideDraw(SheetSet *set, const PlanSheet *sheet, void *context);
void plan_sheet_draw(SheetSet *set, const PlanSheet *sheet, PlanSideDraw *side, void *context);

#endif
