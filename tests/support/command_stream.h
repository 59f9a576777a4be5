/* Bytes as a stream of changes to a plan, for the command fuzzer and for tests with random bytes. */
#ifndef LIDMARK_TESTS_COMMAND_STREAM_H
#define LIDMARK_TESTS_COMMAND_STREAM_H

#include "lidmark/plan.h"

/* Does what the bytes say: steps of insertions, replacements, removals, reshaped and moved spaces and
 * tags, some of them refused, some steps taken back, with undo and redo in between. No step is left
 * unfinished. Every call must answer with a status that it may answer with. */
void command_stream_run(PlanDoc *doc, const uint8_t *bytes, size_t length);

/* What must hold after any stream, for a document that started as the plan that start was copied from:
 * undoing all gives the bytes of start, redoing all those of now; the plan can be saved and read; the
 * steps written as lines, done on start, give the plan of now. Aborts the program when it does not.
 * Takes start over. */
void command_stream_check(PlanDoc *doc, Plan *start);

#endif
