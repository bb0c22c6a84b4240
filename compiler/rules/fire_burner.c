/*
 * One rule of the family rules_fire: flame-pan. What is primed by burning a little fuel in a cup stands in a pan, for what runs over
 * burns where it lies.
 */
#include "rules/fire.h"

#include "figures/water.h"
#include "rules/plumbing.h"

/* 3/4 in, in whole millimetres. Source: 46 CFR 25.45-1(b)(2) and (c)(1), verified. */
static const double pan_least_m = 0.019;

static void judge_unprimed(Judge *judge, const Entity *burner)
{
    Finding *finding = judge_open(judge, burner, place_of_name(judge, burner), burner, PROP_BURNER_PRIMED);
    finding_say(judge, finding, "`%s` does not say whether it is lit by burning fuel in a cup below it, nor how deep a pan is under it",
                say_name(judge, burner));
    finding_remedy(judge, finding, "primed no");
    finding_remedy(judge, finding, "`primed yes`, with the depth of the pan as `pan`");
}

void judge_flame_pan(Judge *judge, const Entity *burner)
{
    int primed = entity_yes(burner, PROP_BURNER_PRIMED);
    Side pan = side_value(judge, burner, PROP_BURNER_PAN, 0);
    Side least = side_number(pan_least_m, unit_of(burner, PROP_BURNER_PAN, UNIT_ALONE(UNIT_MM)));
    bool deep = side_is_known(pan) && pan.value.low >= pan_least_m;
    if (primed == 0 || deep) {
        judge_holds(judge);
    } else if (primed == -2) {
        judge_waiting(judge);
    } else if (primed == -1) {
        judge_unprimed(judge, burner);
    } else if (pan.state == STATE_MISSING) {
        Finding *finding = judge_open(judge, burner, place_of_name(judge, burner), burner, PROP_BURNER_PAN);
        finding_say(judge, finding, "`%s` is primed, and does not say how deep a pan is under it: what runs over burns where it lies",
                    say_name(judge, burner));
        finding_remedy(judge, finding, "pan %s", say_up(judge, pan_least_m, least.unit));
    } else {
        Finding *finding = judge_at_least(judge, burner, place_of(judge, burner, PROP_BURNER_PAN), pan, least);
        if (finding != NULL) {
            finding_say(judge, finding, "the pan under `%s` is %s deep; %s is the least for what is primed", say_name(judge, burner),
                        say_side(judge, pan), say_side(judge, least));
            finding_remedy(judge, finding, "pan %s", say_up(judge, pan_least_m, least.unit));
        }
    }
}
