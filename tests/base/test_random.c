#include <limits.h>
#include <setjmp.h>
#include <stdarg.h>
#include <string.h>

#include "lidmark/base.h"

#include <cmocka.h>

/* The first numbers of SplitMix64 from seed 1234567, reckoned from the published recurrence (Steele,
 * Lea, Flood: Fast splittable pseudorandom number generators, 2014) with whole numbers of any size. */
static void the_sequence_is_the_same_everywhere(void **state)
{
    (void)state;
    static const uint64_t expected[] = {6457827717110365317u, 3203168211198807973u,
                                        9817491932198370423u, 4593380528125082431u,
                                        16408922859458223821u};
    Random random = {1234567};
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++)
        assert_true(random_next(&random) == expected[i]);
}

static void whole_numbers_are_even_and_in_range(void **state)
{
    (void)state;
    Random random = {99};
    int counts[7] = {0};
    for (int i = 0; i < 70000; i++) {
        int drawn = random_int(&random, -3, 3);
        assert_in_range(drawn + 3, 0, 6);
        counts[drawn + 3]++;
    }
    for (int i = 0; i < 7; i++) /* 10000 each, a deviation of about 93 */
        assert_in_range(counts[i], 9500, 10500);
    assert_int_equal(random_int(&random, 5, 5), 5);
    assert_int_equal(random_int(&random, 5, 4), 5);
    bool high = false, low = false;
    for (int i = 0; i < 100; i++) {
        int drawn = random_int(&random, INT_MIN, INT_MAX);
        high |= drawn > 0;
        low |= drawn < 0;
    }
    assert_true(high && low);
}

static void units_are_even_and_below_one(void **state)
{
    (void)state;
    Random random = {4};
    double sum = 0, least = 1, most = 0;
    for (int i = 0; i < 100000; i++) {
        double drawn = random_unit(&random);
        assert_true(drawn >= 0 && drawn < 1);
        sum += drawn;
        least = drawn < least ? drawn : least;
        most = drawn > most ? drawn : most;
    }
    assert_true(sum > 49500 && sum < 50500);
    assert_true(least < 0.001 && most > 0.999);
}

static void seeds_of_the_system_differ(void **state)
{
    (void)state;
    assert_true(random_seed_from_system() != random_seed_from_system());
}

static void hashes_depend_on_every_byte(void **state)
{
    (void)state;
    char text[64] = {0};
    uint64_t first = hash_bytes(text, sizeof text, 0);
    assert_true(first == hash_bytes(text, sizeof text, 0));
    assert_true(first != hash_bytes(text, sizeof text - 1, 0));
    assert_true(first != hash_bytes(text, sizeof text, 1));
    for (size_t i = 0; i < sizeof text; i++) {
        for (int bit = 0; bit < 8; bit++) {
            text[i] = (char)(1 << bit);
            uint64_t changed = first ^ hash_bytes(text, sizeof text, 0);
            int bits = 0;
            for (; changed != 0; changed &= changed - 1)
                bits++;
            assert_in_range(bits, 12, 52); /* about half of 64 */
        }
        text[i] = 0;
    }
    /* reckoned the same way from the definitions of FNV-1a and the finaliser */
    assert_true(hash_bytes("lidmark", 7, 0) == 0xB697E635CB4A0203u);
}

static void the_clock_goes_forward(void **state)
{
    (void)state;
    double last = clock_seconds();
    for (int i = 0; i < 1000; i++) {
        double now = clock_seconds();
        assert_true(now >= last);
        last = now;
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_sequence_is_the_same_everywhere),
        cmocka_unit_test(whole_numbers_are_even_and_in_range),
        cmocka_unit_test(units_are_even_and_below_one),
        cmocka_unit_test(seeds_of_the_system_differ),
        cmocka_unit_test(hashes_depend_on_every_byte),
        cmocka_unit_test(the_clock_goes_forward),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
