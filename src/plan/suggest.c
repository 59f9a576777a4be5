#include "plan/suggest.h"

#include <string.h>

#include "plan/record.h"

enum { SUGGEST_LENGTH = 48, SUGGEST_LISTED = 12 };

static int least(int a, int b)
{
    return a < b ? a : b;
}

/* Single changes that make one word the other; longer words than SUGGEST_LENGTH are far. */
static int distance(const char *a, const char *b)
{
    int row[SUGGEST_LENGTH + 1];
    size_t columns = strlen(b);
    if (strlen(a) > SUGGEST_LENGTH || columns > SUGGEST_LENGTH)
        return SUGGEST_LENGTH;
    for (size_t k = 0; k <= columns; k++)
        row[k] = (int)k;
    for (size_t i = 0; a[i] != '\0'; i++) {
        int corner = row[0];
        row[0] = (int)i + 1;
        for (size_t k = 0; k < columns; k++) {
            int change = corner + (a[i] != b[k] ? 1 : 0);
            corner = row[k + 1];
            row[k + 1] = least(change, 1 + least(row[k], corner));
        }
    }
    return row[columns];
}

/* What is chosen from: words of a list or ids of a table. */
typedef struct Choices {
    const PlanWords *words;
    const Catalog *catalog;
    const Plan *plan;
    PlanTable table;
} Choices;

static int choice_count(const Choices *choices)
{
    return choices->words != NULL ? plan_words_count(choices->words, choices->catalog)
                                  : plan_count(choices->plan, choices->table);
}

static const char *choice_at(const Choices *choices, int index)
{
    if (choices->words != NULL)
        return plan_words_at(choices->words, choices->catalog, index);
    return plan_id_at(choices->plan, choices->table, index);
}

static void advise_all(const Choices *choices, Fault *fault)
{
    char list[FAULT_TEXT_SIZE] = "";
    size_t used = 0;
    int count = choice_count(choices);
    for (int i = 0; i < count && used < sizeof list - 1; i++) {
        const char *choice = choice_at(choices, i);
        if (choice[0] == '\0')
            continue;
        if (i >= SUGGEST_LISTED && count > SUGGEST_LISTED + 4) {
            snprintf(list + used, sizeof list - used, " ...");
            break;
        }
        int wrote = snprintf(list + used, sizeof list - used, "%s%s", used > 0 ? ", " : "", choice);
        used += wrote > 0 ? (size_t)wrote : 0;
    }
    if (list[0] != '\0')
        fault_advise(fault, "Known: %s.", list);
}

static void advise(const Choices *choices, const char *word, Fault *fault)
{
    enum { LOOK_AT = 10000 };
    int count = least(choice_count(choices), LOOK_AT), best = -1, best_distance = SUGGEST_LENGTH;
    for (int i = 0; i < count; i++) {
        const char *choice = choice_at(choices, i);
        int away = distance(word, choice);
        if (choice[0] != '\0' && away < best_distance) {
            best = i;
            best_distance = away;
        }
    }
    if (best >= 0 && best_distance <= 3 && best_distance * 3 <= (int)strlen(word))
        fault_advise(fault, "Did you mean \"%s\"?", choice_at(choices, best));
    else
        advise_all(choices, fault);
}

Status plan_suggest_word(const PlanWords *words, const Catalog *catalog, const char *word,
                         Fault *fault)
{
    Choices choices = {.words = words, .catalog = catalog};
    advise(&choices, word, fault);
    return fault_set(fault, STATUS_BAD_INPUT, "\"%.80s\" is no %s", word, words->what);
}

Status plan_suggest_id(const Plan *plan, PlanTable table, const char *id, Fault *fault)
{
    Choices choices = {.plan = plan, .table = table};
    advise(&choices, id, fault);
    return fault_set(fault, STATUS_BAD_INPUT, "there is no %s with the id \"%.80s\"",
                     plan_tables[table].one, id);
}
