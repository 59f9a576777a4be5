/* Are the pieces that screens, sheets and the air network read the same as the totals? */
#ifndef LIDMARK_TESTS_PIECES_AGREE_H
#define LIDMARK_TESTS_PIECES_AGREE_H

#include "lidmark/envelope.h"

/* True when joint pieces, wall pieces and places of holes add up to the totals, stand where their rules
 * put them, and runs are of one kind; else why says what is wrong. */
bool pieces_agree(const Envelope *envelope, TextBuffer *why);

#endif
