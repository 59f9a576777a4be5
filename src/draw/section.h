/* The section: the house cut along a line, with the pressures inside and what flows through the holes
 * near the line. */
#ifndef LIDMARK_DRAW_SECTION_H
#define LIDMARK_DRAW_SECTION_H

#include "draw/painter.h"
#include "draw/theme.h"
#include "lidmark/air.h"

/* A stretch of the cut line over one face, from s0 to s1 (ticks along the line). edge: the overlay edge
 * crossed at s0, -1 at the line's beginning; t: where on that edge. */
typedef struct SectionStrip {
    double s0, s1;
    int cover, edge;
    double t;
} SectionStrip;

typedef struct SectionCut {
    GeomPoint from, to;
    double length; /* ticks */
    SectionStrip *strips;
    int strip_count;
} SectionCut;

/* Cuts along from..to; a point of the plan exactly on the line counts as lying left of it. The strips
 * cover the whole line. Free with section_cut_free. STATUS_BAD_INPUT when from is to. */
Status section_cut_make(const Envelope *envelope, GeomPoint from, GeomPoint to, SectionCut *cut,
                        Fault *fault);
void section_cut_free(SectionCut *cut);

/* Where the house is cut. */
typedef struct SectionLine {
    GeomPoint from, to;
} SectionLine;

/* The line along x or y, through the whole plan with a margin, near which and across which most air
 * flows, kept clear of the walls that run along it. False for an empty plan. */
bool section_usual_line(const Air *air, const AirFlow *flow, SectionLine *line);
/* Moves the ends outward until the line passes the whole plan with a margin; a line without length stays
 * as it is. */
void section_line_lengthen(const GeomOverlay *overlay, SectionLine *line);
/* What flows through a joint piece, m3/s: its share of its leak's flow; 0 without a leak. */
double section_piece_flow(const Air *air, const AirFlow *flow, int piece);

/* What is drawn along with the house. */
typedef struct SectionLook {
    const Theme *theme;
    double rp;
    bool holes; /* symbols and arrows; else the house alone */
} SectionLook;

/* Draws the cut in area: levels, attics, shafts, framing, ground; holes within 1.2 m of the line at
 * their heights with arrows by flow (filled out, hollow in); the pressure line of the first group the
 * line passes, with the neutral levels of all. Returns device units a tick, 0: the line passes no
 * space and nothing is drawn. */
double section_draw(Painter *painter, const Air *air, const AirFlow *flow, const SectionCut *cut,
                    const SectionLook *look, PaintBox area);

/* "84 cfm", "5.4 L/s": its size alone. Returns buffer. */
enum { SECTION_FLOW_SIZE = 40 };
const char *section_flow_print(double m3_s, GeomUnits units, char buffer[SECTION_FLOW_SIZE]);

/* An arrow to the right from x, y: filled out of the house, or hollow and turned round, into it. */
void section_draw_arrow(Painter *painter, const Theme *theme, double x, double y, double width,
                        double length, bool out, double rp);

/* How many groups of the air a cut passes; -1: it passes no space at all. */
int section_groups_cut(const Air *air, const SectionCut *cut);

/* The whole picture with its heading, as PNG or SVG by the path's ending; line NULL: the usual one, else
 * one that is lengthened through the whole plan. STATUS_BAD_INPUT when there is nothing to cut, from is
 * to, or the line passes no space. */
Status picture_section(const Air *air, const AirFlow *flow, const SectionLine *line,
                       const char *path, Fault *fault);

#endif
