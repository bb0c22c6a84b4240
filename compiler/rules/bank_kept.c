/*
 * Rules of the family rules_bank: bank-management, bank-held, bank-covered, bank-vented. How a bank is kept: held in
 * place, its studs covered, its gas led away, and lithium watched.
 */
#include "rules/bank.h"

/* A property that must be yes, said in whole words: "`house` is not held in place". */
static Finding *ask_yes(Judge *judge, const Entity *subject, PropId prop, const char *if_no,
                        const char *if_unsaid)
{
    Finding *f = judge_yes(judge, subject, prop, "");
    if (f != NULL) {
        finding_say(judge, f, "`%s` %s", say_name(judge, subject),
                    f->verdict == VERDICT_BROKEN ? if_no : if_unsaid);
    }
    return f;
}

static const struct {
    PropId prop;
    Severity severity;
    const char *if_no;
} lithium_needs[] = {
    {PROP_BANK_MANAGEMENT, SEVERITY_FAULT, "is lithium, and no management system watches its cells"},
    {PROP_BANK_DISCONNECT, SEVERITY_FAULT,
     "is lithium, and cannot disconnect itself before its cells are harmed"},
    {PROP_BANK_COLD_CUTOFF, SEVERITY_FAULT,
     "is lithium, and nothing stops its charging at or under 0 C, where that ruins its cells"},
    {PROP_BANK_WARNS, SEVERITY_WARNING, "is lithium, and gives no warning before its cells are in danger"},
};
enum { LITHIUM_NEEDS = sizeof lithium_needs / sizeof lithium_needs[0] };

/* All that is not stated, in one finding, with one remedy: each of them is asked. */
static void ask_unsaid(Judge *judge, const Entity *bank, const int *unsaid, int count)
{
    Finding *f = judge_open(judge, bank, place_of_name(judge, bank), bank, lithium_needs[unsaid[0]].prop);
    Buf list, all;
    buf_init(&list, judge->arena);
    buf_init(&all, judge->arena);
    for (int i = 0; i < count; i++) {
        const char *word = props[lithium_needs[unsaid[i]].prop].word;
        buf_format(&list, "%s`%s`", i == 0 ? "" : i + 1 == count ? " and " : ", ", word);
        buf_format(&all, "%s%s yes", i == 0 ? "" : " and ", word);
        if (i > 0) {
            finding_left_open(judge, f, bank, lithium_needs[unsaid[i]].prop);
        }
    }
    finding_remedy(judge, f, "%s", all.text);
    finding_severity(f, lithium_needs[unsaid[0]].severity);
    finding_say(judge, f, "`%s` is lithium, and does not state %s", say_name(judge, bank), list.text);
}

void judge_bank_management(Judge *judge, const Entity *bank)
{
    Chemistry chemistry;
    if (!bank_chemistry(bank, &chemistry)) {
        judge_waiting(judge);
        return;
    }
    int unsaid[LITHIUM_NEEDS];
    int count = 0;
    for (int i = 0; i < LITHIUM_NEEDS && chemistry == CHEMISTRY_LIFEPO4; i++) {
        if (entity_yes(bank, lithium_needs[i].prop) == -1) {
            unsaid[count++] = i;
            continue;
        }
        Finding *f = ask_yes(judge, bank, lithium_needs[i].prop, lithium_needs[i].if_no, "");
        if (f != NULL) {
            finding_severity(f, lithium_needs[i].severity);
            finding_about(f, lithium_needs[i].prop);
        }
    }
    if (count > 0) {
        ask_unsaid(judge, bank, unsaid, count);
    }
}

void judge_bank_held(Judge *judge, const Entity *bank)
{
    ask_yes(judge, bank, PROP_BANK_RESTRAINED, "is not held in place",
            "does not say whether it is held in place");
}

void judge_bank_covered(Judge *judge, const Entity *bank)
{
    ask_yes(judge, bank, PROP_BANK_TERMINALS_COVERED,
            "has bare terminals: a spanner that falls can bridge them",
            "does not say whether its terminals are covered");
}

void judge_bank_vented(Judge *judge, const Entity *bank)
{
    Chemistry chemistry;
    if (!bank_chemistry(bank, &chemistry)) {
        judge_waiting(judge);
    } else if (chemistry != CHEMISTRY_LIFEPO4) {
        Finding *f = ask_yes(judge, bank, PROP_BANK_VENTED_OUTSIDE,
                             "can give off hydrogen, and nothing leads it out of the boat",
                             "can give off hydrogen, and does not say whether that is led out of the boat");
        const Figure *air = figure_of(judge, bank, FIGURE_VENT_AIR);
        if (f != NULL && air != NULL && air->state == STATE_KNOWN) {
            finding_note(judge, f, place_of(judge, bank, PROP_BANK_CAPACITY),
                         "while it charges it asks for %s of air, through %s of opening in and as much out",
                         say_figure(judge, air), say_figure(judge, figure_of(judge, bank, FIGURE_VENT_AREA)));
        }
    }
}
