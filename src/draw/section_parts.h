/* What the files of the section drawing share. */
#ifndef LIDMARK_DRAW_SECTION_PARTS_H
#define LIDMARK_DRAW_SECTION_PARTS_H

#include "draw/label_field.h"
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
    double s_low, s_high;         /* between them spaces stand */
    PaintBox area;
    LabelField *taken; /* what texts keep clear of */
} SectionView;

double section_x(const SectionView *view, double s);
double section_y(const SectionView *view, double z);
const Column *section_column(const SectionView *view, int strip);
/* Height of a part shown, clipped to the view. */
double section_low(const SectionView *view, const ColumnPart *part);
double section_high(const SectionView *view, const ColumnPart *part);

/* A middle that a text may have. */
typedef struct SectionSpot {
    double x, y;
} SectionSpot;

/* Writes a text (anchored in its middle) at the spot where it covers least, earlier spots rather than
 * later ones, and takes its place; nowhere when each costs most or more. */
void section_write(const SectionView *view, const char *text, const TextStyle *style,
                   const SectionSpot *spots, int count, double most);

/* Something air passes, at a place of the section. */
typedef struct Passage {
    double s, z, q;  /* q: m3/s, positive out of the house */
    bool up;         /* through a lid or a floor; else sideways */
    int sign;        /* out of the house is: +1 up or to the right, -1 down or to the left */
    int hole;        /* penetration, -1: joints */
    const char *tag; /* of the hole or the seal, "": none */
    bool face_on;    /* in a plane that the line does not cut here: before or behind it */
} Passage;

typedef struct Passages {
    Passage *items; /* by flow, the largest first */
    int count, capacity;
    double most;
} Passages;

/* Free items with mem_free. */
void section_passages_find(const SectionView *view, Passages *passages);

/* Groups of the air that the line passes. */
int section_group_count(const SectionView *view);

void section_house_draw(const SectionView *view);
/* Before the names, which keep clear of it. */
void section_air_draw(const SectionView *view);
void section_names_draw(const SectionView *view);

#endif
