/* base: what every room needs and C11 does not give.
 *
 * Status with place, reason and advice; the one seam through which all memory is taken; growable
 * arrays; UTF-8; numbers that no locale can change; a hash; a seeded random source; files that are
 * saved whole or not at all.
 *
 * This room knows no other room. */
#ifndef LIDMARK_BASE_H
#define LIDMARK_BASE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

/* ---- status ---------------------------------------------------------------------------------- */

/* What became of a call. The program's exit code follows from it: BAD_INPUT and FILE exit 1, USAGE
 * 2, MEMORY and FAULT 3. */
typedef enum Status {
    STATUS_OK = 0,
    STATUS_BAD_INPUT, /* the user's data cannot be used; nothing was changed */
    STATUS_FILE,      /* a file could not be read or written; the old one is whole */
    STATUS_USAGE,     /* the command line or the call is wrong */
    STATUS_MEMORY,    /* no memory left; nothing was changed */
    STATUS_STOPPED,   /* the user stopped long work */
    STATUS_FAULT,     /* a mistake of ours */
    STATUS_COUNT
} Status;

enum { FAULT_FILE_SIZE = 512, FAULT_PLACE_SIZE = 160, FAULT_TEXT_SIZE = 320 };

/* One message to a person: what is wrong, where, why, and what to do. Holds no memory of its own,
 * so "out of memory" can be said too. line and column are 1-based, 0 when unknown; place is a JSON
 * pointer ("/spaces/3/kind") or the name of a thing, empty when unknown. */
typedef struct Fault {
    Status status;
    char file[FAULT_FILE_SIZE];
    int line, column;
    char place[FAULT_PLACE_SIZE];
    char reason[FAULT_TEXT_SIZE];
    char advice[FAULT_TEXT_SIZE];
} Fault;

/* Clears the fault to STATUS_OK. A NULL fault is allowed in every call that takes one. */
void fault_clear(Fault *fault);

/* Sets status and reason (printf form; cut at a character's end when too long) and returns the
 * status, so that a failing function can say: return fault_set(fault, STATUS_FILE, "...", ...).
 * Keeps file, line, column and place as they are. */
Status fault_set(Fault *fault, Status status, const char *reason, ...)
    __attribute__((format(printf, 3, 4)));

/* Sets what to do about it (printf form). */
void fault_advise(Fault *fault, const char *advice, ...) __attribute__((format(printf, 2, 3)));

/* Sets the file, and the line and column in it where they are known (else 0). */
void fault_in(Fault *fault, const char *file, int line, int column);

/* Sets where it is: a JSON pointer or the name of a thing (printf form). */
void fault_at(Fault *fault, const char *place, ...) __attribute__((format(printf, 2, 3)));

/* The whole message on one line, "file:line:column: reason (place). advice", parts that are unknown
 * left out. Writes at most size bytes with the closing zero, returns buffer. */
const char *fault_text(const Fault *fault, char *buffer, size_t size);

/* The status as a word for logs and tests ("ok", "bad input" ...). Never NULL. */
const char *status_name(Status status);

/* The exit code of the program for a status: 0, 1, 2 or 3. */
int status_exit(Status status);

/* ---- memory ---------------------------------------------------------------------------------- */

/* Memory for count things of size bytes, zeroed. NULL when there is none, when count * size
 * overflows, or when a test makes it fail. count or size 0 gives a block that may be freed. */
void *mem_alloc(size_t count, size_t size);

/* Makes a block old_count things long hold new_count things; what is new is zeroed. On failure NULL
 * and the old block stays as it was. block NULL is mem_alloc. */
void *mem_resize(void *block, size_t old_count, size_t new_count, size_t size);

/* Gives a block back; NULL is fine. */
void mem_free(void *block);

/* Plain malloc and free through the same seam, for libraries that take hooks. */
void *mem_raw(size_t size);

/* Test hook: let the next n requests succeed and every one after them fail; n < 0 ends this. */
void mem_fail_after(long n);

/* Test hook: blocks given out and not yet given back, in the whole process. */
long mem_live(void);

/* Makes sure *items (things of size bytes, *capacity of them) can hold need things; grows by half
 * or more. STATUS_MEMORY on failure and nothing changes. O(1) amortised. */
Status array_reserve(void **items, int *capacity, int need, size_t size);

/* ---- text ------------------------------------------------------------------------------------ */

/* A copy of text (NULL gives a copy of ""), owned by the caller; NULL without memory. */
char *text_copy(const char *text);

/* printf into memory of its own, owned by the caller; NULL without memory. */
char *text_format(const char *format, ...) __attribute__((format(printf, 1, 2)));

/* True when a and b are the same; NULL counts as "". */
bool text_same(const char *a, const char *b);

/* A growing text. Zero it before first use; once an addition has failed, failed stays true and
 * later additions do nothing, so that only the end needs a check. */
typedef struct TextBuffer {
    char *bytes; /* ends in a zero, NULL when empty */
    int length, capacity;
    bool failed;
} TextBuffer;

void text_add(TextBuffer *buffer, const char *text);
void text_add_bytes(TextBuffer *buffer, const char *bytes, int length);
void text_addf(TextBuffer *buffer, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Blanks what does not stand still on its line, in place and with as many bytes as it had: control
 * characters, line ends, marks that turn the direction of the text after them. */
void text_blank_controls(char *text);
/* Adds text with its controls blanked: names that people typed, on a line for people. */
void text_add_line(TextBuffer *buffer, const char *text);
/* Adds text as a line, cut and padded with spaces to a column of width characters, one of them always a space. */
void text_add_column(TextBuffer *buffer, const char *text, int width);
/* Adds text (UTF-8) as a JSON string with its quotes. */
void text_add_json(TextBuffer *buffer, const char *text);
/* Adds the shortest number that reads back to value; null for one that is not finite. */
void text_add_json_number(TextBuffer *buffer, double value);
void text_free(TextBuffer *buffer);

/* Decodes one character at text (length bytes left) into *code; returns its bytes, or 0 when the
 * bytes are not UTF-8 (overlong forms, surrogates and values over 0x10FFFF are refused). */
int utf8_decode(const char *text, size_t length, uint32_t *code);

/* Encodes code into buffer (4 bytes at most), returns the bytes written, 0 when it is no character. */
int utf8_encode(uint32_t code, char buffer[4]);

/* True when all length bytes are UTF-8. */
bool utf8_valid(const char *text, size_t length);

/* Bytes of the longest beginning of text that is at most size bytes and ends between characters. Text
 * may end in a zero before that; nothing is read after size bytes. */
size_t utf8_cut(const char *text, size_t size);

/* ---- numbers --------------------------------------------------------------------------------- */

enum { NUMBER_SIZE = 40 };
#define NUMBER_PI    3.14159265358979323846
/* A number that is not given; needs math.h where it is used. NAN itself is a float. */
#define NUMBER_UNSET ((double)NAN)

/* Reads a plain decimal number (sign, digits, point, digits, exponent) from the start of text, with
 * a point whatever the locale. *end is left at the first byte not read. False when there is no
 * number, it is not finite, or it is longer than 400 characters; *end is then text. */
bool number_parse(const char *text, const char **end, double *value);

/* Writes value with decimals digits after the point (trailing zeros kept), a point whatever the
 * locale, "-0" as "0". Returns buffer. Not finite: "-". Too long for the buffer (1e30 and more): as
 * number_exact. */
const char *number_fixed(double value, int decimals, char buffer[NUMBER_SIZE]);

/* Writes value rounded to as few digits as still read back to the same double. Returns buffer. Not
 * finite: "-". */
const char *number_exact(double value, char buffer[NUMBER_SIZE]);

/* ---- hash, random, time ---------------------------------------------------------------------- */

/* 64-bit hash of bytes, the same on every machine (FNV-1a with a final mix); seed chains calls. */
uint64_t hash_bytes(const void *bytes, size_t length, uint64_t seed);

/* A seeded random source (SplitMix64), the same sequence on every machine. */
typedef struct Random {
    uint64_t state;
} Random;

uint64_t random_next(Random *random);
/* A whole number from low to high, both included. */
int random_int(Random *random, int low, int high);
/* A number in [0, 1). */
double random_unit(Random *random);
/* A seed from the system's entropy, for identifiers; not for tests. */
uint64_t random_seed_from_system(void);

/* Seconds of a clock that only goes forward, for benches and for waiting. */
double clock_seconds(void);

/* ---- files ----------------------------------------------------------------------------------- */

enum { FILE_READ_LIMIT = 1 << 30 };

/* Reads a whole file. *bytes is owned by the caller (mem_free) and has a zero after its length. On
 * failure *bytes is NULL and the fault names file and reason. */
Status file_read(const char *path, char **bytes, size_t *length, Fault *fault);

/* Writes a file whole or not at all: a temporary file beside it, flushed to the disk, then renamed
 * over it (links are followed, the file's mode is kept). On failure the old file is as it was, the
 * temporary file is gone, and the fault says why. A file marked read-only is not replaced; a pipe or
 * device is written straight. */
Status file_save(const char *path, const char *bytes, size_t length, Fault *fault);

/* Test hook, a full disk: let the next n bytes be written and fail after that with "no space left
 * on device"; n < 0 ends this. */
void file_fail_after(long n);

#endif
