/* Parts that several panels are made of. */
#ifndef LIDMARK_APP_PANEL_H
#define LIDMARK_APP_PANEL_H

#include "app/state.h"

/* A card with a hole's size in words and as a square beside it. */
void panel_gauge_square(App *app, Parts *parts, const char *first, const char *second,
                        double area_mm2);
void panel_picker(App *app, Parts *parts, Choice choice, const char *label);
void panel_choices(App *app, Parts *parts, Choice choice, const char *label);
void panel_field(App *app, Parts *parts, Field field);
void panel_two_fields(App *app, Parts *parts, Field left, Field right);
/* Seal with ... by ... before ... */
void panel_seal(App *app, Parts *parts);
/* Size and gap of a kind of hole, as many fields as it has. */
void panel_sizes(App *app, Parts *parts, const CatalogKind *kind);
/* A row of a list: a name and a figure, smaller text under it; wrapped, never cut. */
typedef struct PanelRow {
    const char *path, *name, *figure, *below;
    bool on;
    Action action; /* DO_NOTHING: it only tells */
} PanelRow;
void panel_tap_row(App *app, Parts *parts, const PanelRow *row);
void panel_line(App *app, Parts *parts, const char *name, const char *figure, const char *below);
void panel_caution(const App *app, Parts *parts, const char *caution);

#endif
