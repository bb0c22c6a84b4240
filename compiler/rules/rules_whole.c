/*
 * Rules of the spec as a whole: what draws power is fed, no feed runs in a circle, the goals are met, and
 * what is missing or stands there for nothing.
 *
 * The rule `unmeasured` tells what every rule before it could not judge; it has to be the last of this
 * family.
 */
#include "rules/families.h"

#include "rules/whole.h"

#include "model/agree.h"

/* no-edition */

static void judge_no_edition(Judge *judge)
{
    Span first;
    if (states_edition(judge->model, &first)) {
        judge_holds(judge);
        return;
    }
    Finding *finding = judge_broken(judge, NULL, first);
    finding_say(judge, finding, "the spec does not say for which edition of the language it is written");
    finding_remedy(judge, finding, "`edition 1` before everything else in the main file");
}

/* part-unused, space-unused */

/* A part is no thing aboard: the boat answers for it. */
static void judge_part_unused(Judge *judge)
{
    const Unused *part = unused_parts(judge->model);
    if (part == NULL) {
        judge_holds(judge);
    }
    for (; part != NULL; part = part->next) {
        Finding *finding = judge_broken(judge, NULL, part->at);
        finding_say(judge, finding, "nothing `is` the part `%.*s`", STR_ARG(part->name));
        finding_remedy(judge, finding, "`is %.*s` on what it describes", STR_ARG(part->name));
    }
}

static void judge_space_unused(Judge *judge)
{
    bool holds = true;
    for (const Unused *space = unused_spaces(judge->model); space != NULL; space = space->next) {
        const Entity *subject = model_find(judge->model, space->name);
        if (subject == NULL) {
            continue; /* it stands in an option that is not taken */
        }
        Finding *finding = judge_broken(judge, subject, space->at);
        finding_say(judge, finding, "nothing stands in the space `%.*s`, and no cable passes it",
                    STR_ARG(space->name));
        finding_remedy(judge, finding, "`space %.*s` on what stands in it", STR_ARG(space->name));
        holds = false;
    }
    if (holds) {
        judge_holds(judge);
    }
}

/* unmeasured */

static const char *say_what_waits(const Judge *judge, const Unmeasured *u)
{
    Buf text;
    buf_init(&text, judge->arena);
    if (u->figure != FIGURE_NONE) {
        buf_format(&text, "`%s` cannot be computed, for which ", figure_rows[u->figure].name);
    }
    buf_format(&text, "`%s`", u->first);
    if (u->rules > 1) {
        uint32_t more = u->rules - 1;
        buf_format(&text, " and %u more %s wait", (unsigned)more, more == 1 ? "judgement" : "judgements");
    } else {
        buf_text(&text, " waits");
    }
    return text.text;
}

static void judge_unmeasured_properties(Judge *judge)
{
    for (const Unmeasured *u = judge->unmeasured; u != NULL; u = u->next) {
        Finding *finding = judge_broken(judge, u->entity, place_of_name(judge, u->entity));
        finding_about(finding, u->prop);
        bool stated = entity_states(u->entity, u->prop);
        bool of_feeds = props[u->prop].owner == KIND_FEEDS; /* the thing may state the same of the cable that feeds it */
        finding_say(judge, finding, stated     ? "`%s` leaves its `%s` open: %s"
                                     : of_feeds ? "`%s` states no `%s` in the block of its `feeds`: %s"
                                                : "`%s` states no `%s`: %s",
                    say_name(judge, u->entity), props[u->prop].word, say_what_waits(judge, u));
        finding_remedy(judge, finding, "`%s`: %s", say_form(judge, u->prop), props[u->prop].help);
    }
}

/* The table */

#define BATTERY "bank house { chemistry agm; voltage 12 V; capacity 200 Ah; resistance 4 mohm }\n"
#define DRIVEN(status)                                                            \
    EXAMPLE_BOAT BATTERY "engine iron { rated 20 hp at 3000 rpm; fuel diesel; " status " }\n" \
    "alternator belt { engine iron; output 60 A at 14.2 V; feeds house { run 1 m; protect 80 A } }\n"
#define TWO_DAYS(of_winter)                                                                                 \
    "bank house { chemistry agm; voltage 12 V; capacity 200 Ah }\nday anchored { sun 4 h }\nday passage { sun 4 h }\n" \
    "load lamp { fed-by house; draw 1 A; use anchored 2 h; use passage 3 h }\n"                                \
    "choice season { option winter { " of_winter " }; option summer { } }\n"

#define TWO_CHOICES(of_crew)                                                                            \
    BATTERY "load lamps { fed-by house; run 2 m; wire 2.5 mm2; protect 10 A breaker; draw 0.5 A }\n"     \
    "choice light { option dim { set lamps.count 3 }; option bright { set lamps.count 6 } }\n"          \
    "choice crew { option two { item hammock { price 40 EUR } }; option four { " of_crew " } }\n"
#define HEAVY_STOVE(mass)          \
    EXAMPLE_BOAT                   \
    "goal light { mass 4000 kg }\n" \
    "item stove { mass " mass " }\n"

static const Rule rules[] = {
    {
        .name = "unpowered",
        .severity = SEVERITY_FAULT,
        .title = "everything that draws power is fed, and its feed leads back to a source",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A thing without a feed is counted in no cable, no bank and no day; either its line is "
               "forgotten, or it carries its own battery and is `portable`. The finding stands where the "
               "way to a source ends, once for all that hangs on it.",
        .breaks = EXAMPLE_BOAT BATTERY "load fridge { draw 4 A }\n",
        .holds = EXAMPLE_BOAT BATTERY
        "circuit galley { fed-by house; run 3 m; wire 4 mm2; protect 10 A breaker }\n"
        "load fridge { fed-by galley; draw 4 A }\n",
        .open = EXAMPLE_BOAT BATTERY "tank holding { holds black; capacity 60 l }\n"
                                     "toilet head { to holding }\n",
        .judge_boat = judge_unpowered,
    },
    {
        .name = "feed-loop",
        .severity = SEVERITY_FAULT,
        .title = "no feed leads back to itself",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "Things that feed each other in a circle have no source: one of the lines names the wrong "
               "thing. Nothing that hangs on them can be computed until it is put right.",
        .breaks = EXAMPLE_BOAT BATTERY "panel main { fed-by forward }\npanel forward { fed-by main }\n",
        .holds = EXAMPLE_BOAT BATTERY "panel main { fed-by house }\npanel forward { fed-by main }\n",
        .never_open = "who feeds whom is said by name",
        .judge_boat = judge_feed_loop,
    },
    {
        .name = "fed-twice",
        .severity = SEVERITY_FAULT,
        .title = "what is no switch between sources has one feed",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A thing with two feeds is live when either fuse is out, and each of its cables can be asked "
               "to carry all of "
               "it, and to feed a fault of the other. A switch that `works-as transfer` takes one at a time.",
        .breaks = EXAMPLE_BOAT BATTERY "panel one { fed-by house }\npanel other { fed-by house }\n"
                                       "load pilot { fed-by one, other; draw 5 A }\n",
        .holds = EXAMPLE_BOAT BATTERY "panel one { fed-by house }\npanel other { fed-by house }\n"
                                      "load pilot { fed-by one; draw 5 A }\n",
        .never_open = "who feeds whom is said by name",
        .judge_boat = judge_fed_twice,
    },
    {
        .name = "rests-on-dropped",
        .severity = SEVERITY_WARNING,
        .title = "what drives a thing, carries it, or is all that it is there for, is aboard",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "What is dropped counts in no figure, and what it drove or carried does nothing: an alternator without its engine "
               "charges no bank, an instrument without its network shows nothing. So it is of a switch of several sources that one of "
               "them is dropped, and of a bus that a panel or a charger still feeds: it has no battery behind it. An exhaust, or a hole in the hull, outlives the engine that it was there for, and lets the sea in as "
               "before. Other feeds, pipes and jobs have rules of their own.",
        .breaks = DRIVEN("status dropped"),
        .holds = DRIVEN(""),
        .never_open = "whether a thing is dropped is stated",
        .judge_boat = judge_rests_on_dropped,
    },
    {
        .name = "goal-missed",
        .severity = SEVERITY_WARNING,
        .title = "every goal is met",
        .basis = ON_BOTH,
        .source = "the owner's own goals",
        .why =
            "A goal is what the boat is to be able to do. Here it is held against what this spec makes "
            "of her; a goal of `mass` stays open while something that counts has no mass, for that could "
            "weigh more than is left, and while less than half of what she displaces is weighed, or nothing says what that is; the budget has a rule of its own, `over-budget`. A `range` is that of full tanks with "
            "a fifth kept, at the speed that it states. `ready` is held against the day on which the plan "
            "of the work ends.",
        .breaks = HEAVY_STOVE("4800 kg"),
        .holds = HEAVY_STOVE("3200 kg"),
        .open = HEAVY_STOVE("3200..4800 kg"),
        .kinds = {KIND_GOAL},
        .judge = judge_goal,
    },
    {
        .name = "no-edition",
        .severity = SEVERITY_ADVICE,
        .title = "the spec says for which edition of the language it is written",
        .of_all_cases = true,
        .basis = ON_BOTH,
        .source = "a choice of this program",
        .why = "A spec lives as long as its boat. Without the line it is read by the newest edition; should a later one "
               "read something in another way, the line keeps the meaning that it was written with.",
        .breaks = EXAMPLE_WITHOUT_EDITION,
        .holds = EXAMPLE_BOAT,
        .never_open = "the line is there or it is not",
        .judge_boat = judge_no_edition,
    },
    {
        .name = "options-apart",
        .severity = SEVERITY_ADVICE,
        .title = "options that may be picked together set no property twice",
        .of_choice = true,
        .basis = ON_BOTH,
        .source = "a choice of this program",
        .why = "Two options of different choices may set one property while nothing is picked. Once both are, it is a mistake: nobody "
               "could say which of the two holds. So such a boat cannot come about, and figures and findings leave it out. That may be "
               "as it is meant; if not, it is better known before both are decided.",
        .breaks = EXAMPLE_BOAT TWO_CHOICES("set lamps.count 8"),
        .holds = EXAMPLE_BOAT TWO_CHOICES("set lamps.draw 1 A"),
        .never_open = "both set it or they do not",
        .judge_boat = judge_options_apart,
    },
    {
        .name = "set-over",
        .severity = SEVERITY_ADVICE,
        .title = "what is set says anew every line that it stands in place of",
        .of_choice = true,
        .basis = ON_BOTH,
        .source = "a choice of this program",
        .why = "`set`, and `--set`, stand in place of all lines of a property that may stand several times: the use on every day, "
               "every point of a curve. Who sets one of them may not have meant to strike out the others. Lines are told apart by "
               "their day or speed; of those that nothing tells apart, as the hours of a day's engine, it is said where there are "
               "fewer than before. A rate that is set stands in place of that between the same two currencies alone.",
        .breaks = EXAMPLE_BOAT TWO_DAYS("set lamp.use anchored 5 h"),
        .holds = EXAMPLE_BOAT TWO_DAYS("set lamp.use anchored 5 h; set lamp.use passage 3 h"),
        .never_open = "a line is said anew or it is not",
        .judge_boat = judge_set_over,
    },
    {
        .name = "names-alike",
        .severity = SEVERITY_WARNING,
        .title = "no two names differ by capitals alone",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "Capitals count in a name, so `House` and `house` are two things. But links in the book are in small letters, "
               "pictures are files, which many a disc tells apart by more than capitals only, and who reads the label on a "
               "cable aloud tells nobody which of the two it is.",
        .breaks = EXAMPLE_BOAT "item Stove { }\nitem stove { }\n",
        .holds = EXAMPLE_BOAT "item stove-1 { }\nitem stove-2 { }\n",
        .never_open = "names are alike or they are not",
        .judge_boat = judge_names_alike,
    },
    {
        .name = "part-unused",
        .severity = SEVERITY_ADVICE,
        .title = "every part that is described is used",
        .of_all_cases = true,
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A part is a description; it is aboard only where a thing `is` it. One that nothing is "
               "costs nothing and weighs nothing, which may not be what was meant.",
        .breaks = EXAMPLE_BOAT "part mixer for fixture { flow 5 l/min }\n",
        .holds = EXAMPLE_BOAT "part mixer for fixture { flow 5 l/min }\nfixture galley-tap is mixer\n",
        .never_open = "a name is used or it is not",
        .judge_boat = judge_part_unused,
    },
    {
        .name = "space-unused",
        .severity = SEVERITY_ADVICE,
        .title = "every space is named by something",
        .of_all_cases = true,
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "Rules ask what stands in a space and which cables pass it. A space that nothing names may "
               "be one that was forgotten on the lines where it matters.",
        .breaks = EXAMPLE_BOAT "space saloon { volume 12 m3 }\n",
        .holds = EXAMPLE_BOAT "space saloon { volume 12 m3 }\nitem stove { space saloon }\n",
        .never_open = "a name is used or it is not",
        .judge_boat = judge_space_unused,
    },
    {
        .name = "size-chosen",
        .severity = SEVERITY_ADVICE,
        .title = "no day, goal or rule is judged with a size that nobody has decided",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "A bank, array, tank or bottle whose size is `?` gets the smallest that meets what the days, goals and cruises "
               "ask of it, so that all else can be reckoned. What is met with it is met because it was chosen so, and what "
               "breaks with it is left open, for another size may mend it.",
        .breaks = EXAMPLE_BOAT "day anchored { water 12 l per person }\ngoal quiet { endure 7 d on anchored }\n"
                               "tank fresh { holds fresh; capacity ? }\n",
        .holds = EXAMPLE_BOAT "day anchored { water 12 l per person }\ngoal quiet { endure 7 d on anchored }\n"
                              "tank fresh { holds fresh; capacity 200 l }\n",
        .never_open = "a size is chosen or it is not",
        .kinds = {KIND_BANK, KIND_SOLAR, KIND_TANK, KIND_GAS_LOCKER},
        .judge = judge_size_chosen,
    },
    {
        .name = "unmeasured",
        .severity = SEVERITY_ADVICE,
        .title = "nothing is missing that a rule needs",
        .basis = ON_BOTH,
        .source = "common practice, no source",
        .why = "What cannot be computed cannot be judged, and what is not judged is not in order. This "
               "names the property that is missing, and what it holds up.",
        .breaks = EXAMPLE_BOAT "item stove { status ordered }\n",
        .holds = EXAMPLE_BOAT "item stove { status ordered; ordered 2027-02-20 }\n",
        .never_open =
            "a property is stated or it is not; an undecided one leaves the rule open that asks for it",
        .judge_boat = judge_unmeasured_properties, /* last: the rules before it say what they lack */
    },
};
const RuleFamily rules_whole = RULE_FAMILY("The spec as a whole", rules);
