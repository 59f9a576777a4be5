/* Recorded input played back without a window: the same code, the same picture. */
#ifndef LIDMARK_APP_REPLAY_H
#define LIDMARK_APP_REPLAY_H

#include "lidmark/plan.h"

typedef struct ReplayOptions {
    const Catalog *catalog; /* borrowed */
    const char *picture;    /* PNG of the last frame; NULL: none */
    const char *save;       /* the plan as it is at the end; NULL: not saved */
    const char *samples;    /* folder of sample plans; NULL: none */
} ReplayOptions;

/* Opens plan (NULL: begins with the screen to open one) and does what the script says, line by line
 * (docs/replay.md). The fault names file, line and column of a line that cannot be read or done, or
 * of an expectation that does not hold. */
Status replay_run(const char *plan, const char *script, const ReplayOptions *options, Fault *fault);

#endif
