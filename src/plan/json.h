/* What the plan room needs of jansson beyond its own interface. */
#ifndef LIDMARK_PLAN_JSON_H
#define LIDMARK_PLAN_JSON_H

#include <jansson.h>

#include "lidmark/base.h"

/* Lets jansson take its memory through base. To be called before the first json value is made; more
 * often does no harm. */
void plan_json_ready(void);

/* Parses one JSON value, strictly (no duplicate keys, nothing after it). NULL on failure, and the
 * fault has line, column and reason. */
json_t *plan_json_parse(const char *bytes, size_t length, Fault *fault);

/* Adds any value on one line; reads back equal. */
void plan_json_add(TextBuffer *buffer, const json_t *value);

/* "a number", "a text" ...: what a value is, for messages. */
const char *plan_json_type(const json_t *value);

#endif
