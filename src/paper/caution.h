/* The cautions that a plan calls for, in our own words; the local code, the label and licensed
 * practice decide. */
#ifndef LIDMARK_PAPER_CAUTION_H
#define LIDMARK_PAPER_CAUTION_H

#include "paper/rows.h"

enum { CAUTIONS_MAX = 16 };

/* Writes the texts a plan calls for, most dangerous first; returns how many. attic_only: those for
 * work on the attic side. */
int cautions_for(const Envelope *envelope, bool attic_only, const char *texts[CAUTIONS_MAX]);

/* The paragraph that stands on every cover. */
extern const char caution_standing[];

#endif
