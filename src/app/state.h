/* The app's state, and what its parts call of each other. Only src/app looks in here. */
#ifndef LIDMARK_APP_STATE_H
#define LIDMARK_APP_STATE_H

#include "app/app.h"
#include "app/choice.h"
#include "app/command.h"
#include "app/field.h"
#include "app/gesture.h"
#include "app/snap.h"
#include "draw/plan_drawing.h"

typedef enum Hand { HAND_PICK, HAND_ROOM, HAND_JOINT, HAND_HOLE, HAND_MEASURE, HAND_COUNT } Hand;

typedef enum Card {
    CARD_NONE,
    CARD_START, /* to open or begin a plan; covers all */
    CARD_NEW,
    CARD_SAVE_AS,
    CARD_SHEETS,
    CARD_KEYS,
    CARD_UNSAVED,
    CARD_REMOVE_LEVEL,
    CARD_ERROR
} Card;

/* What the panel shows when it is not what is selected or in the hand. */
typedef enum Panel {
    PANEL_AUTO,
    PANEL_LID,
    PANEL_JOINTS,
    PANEL_SQUARE,
    PANEL_LEAKS,
    PANEL_PERIMETER,
    PANEL_INSIDE,
    PANEL_FINDINGS,
    PANEL_LEVEL,
    PANEL_PLAN,
    PANEL_FIND,
    PANEL_HISTORY
} Panel;

typedef enum Drawer {
    DRAWER_NONE,
    DRAWER_KINDS,
    DRAWER_SPACES,
    DRAWER_METHODS,
    DRAWER_LEVELS,
    DRAWER_PAD
} Drawer;

typedef enum Thing { THING_NONE, THING_HOLE, THING_RUN, THING_SPACE, THING_WALL } Thing;
typedef enum Scope { SCOPE_THIS, SCOPE_ROOM, SCOPE_LIKE, SCOPE_LEVEL, SCOPE_COUNT } Scope;
typedef enum NewLevel { NEW_LEVEL_ABOVE, NEW_LEVEL_ATTIC, NEW_LEVEL_BELOW } NewLevel;

/* What is selected. index is that of the penetration, the joint piece, the space or the overlay
 * edge in the result at hand; the rest finds it again in the next. */
typedef struct Selection {
    Thing thing;
    int index;
    uint64_t id;      /* hash of the record's id */
    GeomPoint at, to; /* of a run: a place on it; of a wall: its ends */
    int level;
    JointClass joint;
    Scope scope;
} Selection;

enum { ROOM_CORNERS = 64, LATELY = 9, MEASURED = 16, RECENT = 6, TYPED = 32 };

typedef struct RoomHand {
    GeomPoint corners[ROOM_CORNERS];
    int count;
    SpaceKind kind;
    bool dragging; /* a rectangle from corners[0] */
    char name[96];
    bool own_name; /* typed, not proposed */
} RoomHand;

typedef struct JointHand {
    int method, trade, stage; /* trade, stage -1: the usual ones of the joint */
    double gap_mm;            /* NAN: the usual one */
    int placed;
    double placed_length; /* ticks */
    bool dragging;
    int run;         /* of the part being dragged */
    double from, to; /* along the run, ticks */
} JointHand;

typedef struct HoleHand {
    int kind; /* -1: none yet */
    double size_mm[PLAN_SIZE_MAX], gap_mm;
    int method, trade, stage;
    int8_t ic_rated, airtight_label;
    int placed;
    int lately[LATELY], lately_count;
    bool dragging; /* a row */
    GeomPoint from;
    int32_t step; /* between the holes of a row */
} HoleHand;

typedef struct MeasureHand {
    GeomPoint ends[MEASURED * 2];
    int count; /* ends */
} MeasureHand;

/* A thing being dragged with Pick. */
typedef enum DragWhat {
    DRAG_NOTHING,
    DRAG_PAN,
    DRAG_HOLE,
    DRAG_SPACE,
    DRAG_CORNER,
    DRAG_EDGE,
    DRAG_SEAL_END,
    DRAG_SQUARE
} DragWhat;
typedef struct PickDrag {
    DragWhat what;
    int index, part; /* record; corner, edge or end */
    GeomPoint from, to;
    double grip_x, grip_y; /* from the pointer to the thing's own place, pixels */
} PickDrag;

typedef struct Recent {
    char *path;
    Plan *plan;
    Envelope *envelope;
    bool asked, missing;
} Recent;

/* One listed folder for the choosers. */
typedef struct Folder {
    char path[TEXT_FIELD_SIZE], asked[TEXT_FIELD_SIZE]; /* asked: as it was typed */
    struct FolderRow {
        char name[192], date[32];
        bool folder;
        int plans;
        double bytes;
    } * rows;
    int count, capacity;
    int chosen; /* row, -1 */
} Folder;

/* What is being waited for from outside. */
typedef enum After { AFTER_NOTHING, AFTER_OPEN, AFTER_NEW, AFTER_QUIT } After;

/* How far something that does not fit is scrolled, pixels. */
typedef struct Scroll {
    double at, most;
} Scroll;

/* Joint pieces lit on the plan because their row of a list was tapped. */
typedef struct Lit {
    bool on, lid_only;
    JointClass joint;
    int level;
    SpaceKind to;
} Lit;

struct App {
    const Catalog *catalog;
    uint64_t seed;
    /* the plan and what follows from it */
    PlanDoc *doc; /* NULL: none open */
    Plan *mended; /* while the plan has an error: the copy that could be derived for drawing */
    Envelope *envelope; /* of the plan, else of mended */
    struct AppAir *air; /* of the envelope (leaks.h); NULL with an error or without memory */
    Fault plan_fault;   /* why there are no totals; status OK when there are */
    int error_spaces[2];
    uint64_t saved, saving;     /* revisions: as it lies on the disk, as it is being written */
    char path[TEXT_FIELD_SIZE]; /* "" : not saved yet */
    char saved_at[32];
    char title[192];
    /* the screen */
    Card card, under; /* under: what a closed card goes back to */
    Drawer drawer;
    Panel panel;
    Choice picker; /* list that is open, CHOICE_NONE */
    Field field;   /* being typed into, FIELD_NONE */
    TextField text;
    char text_fault[FAULT_TEXT_SIZE];
    Scroll panel_scroll, list_scroll, card_scroll;
    double scroll_from; /* where a finger that scrolls was last */
    /* drawing */
    DrawList list;
    Ui ui;
    double width, height, scale, dpi;
    double window_scale, larger; /* scale is the one times the other */
    bool touch;
    const Theme *theme;
    PaintBox canvas, stack, panel_box;
    double clear_width,
        clear_height;            /* of the canvas, from its upper left corner: clear of the panel */
    PaintBox tray, level_button; /* where drawers hang */
    PaintBox *stack_boxes;
    int stack_box_capacity;
    /* the view of the plan: place of the canvas's upper left corner, pixels a tick */
    double view_x, view_y, view_scale;
    bool fit_wanted, fitted; /* fitted: it shows the whole house and goes on to */
    int level;
    unsigned planes;
    bool only_open;
    unsigned snapping;
    bool no_snap, square_only; /* Alt, Shift held */
    /* hands */
    Hand hand;
    RoomHand room;
    JointHand joint;
    HoleHand hole;
    MeasureHand measured;
    PickDrag drag;
    Selection selection;
    double tap_x, tap_y; /* last tap with Pick, for taking the next thing there */
    int tap_turn;
    char typed[TYPED]; /* a length being typed */
    char typed_fault[FAULT_TEXT_SIZE];
    bool hovering;           /* the mouse or the keyboard's cursor is over the canvas */
    bool by_keys;            /* the cursor is the keyboard's */
    double hover_x, hover_y; /* canvas pixels */
    bool space_held;
    GeomPoint square; /* where the square hole lies when it was dragged onto the plan */
    bool square_out;
    int stack_drag; /* level whose height is dragged, -1 */
    int32_t stack_height;
    /* input */
    Gestures gestures;
    char grabbed[WIDGET_PATH]; /* the widget a gesture began on */
    double now;
    /* files */
    Recent recent[RECENT];
    int recent_count;
    Folder folder;
    char samples[TEXT_FIELD_SIZE];
    char asked_path[TEXT_FIELD_SIZE]; /* being opened or saved */
    After after;                      /* what to do once it is saved or dropped */
    char after_path[TEXT_FIELD_SIZE];
    Fault fault; /* shown on the error card */
    bool fault_of_save;
    char *fault_bytes; /* of the file at fault, for the line shown */
    GroundKind new_ground;
    GeomUnits new_units;
    bool new_outside, new_sheathing;
    char new_name[96];
    double new_outer_mm, new_inner_mm;
    int sheet_size;
    char open_path[TEXT_FIELD_SIZE], save_path[TEXT_FIELD_SIZE];
    char sheet_path[TEXT_FIELD_SIZE], sheet_asked[TEXT_FIELD_SIZE];
    char find[96];
    Lit lit;
    bool rank_now;                /* leaks are ranked by what moves now, not by 50 Pa */
    int finding;                  /* of the envelope's notes, shown on the plan; -1 */
    char notice[FAULT_TEXT_SIZE]; /* one line at the canvas's foot, until the next input */
    Wish *wishes;
    int wish_count, wish_capacity;
    bool no_memory;
};

/* ---- derive.c: the plan and what follows from it --------------------------------------------- */

const Plan *
app_shown_plan(const App *app); /* what the envelope is of; the plan when there is none */
/* Derives anew after a change; keeps the selection. */
void app_derive(App *app);
/* Forgets what was derived: before the plan changes. */
void derive_forget(App *app);
/* Takes a plan over as the one being worked on (NULL: none). */
void app_take_plan(App *app, Plan *plan, const char *path);
bool app_unsaved(const App *app);

/* ---- edit.c: changes ------------------------------------------------------------------------- */

/* Between these the plan may be changed; false when there is no memory. Label: of the Undo
 * button. */
bool edit_begin(App *app, const char *label, ...) __attribute__((format(printf, 2, 3)));
/* ok false takes back what was done. Returns ok. */
bool edit_end(App *app, bool ok);
/* A copy of a record to be changed and put back by edit_put within a step. */
bool edit_take(App *app, PlanTable table, int index, PlanRecord *record);
bool edit_put(App *app, PlanTable table, int index, PlanRecord *record);
/* Puts a copy of text in the place of an owned one. */
bool edit_text(char **owned, const char *text);

/* ---- view.c ---------------------------------------------------------------------------------- */

PlanView app_view(const App *app);
PlanLook app_look(const App *app);
void view_fit_all(App *app);
void view_zoom(App *app, double by, double x, double y); /* x, y: window pixels that stay */
void view_pan(App *app, double dx, double dy);
double app_ticks(const App *app, double pixels);
GeomPoint app_at(const App *app, double x, double y); /* canvas pixels to ticks */
int32_t app_grid(const App *app);
/* Pixels of one reference pixel on the canvas: larger where fingers work on a fine display. */
double canvas_rp(const App *app);
double app_target(const App *app); /* radius of a target in pixels */

/* ---- hit.c: what is at a place of the canvas ------------------------------------------------- */

typedef struct Hit {
    Thing thing;
    int index; /* penetration, joint piece, space, overlay edge */
    double distance;
} Hit;
/* All things there, the nearest kind first: holes, runs (one piece each), walls, spaces. */
int hit_all(const App *app, double x, double y, Hit *hits, int limit);
int hit_hole(const App *app, double x, double y);
int hit_piece(const App *app, double x, double y);
int hit_space(const App *app, double x, double y);

/* ---- select.c -------------------------------------------------------------------------------- */

void select_none(App *app);
void select_thing(App *app, Thing thing, int index);
/* Finds the selected thing again after a change. */
void select_again(App *app);
void select_at(App *app, double x, double y);
void select_next(App *app, int step);
/* Things of the scope: penetrations or joint pieces (one of each run). Returns how many there
 * are. */
int select_scope(const App *app, int *items, int limit);
bool select_in_scope(const App *app, Thing thing, int index);
const char *scope_name(const App *app, Scope scope, char *buffer, size_t size);
void remove_selected(App *app);

/* ---- show.c ---------------------------------------------------------------------------------- */

/* Goes to a hole, a run or a space by name: its level, its plane switched on, taken with Pick and
 * in view. */
void thing_show(App *app, Thing thing, int index);
/* Moves the view so that a place outside it, or under the panel, is in its middle. */
void place_show(App *app, GeomPoint at);

/* ---- runs (run.c) ---------------------------------------------------------------------------- */

/* A run as one straight stretch: where it begins and ends, how P lies to it. */
typedef struct Run {
    int first; /* a piece of it */
    GeomPoint from, to;
    double length; /* ticks, of its pieces */
    bool left;     /* P lies left of from to to */
} Run;
bool run_of(const Envelope *envelope, int piece, Run *run);
/* The side on which the joint line's P lies, as a seal from from to to says it. */
PlanSide run_side(JointClass joint, bool left);
/* Within a step: a new seal's record for a stretch of a joint line, with the usual trade and stage
 * and a tag. */
bool seal_fresh(App *app, const JointPiece *joint, bool left, GeomPoint from, GeomPoint to,
                PlanRecord *record);
GeomPoint piece_end(const Envelope *envelope, int piece, bool far);
/* True when a piece is taken with another: the same seal, or the same run where there is none
 * yet. */
bool piece_with(const Envelope *envelope, int own, int other);
/* Length along the run of the place nearest to p, ticks from run->from. */
double run_along(const Run *run, double x, double y);
GeomPoint run_place(const Run *run, double along);
/* Seals a stretch of a run with what is in the hand; within no step. Returns false when it
 * failed. */
bool seal_run(App *app, int piece);
bool seal_part(App *app, int piece, double from, double to);
bool seal_room(App *app, int space);

/* ---- hands (hand_*.c): gestures on the canvas, in canvas pixels ------------------------------ */

void hand_take(App *app, Hand hand);
void hand_put_down(App *app);
void hand_gesture(App *app, const Gesture *gesture);
void pick_gesture(App *app, const Gesture *gesture);
void room_gesture(App *app, const Gesture *gesture);
void joint_gesture(App *app, const Gesture *gesture);
void hole_gesture(App *app, const Gesture *gesture);
void measure_gesture(App *app, const Gesture *gesture);
/* Snaps a place for the hand at hand. */
Snap hand_snap(const App *app, double x, double y);
void room_corner(App *app, GeomPoint at);
void room_set(App *app); /* Enter: typed length or the cursor */
void room_close(App *app);
void room_wall_only(App *app); /* two corners: a wall inside a room */
void room_take_back(App *app);
void room_drop(App *app);
void room_propose_name(App *app);
void room_name(App *app, const char *name); /* with a number where the plan has that name */
int room_usual_names(void);
const char *room_usual_name(int index);
/* The corner a typed length would set; false with the reason in typed_fault. */
bool room_typed_corner(App *app, GeomPoint *at);
void hole_take_kind(App *app, int kind);
bool hole_place(App *app, GeomPoint at);
GeomPoint hole_snap(const App *app, double x, double y, int kind, int skip,
                    char reason[SNAP_REASON]);
int hole_row_count(const App *app, GeomPoint from, GeomPoint to);
void type_length(App *app, const char *text);
/* Grips at the ends of the selected seal: where they are now, where they are drawn. */
bool seal_grips(const App *app, GeomPoint ends[2]);
void seal_grip_place(const App *app, GeomPoint end, double *x, double *y);
bool seal_grip_begin(App *app, const Gesture *gesture);
void seal_grip_move(App *app, const Gesture *gesture);
void seal_grip_end(App *app);
/* The outline of the selected space as the drag would leave it; returns the corners. */
int drag_outline(const App *app, GeomPoint *outline, int limit);

/* ---- levels.c -------------------------------------------------------------------------------- */

void level_go(App *app, int level);
void level_step(App *app, int step);
void level_add(App *app, NewLevel which);
void level_remove(App *app, int level);
void stack_gesture(App *app, const Gesture *gesture);
/* Levels from the lowest floor up. */
int levels_by_height(const Plan *plan, int *order, int limit);

/* ---- files.c --------------------------------------------------------------------------------- */

void wishes_clear(App *app);
void wish(App *app, WishKind kind, const char *path, const char *bytes, size_t length);
void files_open(App *app, const char *path); /* asks first when there are unsaved changes */
void files_opened(App *app, const Input *input);
void files_save(App *app, const char *path); /* NULL: where it came from, else asks */
void files_saved(App *app, const Input *input);
void files_listed(App *app, const Input *input);
void files_remembered(App *app, const Input *input);
void files_list(App *app, const char *path);
void files_start(App *app);
void files_after(App *app, After after, const char *path);
void files_go_on(App *app); /* what came after the question about unsaved changes */
void files_create(App *app);
void files_follow(App *app, const char *path);
bool files_complete(const App *app, char path[TEXT_FIELD_SIZE]);
void path_folder(const char *path, char folder[TEXT_FIELD_SIZE]);
void path_join(const char *folder, const char *name, char path[TEXT_FIELD_SIZE]);
void recent_ask(App *app);
void sheets_card(App *app);
void files_sheets(App *app);
void show_fault(App *app, const Fault *fault);
void leave_cards(App *app); /* back to the plan */
void recent_free(App *app);

/* ---- command.c, keys.c, input.c -------------------------------------------------------------- */

void command_do(App *app, Action action);
bool field_key(App *app, int key, unsigned mods);
bool keys_do(App *app, int key, unsigned mods);
void text_typed(App *app, const char *text);
void pad_typed(App *app, Action action);
void field_begin(App *app, Field field);
/* Takes over what was typed; false when it cannot be taken (the field stays). */
bool field_end(App *app, bool take);
void input_take(App *app, const Input *input);
void gesture_take(App *app, const Gesture *gesture);

/* ---- frame.c and the parts of the screen ----------------------------------------------------- */

void frame_build(App *app);
/* What the wheel scrolls where nothing else is under it: the list, card or panel in front. */
Scroll *scroll_front(App *app);
void head_build(App *app, PaintBox box);
void stack_build(App *app, PaintBox box);
void tray_build(App *app, PaintBox box);
/* Of the strip, for rows of so many reference pixels. */
double strip_height(const App *app, double row);
void strip_build(App *app, PaintBox box);
void panel_build(App *app, PaintBox box);
bool panel_wanted(const App *app);
bool plan_is_empty(const App *app);
void pad_build(App *app);
void empty_build(App *app);
void drawer_build(App *app);
void picker_build(App *app);
void card_build(App *app);
void start_build(App *app);
/* A card over the work; returns the box inside its frame. */
PaintBox card_frame(App *app, double width, double height, Colour bar);
void panel_hole(App *app, Parts *parts);
void panel_run(App *app, Parts *parts);
void panel_space(App *app, Parts *parts);
void panel_wall(App *app, Parts *parts);
void panel_level(App *app, Parts *parts);
void panel_plan(App *app, Parts *parts);
void panel_hand(App *app, Parts *parts);
void panel_list(App *app, Parts *parts);
void panel_found(App *app, int row);
void panel_row(App *app, int row); /* a row of a list of joints was tapped */
void panel_finding(App *app, int index);
void chooser_build(App *app, PaintBox box, bool saving);

/* ---- say.c: numbers and places in words ------------------------------------------------------ */

enum { WORDS = 160 };
GeomUnits app_units(const App *app);
void say_clean(char *text); /* takes out what a cut left of a character */
/* The minus sign in the place of a hyphen before a number. */
const char *say_minus(char buffer[WORDS]);
const char *say_length(const App *app, double ticks, char buffer[WORDS]);
const char *say_height(const App *app, double ticks, char buffer[WORDS]); /* the datum is 0 */
const char *say_mm(const App *app, double mm, char buffer[WORDS]); /* a long length */
const char *say_small(const App *app, double mm,
                      char buffer[WORDS]); /* a gap, a size: 1/8 in, 3 mm */
const char *say_hole(const App *app, double area_mm2, char buffer[WORDS]); /* 27 sq in */
const char *say_area(const App *app, double area_mm2, char buffer[WORDS]); /* 240 sq ft */
const char *say_volume(const App *app, double volume_mm3, char buffer[WORDS]);
const char *say_opens(SpaceKind kind, bool ground,
                      char buffer[WORDS]); /* Opens to the vented attic. */
const char *say_side(const App *app, const Run *run, char buffer[WORDS]); /* east wall */
const char *say_joint(const App *app, JointClass joint);
const char *level_name(const Plan *plan, int level);
const char *space_name(const Plan *plan, int space);

/* ---- canvas.c, picture.c --------------------------------------------------------------------- */

/* Scale bar, north, the grid's step: where they are whatever part of the plan is seen. */
void canvas_furniture(const App *app, Painter *painter, const PlanView *view);
uint64_t over_key(const App *app);              /* of the canvas with all that hangs over it */
bool square_box(const App *app, PaintBox *box); /* where the square hole is, canvas pixels */
void picture_paint(const App *app, const DrawCommand *command, Painter *painter);

#endif
