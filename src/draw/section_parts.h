/* What the files of the section drawing share. */
#ifndef LIDMARK_DRAW_SECTION_PARTS_H
#define LIDMARK_DRAW_SECTION_PARTS_H

#include "draw/section.h"

/* The section on the page: s and z in ticks go to device units at one scale. */
typedef struct SectionView {
    Painter *painter;
    const Air *air;
    const Envelope *envelope;
    const AirFlow *flow;
    const SectionCut *cut;
    const Theme *theme;
    double rp, scale, left, foot; /* foot: page y of z 0 */
    double z_low, z_high;         /* heights shown */
    PaintBox area, house;         /* house: where the cut is drawn */
} SectionView;

double section_x(const SectionView *view, double s);
double section_y(const SectionView *view, double z);
const Column *section_column(const SectionView *view, int strip);
/* Height of a part shown, clipped to the view. */
double section_low(const SectionView *view, const ColumnPart *part);
double section_high(const SectionView *view, const ColumnPart *part);

void section_house_draw(const SectionView *view);
void section_air_draw(const SectionView *view);
/* The group the line passes first, -1: none. */
int section_group(const SectionView *view);

#endif
