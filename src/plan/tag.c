/* Tags: a number and the letter of the trade, given once and never again. The highest number given is
 * kept in the file (tags_given), so that the tag of a mark that was removed stays its own. */
#include <string.h>

#include "plan/doc.h"
#include "plan/json.h"

/* The number of a tag of this letter, 0 for any other text. */
static int tag_number(const char *tag, char letter)
{
    int64_t number = 0;
    const char *at = tag;
    while (*at >= '0' && *at <= '9' && number <= PLAN_TAG_MAX)
        number = number * 10 + (*at++ - '0');
    bool whole = at > tag && at[0] == letter && at[1] == '\0' && number <= PLAN_TAG_MAX;
    return whole ? (int)number : 0;
}

static int highest_tag(const Plan *plan, char letter)
{
    char key[2] = {letter, '\0'};
    json_t *given = json_object_get(json_object_get(plan->settings.rest, "tags_given"), key);
    int highest = json_is_integer(given) ? (int)json_integer_value(given) : 0;
    for (int i = 0; i < plan->seal_count; i++) {
        int number = tag_number(plan->seals[i].tag, letter);
        highest = number > highest ? number : highest;
    }
    for (int i = 0; i < plan->penetration_count; i++) {
        int number = tag_number(plan->penetrations[i].tag, letter);
        highest = number > highest ? number : highest;
    }
    return highest;
}

/* A copy of an object of which only what is in it may be replaced; of NULL an empty one. */
static json_t *object_copy(json_t *object)
{
    return json_is_object(object) ? json_copy(object) : json_object();
}

/* The settings' kept keys with the highest tag of a letter changed. NULL without memory. */
static json_t *rest_with_tag(json_t *rest, char letter, int number)
{
    char key[2] = {letter, '\0'};
    json_t *changed = object_copy(rest);
    json_t *tags = object_copy(json_object_get(rest, "tags_given"));
    bool set = changed != NULL && tags != NULL &&
               json_object_set_new(tags, key, json_integer(number)) == 0 &&
               json_object_set(changed, "tags_given", tags) == 0;
    json_decref(tags);
    if (set)
        return changed;
    json_decref(changed);
    return NULL;
}

Status doc_next_tag(PlanDoc *doc, char letter, char buffer[16])
{
    PlanRecord record;
    bool is_letter = letter >= 'A' && letter <= 'Z';
    if (!doc->is_open || !is_letter)
        return STATUS_USAGE;
    int number = highest_tag(doc->plan, letter) + 1;
    if (number > PLAN_TAG_MAX)
        return STATUS_BAD_INPUT;
    plan_json_ready();
    Status status = plan_record_copy(doc->plan, PLAN_SETTINGS, 0, &record);
    if (status != STATUS_OK)
        return status;
    json_t *rest = rest_with_tag(record.settings.rest, letter, number);
    if (rest == NULL) {
        plan_record_free(PLAN_SETTINGS, &record);
        return STATUS_MEMORY;
    }
    fields_set_extra(plan_tables[PLAN_SETTINGS].fields, &record, rest);
    status = doc_replace(doc, PLAN_SETTINGS, 0, &record);
    if (status == STATUS_OK)
        snprintf(buffer, 16, "%d%c", number, letter);
    return status;
}
