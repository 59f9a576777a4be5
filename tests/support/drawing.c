#include "support/drawing.h"

#include <stdlib.h>
#include <string.h>

static void must(bool holds, const Fault *fault)
{
    char text[FAULT_FILE_SIZE + FAULT_TEXT_SIZE];
    if (holds)
        return;
    fprintf(stderr, "%s\n", fault_text(fault, text, sizeof text));
    abort();
}

static void derive(DrawnHouse *house)
{
    Fault fault;
    fault_clear(&fault);
    must(envelope_make(house->plan, &house->envelope, &fault) == STATUS_OK, &fault);
}

DrawnHouse drawn_house_read(const char *path)
{
    DrawnHouse house = {0};
    Fault fault;
    char whole[512];
    fault_clear(&fault);
    snprintf(whole, sizeof whole, "%s/%s", LIDMARK_SOURCE_DIR, path);
    house.catalog = catalog_built_in(&fault);
    must(house.catalog != NULL, &fault);
    must(plan_load(whole, house.catalog, &house.plan, NULL, &fault) == STATUS_OK, &fault);
    derive(&house);
    return house;
}

DrawnHouse drawn_house_open(const char *name)
{
    char path[128];
    snprintf(path, sizeof path, "plans/%s.lidmark", name);
    return drawn_house_read(path);
}

DrawnHouse drawn_house_of(House *plan)
{
    DrawnHouse house = {0};
    Fault fault;
    fault_clear(&fault);
    house.catalog = catalog_built_in(&fault);
    must(house.catalog != NULL, &fault);
    house.plan = house_plan(plan, house.catalog);
    derive(&house);
    return house;
}

void drawn_house_close(DrawnHouse *house)
{
    envelope_free(house->envelope);
    plan_free(house->plan);
    catalog_free(house->catalog);
    *house = (DrawnHouse){0};
}

void drawn_picture_open(DrawnPicture *picture, Colour ground)
{
    for (int i = 0; i < DRAWN_SIDE * DRAWN_SIDE; i++)
        picture->pixels[i] = ground >> 8;
    picture->painter = painter_on_pixels((unsigned char *)picture->pixels, DRAWN_SIDE, DRAWN_SIDE,
                                         DRAWN_SIDE * (int)sizeof(uint32_t));
    if (picture->painter == NULL)
        abort();
}

void drawn_picture_close(DrawnPicture *picture)
{
    Fault fault;
    fault_clear(&fault);
    must(painter_finish(picture->painter, NULL, NULL, &fault) == STATUS_OK, &fault);
    picture->painter = NULL;
}

int drawn_light(const DrawnPicture *picture, int x, int y)
{
    uint32_t pixel = picture->pixels[y * DRAWN_SIDE + x];
    uint32_t red = pixel >> 16 & 0xFFu, green = pixel >> 8 & 0xFFu, blue = pixel & 0xFFu;
    return (int)((red * 299 + green * 587 + blue * 114) / 1000);
}

int drawn_bits_apart(const DrawnPicture *a, const DrawnPicture *b)
{
    int apart = 0;
    for (int y = 0; y < DRAWN_SIDE; y++) {
        for (int x = 0; x < DRAWN_SIDE; x++)
            apart += (drawn_light(a, x, y) < 128) != (drawn_light(b, x, y) < 128);
    }
    return apart;
}
