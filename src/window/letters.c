#include "window/letters.h"

#include <SDL_ttf.h>
#include <fontconfig/fontconfig.h>
#include <math.h>
#include <string.h>

enum {
    WEIGHTS = 4,
    FONTS = 64,
    WIDTHS = 4096,
    KEPT = 1024,           /* texts */
    KEPT_BYTES = 16 << 20, /* of pixels */
    POINTS = 6, /* fonts are opened at so many points and a resolution that gives the size */
    STEPS = POINTS * 12 /* which is a whole number, so sizes are to a twelfth of a pixel */
};

typedef struct KeptFont {
    TTF_Font *font;
    int weight, dots;
} KeptFont;

typedef struct KeptText {
    uint64_t key;
    SDL_Surface *surface; /* NULL: free */
    uint64_t used;
} KeptText;

typedef struct KeptWidth {
    uint64_t key; /* 0: free */
    double width;
} KeptWidth;

struct Letters {
    Painter *painter;
    char *files[WEIGHTS];
    KeptFont fonts[FONTS];
    int font_count;
    KeptText texts[KEPT];
    KeptWidth widths[WIDTHS];
    size_t bytes;
    uint64_t clock;
};

/* ---- fonts ----------------------------------------------------------------------------------- */

static const int fc_weights[WEIGHTS] = {FC_WEIGHT_REGULAR, FC_WEIGHT_MEDIUM, FC_WEIGHT_DEMIBOLD,
                                        FC_WEIGHT_BOLD};

static int weight_index(FontWeight weight)
{
    int index = ((int)weight - FONT_TEXT) / 100;
    return index < 0 ? 0 : index >= WEIGHTS ? WEIGHTS - 1 : index;
}

/* The file fontconfig finds for Inter in a weight, or what it has in its place. */
static char *font_file(int weight)
{
    char *copy = NULL;
    FcChar8 *file;
    FcResult result;
    FcPattern *pattern = FcPatternCreate();
    if (!pattern)
        return NULL;
    FcPatternAddString(pattern, FC_FAMILY, (const FcChar8 *)"Inter");
    FcPatternAddInteger(pattern, FC_WEIGHT, fc_weights[weight]);
    FcPatternAddInteger(pattern, FC_SLANT, FC_SLANT_ROMAN);
    FcConfigSubstitute(NULL, pattern, FcMatchPattern);
    FcDefaultSubstitute(pattern);
    FcPattern *match = FcFontMatch(NULL, pattern, &result);
    if (match && FcPatternGetString(match, FC_FILE, 0, &file) == FcResultMatch)
        copy = text_copy((const char *)file);
    if (match)
        FcPatternDestroy(match);
    FcPatternDestroy(pattern);
    return copy;
}

static void font_close(Letters *letters, int index)
{
    TTF_CloseFont(letters->fonts[index].font);
    letters->font_count--;
    memmove(&letters->fonts[index], &letters->fonts[index + 1],
            (size_t)(letters->font_count - index) * sizeof letters->fonts[0]);
}

static TTF_Font *font_at(Letters *letters, double size, FontWeight weight)
{
    int index = weight_index(weight), dots = (int)lround(size * STEPS / POINTS);
    for (int i = 0; i < letters->font_count; i++)
        if (letters->fonts[i].weight == index && letters->fonts[i].dots == dots)
            return letters->fonts[i].font;
    if (letters->font_count == FONTS)
        font_close(letters, 0); /* the window was scaled many times */
    TTF_Font *font = TTF_OpenFontDPI(letters->files[index], POINTS, (unsigned)dots, (unsigned)dots);
    if (!font)
        return NULL;
    TTF_SetFontHinting(font, TTF_HINTING_LIGHT_SUBPIXEL); /* once, right after opening */
    letters->fonts[letters->font_count++] = (KeptFont){font, index, dots};
    return font;
}

Letters *letters_new(Painter *painter, Fault *fault)
{
    if (TTF_Init() != 0) {
        fault_set(fault, STATUS_FAULT, "the fonts cannot be used: %s", TTF_GetError());
        return NULL;
    }
    Letters *letters = mem_alloc(1, sizeof *letters);
    if (!letters) {
        TTF_Quit();
        fault_set(fault, STATUS_MEMORY, "there is not enough memory for the fonts");
        return NULL;
    }
    letters->painter = painter;
    for (int i = 0; i < WEIGHTS; i++) {
        letters->files[i] = font_file(i);
        if (letters->files[i])
            continue;
        fault_set(fault, STATUS_FILE, "there is no font to write with");
        fault_advise(fault, "Install the package fonts-inter");
        letters_free(letters);
        return NULL;
    }
    return letters;
}

static void text_drop(Letters *letters, KeptText *text)
{
    if (!text->surface)
        return;
    letters->bytes -= (size_t)text->surface->pitch * (size_t)text->surface->h;
    SDL_FreeSurface(text->surface);
    *text = (KeptText){0};
}

void letters_free(Letters *letters)
{
    if (!letters)
        return;
    for (int i = 0; i < KEPT; i++)
        text_drop(letters, &letters->texts[i]);
    while (letters->font_count > 0)
        font_close(letters, letters->font_count - 1);
    for (int i = 0; i < WEIGHTS; i++)
        mem_free(letters->files[i]);
    mem_free(letters);
    TTF_Quit();
}

/* ---- texts ----------------------------------------------------------------------------------- */

static bool can_write(TTF_Font *font, const char *text)
{
    size_t left = strlen(text);
    while (left > 0) {
        uint32_t code;
        int bytes = utf8_decode(text, left, &code);
        if (bytes == 0 || (code >= 0x80 && !TTF_GlyphIsProvided32(font, code)))
            return false;
        text += bytes;
        left -= (size_t)bytes;
    }
    return true;
}

/* colour 0: of the width alone. */
static uint64_t text_key(const char *text, double size, FontWeight weight, Colour colour)
{
    struct {
        double size;
        uint32_t weight, colour;
    } about = {size, (uint32_t)weight, colour};
    return hash_bytes(text, strlen(text), hash_bytes(&about, sizeof about, 0));
}

static double measure(Letters *letters, const char *text, double size, FontWeight weight)
{
    TTF_Font *font = font_at(letters, size, weight);
    int width = 0;
    if (font && can_write(font, text) && TTF_SizeUTF8(font, text, &width, NULL) == 0)
        return width;
    TextStyle style = {.size = size, .weight = weight};
    return paint_text_size(letters->painter, text, &style).width;
}

/* Shaping a text takes long; most texts of a frame were on the last one too. */
double letters_measure(void *context, const char *text, double size, FontWeight weight)
{
    Letters *letters = context;
    uint64_t key = text_key(text, size, weight, COLOUR_NONE);
    KeptWidth *kept = &letters->widths[key % WIDTHS];
    if (kept->key != key)
        *kept = (KeptWidth){key, measure(letters, text, size, weight)};
    return kept->width;
}

/* Room for a new text: the place its key goes to, or the one beside it that was not used
 * longest. */
static KeptText *text_place(Letters *letters, uint64_t key)
{
    enum { WAYS = 4 };
    size_t set = (size_t)(key % (KEPT / WAYS)) * WAYS;
    KeptText *best = &letters->texts[set];
    for (size_t i = set; i < set + WAYS; i++) {
        KeptText *text = &letters->texts[i];
        if (text->surface && text->key == key)
            return text;
        if (best->surface && (!text->surface || text->used < best->used))
            best = text;
    }
    text_drop(letters, best);
    return best;
}

static void make_room(Letters *letters)
{
    for (int i = 0; i < KEPT && letters->bytes > KEPT_BYTES; i++)
        if (letters->texts[i].used + 2 < letters->clock)
            text_drop(letters, &letters->texts[i]);
}

static SDL_Surface *text_surface(Letters *letters, TTF_Font *font, const char *text, double size,
                                 FontWeight weight, Colour colour)
{
    uint64_t key = text_key(text, size, weight, colour);
    KeptText *kept = text_place(letters, key);
    if (!kept->surface) {
        SDL_Color c = {(Uint8)(colour >> 24), (Uint8)(colour >> 16), (Uint8)(colour >> 8),
                       (Uint8)colour};
        make_room(letters);
        kept->surface = TTF_RenderUTF8_Blended(font, text, c);
        if (!kept->surface)
            return NULL;
        kept->key = key;
        letters->bytes += (size_t)kept->surface->pitch * (size_t)kept->surface->h;
    }
    kept->used = ++letters->clock;
    return kept->surface;
}

bool letters_draw(Letters *letters, SDL_Surface *surface, double x, double y, const char *text,
                  double size, FontWeight weight, Colour colour, TextAnchor anchor)
{
    TTF_Font *font = font_at(letters, size, weight);
    if (!font || !can_write(font, text))
        return false;
    SDL_Surface *made = text_surface(letters, font, text, size, weight, colour);
    if (!made)
        return false;
    double left = anchor == TEXT_START ? x : anchor == TEXT_END ? x - made->w : x - made->w / 2.0;
    SDL_Rect to = {(int)lround(left), (int)lround(y) - TTF_FontAscent(font), 0, 0};
    return SDL_BlitSurface(made, NULL, surface, &to) == 0;
}
