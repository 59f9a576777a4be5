/* What a cell says of a run or a hole: the same words on every sheet. */
#ifndef LIDMARK_PAPER_TEXTS_H
#define LIDMARK_PAPER_TEXTS_H

#include "draw/symbol.h"
#include "paper/rows.h"
#include "paper/words.h"

#define TEXT_DASH "\xE2\x80\x93"
#define TEXT_NBSP "\xC2\xA0"

/* Buffers of texts that hold words of the plan or the catalog. */
enum { TEXTS_SIZE = 512 };

/* "Told done". */
const char *text_state(ShownState shown, char buffer[TEXTS_SIZE]);
/* "Gasket", "Not chosen". */
const char *text_method(const Catalog *catalog, int method);
/* "–" without one. */
const char *text_trade(const Catalog *catalog, int trade);
const char *text_stage(const Catalog *catalog, int stage);
/* When it was told, or in brackets covered: "2026-04-20", "(2026-04-24)", "no date", "–". */
const char *text_told(ShownState shown, const char *told_on, const char *covered_on,
                      char buffer[TEXTS_SIZE]);
/* "W 3'-4"", "S wall". */
const char *text_offset(const HoleOffset *offset, GeomUnits units, char buffer[WORDS_SIZE]);
/* Said where the outside faces are not known: " No wall thickness is given: ..."; else "". */
const char *text_faces_note(const PlanSettings *settings);
/* Size as given, else the usual one of the kind. */
const char *text_hole_size(const Plan *plan, const PlanPenetration *hole, GeomUnits units,
                           char buffer[WORDS_SIZE]);
/* Gap as given, else the usual one; "open" for openings, "" for an area given. */
const char *text_hole_gap(const Plan *plan, const PlanPenetration *hole, GeomUnits units,
                          char buffer[WORDS_SIZE]);
/* Height above the floor of a wall hole, "" for others. */
const char *text_above(const Plan *plan, const PlanPenetration *hole, GeomUnits units,
                       char buffer[WORDS_SIZE]);
/* The user's note and what the program has to say of it; the caller's, NULL without memory. */
char *text_hole_note(const Envelope *envelope, const HoleRow *row);
char *text_run_note(const Envelope *envelope, const RunRow *row);
/* "Bath", "outside every room". */
const char *text_room(const Plan *plan, int space);
/* How a run is drawn as a line sample; its method is said in words, not by a letter. */
BandLook text_run_band(const RunRow *row);

#endif
