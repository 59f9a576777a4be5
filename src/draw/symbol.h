/* Symbols of the kinds, in their states, and the marks of the joint bands. */
#ifndef LIDMARK_DRAW_SYMBOL_H
#define LIDMARK_DRAW_SYMBOL_H

#include "draw/painter.h"
#include "draw/theme.h"

/* Draws the symbol of that name (CatalogKind.symbol; an unknown name gives a diamond with its first
 * letter) centred at x, y, size device units wide, in a state. turn: radians, for symbols that
 * stand on a wall. rp: device units of one reference pixel, for line widths, halo, and the state's
 * mark. */
void symbol_draw(Painter *painter, const Theme *theme, const char *name, ShownState shown, double x,
                 double y, double size, double turn, double rp);
/* True when the symbol stands at a wall and turns with it, its foot to the wall. */
bool symbol_turns(const char *name);
/* True when its middle is on the wall line (windows, doors, ducts through the wall). */
bool symbol_in_wall(const char *name);
/* True when there is such a symbol. */
bool symbol_known(const char *name);
/* The ring (in black and white a yellow disc) round a symbol that is selected; drawn before it. */
void symbol_ring_draw(Painter *painter, const Theme *theme, double x, double y, double size,
                      double rp);
/* A tick centred at x, y, half a width of reach: what is seen. */
void tick_draw(Painter *painter, Colour colour, double x, double y, double reach, double width);

/* How a stretch of a joint is drawn: from x0,y0 to x1,y1 along its centre line (device units). bay:
 * twice as wide with rungs. partition: the narrower band. plate: letter for the plates, from the
 * method; plates and crosses only where the stretch is long enough. */
typedef struct BandLook {
    ShownState shown;
    bool bay, partition;
    char plate;
    double stagger; /* plates stand so many reference pixels further on, clear of the next lane's */
} BandLook;
void band_draw(Painter *painter, const Theme *theme, const BandLook *look, double x0, double y0,
               double x1, double y1, double rp);

/* Fills the path made so far with the ground and texture of a space's kind, textures anchored at
 * ax, ay so that a kind runs on across neighbours. The path is consumed. */
void texture_fill(Painter *painter, const Theme *theme, SpaceKind kind, double ax, double ay,
                  double rp);
/* The lines from corner to corner of an open shaft's box: the drafter's void. */
void texture_cross(Painter *painter, const Theme *theme, PaintBox box, double rp);
/* The pale marks of what lies over a room's lid, over the path made so far (vented attic chevrons,
 * outdoors rings, others nothing). The path is consumed. */
void texture_lid(Painter *painter, const Theme *theme, SpaceKind above, double ax, double ay,
                 double rp);

/* True when what lies over a lid has marks. */
bool texture_on_lid(SpaceKind above);

#endif
