/* A hash and a random source that are the same on every machine. */
#include <fcntl.h>
#include <time.h>
#include <unistd.h>

#include "lidmark/base.h"

/* Finaliser of SplitMix64 (Steele, Lea, Flood 2014): every input bit changes about half of the
 * output bits. */
static uint64_t mix(uint64_t x)
{
    x = (x ^ x >> 30) * 0xBF58476D1CE4E5B9u;
    x = (x ^ x >> 27) * 0x94D049BB133111EBu;
    return x ^ x >> 31;
}

uint64_t hash_bytes(const void *bytes, size_t length, uint64_t seed)
{
    const unsigned char *at = bytes;
    uint64_t hash = 0xCBF29CE484222325u ^ seed;
    for (size_t i = 0; i < length; i++)
        hash = (hash ^ at[i]) * 0x100000001B3u;
    return mix(hash);
}

uint64_t random_next(Random *random)
{
    random->state += 0x9E3779B97F4A7C15u;
    return mix(random->state);
}

int random_int(Random *random, int low, int high)
{
    if (high <= low)
        return low;
    uint64_t range = (uint64_t)((int64_t)high - low) + 1;
    uint64_t fair =
        UINT64_MAX - UINT64_MAX % range; /* from here on some numbers would be favoured */
    uint64_t drawn;
    do {
        drawn = random_next(random);
    } while (drawn >= fair);
    return (int)(low + (int64_t)(drawn % range));
}

double random_unit(Random *random)
{
    return (double)(random_next(random) >> 11) * 0x1p-53;
}

uint64_t random_seed_from_system(void)
{
    uint64_t seed = 0;
    int file = open("/dev/urandom", O_RDONLY | O_CLOEXEC);
    bool whole = file >= 0 && read(file, &seed, sizeof seed) == (ssize_t)sizeof seed;
    if (file >= 0)
        close(file);
    if (whole)
        return seed;
    /* No device (a bare container): time, process and place in memory differ enough for names. */
    struct timespec now;
    clock_gettime(CLOCK_REALTIME, &now);
    uint64_t parts[] = {(uint64_t)now.tv_sec, (uint64_t)now.tv_nsec, (uint64_t)getpid(),
                        (uint64_t)(uintptr_t)&seed};
    return hash_bytes(parts, sizeof parts, 0);
}

double clock_seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec * 1e-9;
}
