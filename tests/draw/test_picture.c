/* One level as a picture file. */
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "draw/picture.h"
#include "support/drawing.h"

#include <cmocka.h>

static char *read_whole(const char *path, size_t *length)
{
    Fault fault;
    char *bytes = NULL;
    fault_clear(&fault);
    assert_int_equal(file_read(path, &bytes, length, &fault), STATUS_OK);
    return bytes;
}

static uint32_t big_endian(const char *bytes)
{
    const unsigned char *b = (const unsigned char *)bytes;
    return (uint32_t)b[0] << 24 | (uint32_t)b[1] << 16 | (uint32_t)b[2] << 8 | b[3];
}

static void a_png_has_the_size_asked_for(void **state)
{
    (void)state;
    DrawnHouse drawn = drawn_house_open("ranch-with-garage");
    Fault fault;
    size_t length;
    fault_clear(&fault);
    assert_int_equal(picture_level(drawn.envelope, 0, false, "usual.png", 0, 0, &fault), STATUS_OK);
    char *bytes = read_whole("usual.png", &length);
    assert_memory_equal(bytes, "\x89PNG\r\n", 6);
    assert_int_equal(big_endian(bytes + 16), PICTURE_WIDTH);
    assert_int_equal(big_endian(bytes + 20), PICTURE_HEIGHT);
    mem_free(bytes);
    assert_int_equal(picture_level(drawn.envelope, 0, true, "small.png", 640, 400, &fault),
                     STATUS_OK);
    bytes = read_whole("small.png", &length);
    assert_int_equal(big_endian(bytes + 16), 640);
    assert_int_equal(big_endian(bytes + 20), 400);
    mem_free(bytes);
    drawn_house_close(&drawn);
}

static void an_svg_is_lines_only_and_always_the_same(void **state)
{
    (void)state;
    DrawnHouse drawn = drawn_house_open("two-storey");
    Fault fault;
    size_t lengths[2];
    char *bytes[2];
    fault_clear(&fault);
    for (int i = 0; i < 2; i++) {
        assert_int_equal(picture_level(drawn.envelope, 1, false, "level.svg", 0, 0, &fault),
                         STATUS_OK);
        bytes[i] = read_whole("level.svg", &lengths[i]);
    }
    assert_int_equal(lengths[0], lengths[1]);
    assert_memory_equal(bytes[0], bytes[1], lengths[0]);
    assert_non_null(strstr(bytes[0], "<svg"));
    assert_null(strstr(bytes[0], "<image"));
    mem_free(bytes[0]);
    mem_free(bytes[1]);
    drawn_house_close(&drawn);
}

static void what_cannot_be_drawn_is_said(void **state)
{
    (void)state;
    House house = house_of_storeys(1);
    house_box(&house, "L1", "garage", 0, 0, 8000, 5000, NULL);
    DrawnHouse drawn = drawn_house_of(&house);
    Fault fault;
    fault_clear(&fault);
    assert_int_equal(picture_level(drawn.envelope, 0, false, "x.gif", 0, 0, &fault), STATUS_USAGE);
    assert_non_null(strstr(fault.reason, "x.gif"));
    assert_int_equal(picture_level(drawn.envelope, 0, false, "x", 0, 0, &fault), STATUS_USAGE);
    assert_int_equal(picture_level(drawn.envelope, 0, false, "x.png", 10, 10, &fault),
                     STATUS_USAGE);
    assert_int_equal(picture_level(drawn.envelope, 0, false, "x.png", 99999, 900, &fault),
                     STATUS_USAGE);
    assert_int_equal(picture_level(drawn.envelope, 1, false, "x.png", 0, 0, &fault),
                     STATUS_BAD_INPUT);
    assert_int_equal(picture_level(drawn.envelope, 0, true, "x.png", 0, 0, &fault),
                     STATUS_BAD_INPUT); /* no lid over a garage */
    assert_int_equal(picture_level(drawn.envelope, 0, false, "no/such/folder/x.png", 0, 0, &fault),
                     STATUS_FILE);
    char *bytes = NULL;
    size_t length;
    assert_int_not_equal(file_read("x.png", &bytes, &length, &fault), STATUS_OK);
    drawn_house_close(&drawn);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_png_has_the_size_asked_for),
        cmocka_unit_test(an_svg_is_lines_only_and_always_the_same),
        cmocka_unit_test(what_cannot_be_drawn_is_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
