/* All that the answers say of the air, solved once. */
#include "air/answer.h"

#include <math.h>
#include <stdarg.h>

/* ---- findings of this state ---- */

static AirNote *next_note(Answer *answer, Status *status)
{
    if (*status == STATUS_OK)
        *status = array_reserve((void **)&answer->notes, &answer->note_capacity,
                                answer->note_count + 1, sizeof *answer->notes);
    return *status == STATUS_OK ? &answer->notes[answer->note_count++] : NULL;
}

__attribute__((format(printf, 6, 7))) static void add_note(Answer *answer, AirNoteId id,
                                                           PlanTable table, int index,
                                                           Status *status, const char *format, ...)
{
    AirNote *note = next_note(answer, status);
    if (!note)
        return;
    *note = (AirNote){.id = id, .table = table, .index = index};
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(note->text, sizeof note->text, format, arguments);
    va_end(arguments);
    note->text[utf8_cut(note->text, sizeof note->text - 1)] = '\0';
}

/* Nodes without a path have no pressure; fans without one at both ends do not run. */
static void note_paths(Answer *answer, Status *status)
{
    const Air *air = answer->air;
    for (int i = 1; i < air->node_count; i++) {
        if (isnan(answer->flow->nodes[i].pressure_pa))
            add_note(
                answer, AIR_NOTE_NO_PATH, PLAN_SPACES, air->nodes[i].spaces[0], status,
                "No hole or joint leads from %s to outdoors, so it has no pressure of its own.",
                air->nodes[i].name);
    }
    for (int i = 0; i < air->fan_count; i++) {
        if (!answer->flow->fan_runs[i])
            add_note(answer, AIR_NOTE_FAN, PLAN_FANS, air->fans[i].index, status,
                     "Fan %s cannot run: one of its ends has no path to outdoors.",
                     answer->plan->fans[air->fans[i].index].id);
    }
}

static bool leak_named(const Air *air, const char *ref)
{
    for (int i = 0; i < air->leak_count; i++) {
        if (text_same(air->leaks[i].ref, ref))
            return true;
    }
    return false;
}

static void note_test(Answer *answer, int index, Status *status)
{
    const PlanFanTest *test = &answer->plan->fan_tests[index];
    for (int i = 0; i < test->zone_count; i++) {
        if (air_zone_named(answer->air, test->zones[i].node) < 0)
            add_note(answer, AIR_NOTE_TEST, PLAN_FAN_TESTS, index, status,
                     "Fan test %s has a reading of the zone \"%s\", which the plan does not have.",
                     test->id, test->zones[i].node);
    }
    for (int i = 0; i < test->reading_count; i++) {
        const PlanReading *reading = &test->readings[i];
        for (int j = 0; j < plan_reading_covered_count(reading); j++) {
            if (!leak_named(answer->air, plan_reading_covered(reading, j)))
                add_note(answer, AIR_NOTE_TEST, PLAN_FAN_TESTS, index, status,
                         "Fan test %s had \"%s\" covered, which is no leak of the plan.", test->id,
                         plan_reading_covered(reading, j));
        }
    }
}

/* Under 5 air changes an hour at 50 Pa, by target or test, model codes ask for planned
 * ventilation. */
static void note_ventilation(Answer *answer, Status *status)
{
    double volume = answer->air->volume_m3, least = answer->budget.allowed_m3_s;
    for (int i = 0; i < answer->plan->fan_test_count; i++)
        least = fmin(least, answer->tests[i].test.q50_m3_h / 3600);
    if (answer->plan->settings.mechanical_ventilation != 1 && volume > 0 &&
        least * 3600 / volume < 5)
        add_note(answer, AIR_NOTE_VENTILATION, PLAN_SETTINGS, 0, status,
                 "Under 5 air changes an hour at 50 Pa, tested or aimed at, a house needs planned "
                 "ventilation; none is said to be there. Advice: the code adopted where the house "
                 "stands decides.");
}

static Status make_notes(Answer *answer)
{
    Status status = STATUS_OK;
    for (int i = 0; i < answer->air->note_count; i++) {
        AirNote *note = next_note(answer, &status);
        if (note)
            *note = answer->air->notes[i];
    }
    note_paths(answer, &status);
    for (int i = 0; i < answer->plan->fan_test_count; i++)
        note_test(answer, i, &status);
    note_ventilation(answer, &status);
    return status;
}

/* ---- the answer ---- */

static Status make_tests(Answer *answer, Fault *fault)
{
    size_t count = (size_t)answer->plan->fan_test_count;
    answer->tests = mem_alloc(count + 1, sizeof *answer->tests);
    Status status = answer->tests ? STATUS_OK : STATUS_MEMORY;
    for (size_t i = 0; i < count && status == STATUS_OK; i++) {
        AnswerTest *made = &answer->tests[i];
        status = air_test_reduce(&answer->plan->fan_tests[i], &answer->site, &made->test);
        if (status == STATUS_OK)
            status =
                air_test_beside(answer->air, &made->test, &answer->budget, &made->beside, fault);
    }
    return status;
}

Status answer_make(const Air *air, const AirAsk *ask, TextBuffer *text, Answer *answer,
                   Fault *fault)
{
    *answer = (Answer){.air = air,
                       .plan = air->envelope->plan,
                       .seals = ask->seals,
                       .today = ask->today ? ask->today : "",
                       .text = text};
    answer->weather = air_plan_weather(answer->plan);
    answer->site = air_site(air);
    Status status = air_flow_make(air, ask->seals, &answer->weather, &answer->flow, fault);
    for (int i = 0; i < AIR_BOUND_COUNT && status == STATUS_OK; i++)
        status = air_fifty_make(air, ask->seals, (AirBound)i, &answer->fifty[i], fault);
    status = status == STATUS_OK ? air_budget_make(air, &answer->budget, fault) : status;
    status = status == STATUS_OK ? make_tests(answer, fault) : status;
    status = status == STATUS_OK ? make_notes(answer) : status;
    status = status == STATUS_OK ? air_hunt_make(air, answer->today, &answer->hunt, fault) : status;
    status = status == STATUS_OK
                 ? air_order_make(air, ask->seals, ask->progress, ask->user, &answer->order, fault)
                 : status;
    if (status == STATUS_MEMORY)
        fault_set(fault, status, "there is not enough memory for the answer");
    return status;
}

void answer_free(Answer *answer)
{
    air_flow_free(answer->flow);
    for (int i = 0; i < AIR_BOUND_COUNT; i++)
        air_flow_free(answer->fifty[i]);
    air_order_free(&answer->order);
    air_hunt_free(&answer->hunt);
    mem_free(answer->tests);
    mem_free(answer->notes);
}

const char *air_leak_what(const Plan *plan, const AirLeak *leak)
{
    switch (leak->what) {
    case AIR_HOLE:
        return plan->catalog->kinds[plan->penetrations[leak->index].kind].word;
    case AIR_JOINT:
        return joint_class_word((JointClass)leak->index);
    case AIR_VENT:
        return "vent";
    case AIR_SHAFT_TOP:
        return "shaft_top";
    default:
        return "link";
    }
}
