#include "draw/theme.h"

/* Okabe and Ito's set, and neutrals. A state is never told by its colour alone. */
#define SKY        0x56B4E9FF
#define GREEN      0x009E73FF
#define PURPLE     0xCC79A7FF
#define ORANGE     0xE69F00FF
#define VERMILLION 0xD55E00FF
#define BLUE       0x0072B2FF
#define YELLOW     0xF0E442FF
#define BLACK      0x000000FF
#define WHITE      0xFFFFFFFF
#define DAY_INK    0x171C20FF
#define DAY_FAINT  0x8A949AFF

#define DAY_STATES                                                                       \
    {                                                                                    \
        [SHOWN_NO_SEAL] = PURPLE, [SHOWN_PLANNED] = ORANGE, [SHOWN_FAILED] = VERMILLION, \
        [SHOWN_TOLD] = SKY, [SHOWN_COVERED] = DAY_FAINT, [SHOWN_SEEN] = GREEN,           \
        [SHOWN_ABSENT] = DAY_FAINT                                                       \
    }
#define DAY_FILLS                                                                                 \
    {                                                                                             \
        [SHOWN_NO_SEAL] = 0xF3D3E4FF, [SHOWN_PLANNED] = 0xFBDC94FF, [SHOWN_FAILED] = 0xFBDCC8FF,  \
        [SHOWN_TOLD] = SKY, [SHOWN_COVERED] = WHITE, [SHOWN_SEEN] = GREEN, [SHOWN_ABSENT] = WHITE \
    }
#define DETAILS(open, told, absent)                                                  \
    {                                                                                \
        [SHOWN_NO_SEAL] = (open), [SHOWN_PLANNED] = (open), [SHOWN_FAILED] = (open), \
        [SHOWN_TOLD] = (told), [SHOWN_COVERED] = (open), [SHOWN_SEEN] = WHITE,       \
        [SHOWN_ABSENT] = (absent)                                                    \
    }
#define BLACK_STATES                                                              \
    {                                                                             \
        [SHOWN_NO_SEAL] = WHITE, [SHOWN_PLANNED] = WHITE, [SHOWN_FAILED] = BLACK, \
        [SHOWN_TOLD] = BLACK, [SHOWN_COVERED] = BLACK, [SHOWN_SEEN] = BLACK,      \
        [SHOWN_ABSENT] = BLACK                                                    \
    }
#define BLACK_FILLS                                                               \
    {                                                                             \
        [SHOWN_NO_SEAL] = WHITE, [SHOWN_PLANNED] = WHITE, [SHOWN_FAILED] = WHITE, \
        [SHOWN_TOLD] = BLACK, [SHOWN_COVERED] = WHITE, [SHOWN_SEEN] = BLACK,      \
        [SHOWN_ABSENT] = WHITE                                                    \
    }

const Theme theme_day = {
    .name = "day",
    .ink = DAY_INK,
    .ink2 = 0x49535AFF,
    .faint = DAY_FAINT,
    .rule = 0xCDD3D4FF,
    .panel = 0xF5F6F4FF,
    .card = WHITE,
    .canvas = 0xE6E9E8FF,
    .grid = 0xDADEDDFF,
    .grid_heavy = 0xCDD3D4FF,
    .inside = WHITE,
    .tone = 0xD3D8D8FF,
    .tone2 = 0xC3C9CAFF,
    .texture = 0x838D91FF,
    .wall = 0x5B656BFF,
    .act = BLUE,
    .act_text = 0x00619AFF,
    .on_act = WHITE,
    .act_soft = 0xDCECF6FF,
    .fail_text = 0xA94400FF,
    .good_text = 0x00714FFF,
    .warm = 0xC25400FF,
    .cold = BLUE,
    .halo = WHITE,
    .state = DAY_STATES,
    .state_fill = DAY_FILLS,
    .detail = DETAILS(DAY_INK, DAY_INK, DAY_FAINT),
    .weight = 1.0,
    .texture_opacity = 0.55,
};

const Theme theme_dark = {
    .name = "dark",
    .ink = 0xEFF2F2FF,
    .ink2 = 0xB3BDC2FF,
    .faint = 0x77828AFF,
    .rule = 0x3A4349FF,
    .panel = 0x1D2327FF,
    .card = 0x272E33FF,
    .canvas = 0x12171AFF,
    .grid = 0x1B2125FF,
    .grid_heavy = 0x262E33FF,
    .inside = 0x323B41FF,
    .tone = 0x1D2428FF,
    .tone2 = 0x181E21FF,
    .texture = 0x5E6A71FF,
    .wall = 0xA2AEB4FF,
    .act = SKY,
    .act_text = 0x7CC6F0FF,
    .on_act = 0x0B1115FF,
    .act_soft = 0x23404FFF,
    .fail_text = 0xFF9A5CFF,
    .good_text = 0x4FD3ACFF,
    .warm = 0xF08A3CFF,
    .cold = SKY,
    .halo = 0x323B41FF,
    .state = DAY_STATES,
    .state_fill = {[SHOWN_NO_SEAL] = 0x7E4A6BFF,
                   [SHOWN_PLANNED] = 0x8E630CFF,
                   [SHOWN_FAILED] = 0x6E3211FF,
                   [SHOWN_TOLD] = SKY,
                   [SHOWN_COVERED] = 0x323B41FF,
                   [SHOWN_SEEN] = GREEN,
                   [SHOWN_ABSENT] = 0x323B41FF},
    .detail = DETAILS(0xEFF2F2FF, DAY_INK, 0x77828AFF),
    .weight = 1.0,
    .texture_opacity = 0.55,
    .dark = true,
};

/* Out in the sun: black, white and two greys for what is not inside; yellow only as the ground of
 * what is in the hand or selected. */
const Theme theme_sun = {
    .name = "sun",
    .ink = BLACK,
    .ink2 = BLACK,
    .faint = BLACK,
    .rule = BLACK,
    .panel = WHITE,
    .card = WHITE,
    .canvas = WHITE,
    .grid = WHITE,
    .grid_heavy = 0xE4E4E4FF,
    .inside = WHITE,
    .tone = 0xE4E4E4FF,
    .tone2 = 0xD6D6D6FF,
    .texture = 0x3A3A3AFF,
    .wall = BLACK,
    .act = BLACK,
    .act_text = BLACK,
    .on_act = WHITE,
    .act_soft = YELLOW,
    .fail_text = BLACK,
    .good_text = BLACK,
    .warm = BLACK,
    .cold = BLACK,
    .halo = WHITE,
    .state = BLACK_STATES,
    .state_fill = BLACK_FILLS,
    .detail = DETAILS(BLACK, WHITE, BLACK),
    .weight = 1.45,
    .texture_opacity = 1.0,
    .no_hue = true,
};

/* Day on white paper. Failed is the darker vermillion, so that in grey it is the strongest mark. */
const Theme theme_paper = {
    .name = "paper",
    .ink = DAY_INK,
    .ink2 = 0x49535AFF,
    .faint = DAY_FAINT,
    .rule = 0xCDD3D4FF,
    .panel = WHITE,
    .card = WHITE,
    .canvas = WHITE,
    .grid = 0xC3C9CAFF,
    .grid_heavy = 0xA9B1B4FF,
    .inside = WHITE,
    .tone = 0xE2E5E5FF,
    .tone2 = 0xD4D9D9FF,
    .texture = 0x7E878BFF,
    .wall = 0x5B656BFF,
    .act = BLUE,
    .act_text = 0x00619AFF,
    .on_act = WHITE,
    .act_soft = 0xDCECF6FF,
    .fail_text = 0xA94400FF,
    .good_text = 0x00714FFF,
    .warm = 0xC25400FF,
    .cold = BLUE,
    .halo = WHITE,
    .state = {[SHOWN_NO_SEAL] = PURPLE,
              [SHOWN_PLANNED] = ORANGE,
              [SHOWN_FAILED] = 0xA94400FF,
              [SHOWN_TOLD] = SKY,
              [SHOWN_COVERED] = DAY_FAINT,
              [SHOWN_SEEN] = GREEN,
              [SHOWN_ABSENT] = DAY_FAINT},
    .state_fill = DAY_FILLS,
    .detail = DETAILS(DAY_INK, DAY_INK, DAY_FAINT),
    .weight = 1.0,
    .texture_opacity = 0.55,
    .on_paper = true,
};

/* For copies and fax: no tone carries a meaning. */
const Theme theme_mono = {
    .name = "mono",
    .ink = BLACK,
    .ink2 = 0x333333FF,
    .faint = 0x777777FF,
    .rule = 0x999999FF,
    .panel = WHITE,
    .card = WHITE,
    .canvas = WHITE,
    .grid = 0xAAAAAAFF,
    .grid_heavy = 0x999999FF,
    .inside = WHITE,
    .tone = 0xE6E6E6FF,
    .tone2 = 0xDADADAFF,
    .texture = 0x666666FF,
    .wall = 0x3A3A3AFF,
    .act = BLACK,
    .act_text = BLACK,
    .on_act = WHITE,
    .act_soft = 0xE6E6E6FF,
    .fail_text = BLACK,
    .good_text = BLACK,
    .warm = BLACK,
    .cold = BLACK,
    .halo = WHITE,
    .state = BLACK_STATES,
    .state_fill = BLACK_FILLS,
    .detail = DETAILS(BLACK, WHITE, 0x777777FF),
    .weight = 1.0,
    .texture_opacity = 1.0,
    .on_paper = true,
    .no_hue = true,
};
