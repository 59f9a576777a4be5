/* A locale with a decimal comma, made on the spot. */
#ifndef LIDMARK_TESTS_COMMA_LOCALE_H
#define LIDMARK_TESTS_COMMA_LOCALE_H

#include <stdbool.h>

/* Puts numbers under a locale whose decimal point is a comma (printf of 1.5 gives "1,5"). False when
 * the system has no localedef to make one. Writes into the current folder. */
bool comma_locale_set(void);
void comma_locale_end(void);

#endif
