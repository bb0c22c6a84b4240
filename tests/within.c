/* See within.h. */
#include "within.h"

#include "check.h"

#include <stdio.h>

enum { MOST_PROBLEMS = 4000 };

static int problems;

void tell(const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    if (problems++ < MOST_PROBLEMS) {
        vfprintf(stderr, format, arguments);
    }
    va_end(arguments);
}

int told(void)
{
    return problems;
}

/* ---- Comparing ---- */

/* The last digits of floating-point arithmetic are forgiven. */
static bool is_within(double exact, double low, double high)
{
    double slack =
        1e-15 + 1e-9 * (fabs(exact) + (isfinite(low) ? fabs(low) : 0.0) + (isfinite(high) ? fabs(high) : 0.0));
    return (exact >= low || exact >= low - slack) && (exact <= high || exact <= high + slack);
}

static const char *name_of(const Model *model, const Entity *entity)
{
    return entity != NULL ? str_copy(model->arena, entity_name(model, entity)) : "-";
}

/* The figure of the ranges that a figure of exact values has to lie in. */
static const Figure *figure_of_ranges(const Case *ranges, const Case *exact, const Figure *f)
{
    const Entity *subject = model_find(ranges->model, entity_name(exact->model, f->subject));
    return figure_find_at(ranges->figures, subject, (FigureId)f->id, figure_at_name(exact->model, f));
}

/*
 * A size that the spec leaves out is chosen for all that is possible; a boat of exact values gets one for itself. Where the
 * two are not the same, what rests on it is that of another boat, and there is nothing to compare.
 */
static bool is_chosen_apart(const Case *ranges, const Case *exact, const Figure *f)
{
    const Figure *range = figure_of_ranges(ranges, exact, f);
    bool chosen = f->chosen || (range != NULL && range->chosen);
    return chosen && (range == NULL || f->low != range->low || f->high != range->high);
}

static bool rests_on_chosen(const Case *ranges, const Case *exact, const Figure *f, int depth)
{
    bool rests = is_chosen_apart(ranges, exact, f);
    for (uint16_t i = 0; i < f->input_count && !rests && depth < 30; i++) {
        rests = f->inputs[i].kind == INPUT_FIGURE && rests_on_chosen(ranges, exact, f->inputs[i].u.figure, depth + 1);
    }
    return rests;
}

static const Entity *root_of(const Entity *thing)
{
    for (int i = 0; i < 64 && thing->fed != NULL && thing->fed->giver != NULL; i++) {
        thing = thing->fed->giver;
        if (thing->kind == KIND_INVERTER || thing->kind == KIND_CHARGER || thing->kind == KIND_CONVERTER) {
            break;
        }
    }
    return thing;
}

/* What the solved network says rests on every cable of its tree; a fault current on those of every bank that reaches it. */
static bool rests_on_chosen_copper(const Case *ranges, const Case *exact, const Figure *f)
{
    bool network = f->id == FIGURE_VOLTAGE_DROP || f->id == FIGURE_TOTAL_DROP || f->id == FIGURE_END_VOLTAGE ||
                   f->id == FIGURE_LOSS || f->id == FIGURE_SURGE_VOLTAGE;
    bool fault = f->id == FIGURE_FAULT_CURRENT || f->id == FIGURE_LEAST_FAULT || f->id == FIGURE_SURGE_VOLTAGE || f->id == FIGURE_BURST_VOLTAGE;
    for (uint32_t e = 0; e < exact->model->entity_count && (network || fault); e++) {
        const Entity *thing = exact->model->entities[e];
        for (const Figure *of = exact->figures->lists[e].first; of != NULL; of = of->next) {
            bool mains = thing->flags & ENTITY_AC && f->subject->flags & ENTITY_AC; /* one tree, where they meet or an inverter passes them on */
            if (of->id == FIGURE_WIRE_SIZE && (fault || mains || root_of(thing) == root_of(f->subject)) &&
                is_chosen_apart(ranges, exact, of)) {
                return true;
            }
        }
    }
    return false;
}

/*
 * Those of the plan that are told for the latest corner alone, as docs/computing.md has it (a float is no interval), or by the
 * least by which all is late in any case.
 */
static bool is_of_latest_corner(const Figure *f)
{
    return f->id == FIGURE_LATEST_START || f->id == FIGURE_FLOAT || f->id == FIGURE_ORDER_BY ||
           f->id == FIGURE_FITTINGS_BY;
}

/* What comes just as late is told together, and with ranges that may be something else. */
static bool holds_up_with_others(const Figure *f, const Figure *range)
{
    const char *with = f->remark != NULL ? f->remark : "";
    return (f->id == FIGURE_HOLDS_UP || f->id == FIGURE_HOLDS_UP_NEARLY) && range != NULL && strcmp(with, range->remark != NULL ? range->remark : "") != 0;
}

static void compare_figure(int spec, const Case *ranges, const Case *exact, const Figure *f)
{
    const Figure *range = figure_of_ranges(ranges, exact, f);
    const char *what =
        text_format(exact->model->arena, "spec %d: %s.%s@%.*s", spec, name_of(exact->model, f->subject),
                    figure_rows[f->id].name, STR_ARG(figure_at_name(exact->model, f)));
    if (is_of_latest_corner(f) || holds_up_with_others(f, range) || rests_on_chosen(ranges, exact, f, 0) || rests_on_chosen_copper(ranges, exact, f)) {
        return;
    }
    if (range == NULL || range->state == STATE_MISSING) {
        return; /* not known with ranges: nothing is said of it, and what needs it is not judged */
    }
    if (f->state == STATE_KNOWN && range->state == STATE_KNOWN &&
        !(is_within(f->low, range->low, range->high) && is_within(f->high, range->low, range->high))) {
        tell("%s is %.12g..%.12g, and %.12g..%.12g with ranges\n", what, f->low, f->high, range->low,
             range->high);
    } else if (f->state == STATE_KNOWN && range->state != STATE_KNOWN) {
        tell("%s is known with exact values only\n", what);
    }
}

unsigned compare_figures(int spec, const Compiled *ranges, const Compiled *exact)
{
    unsigned compared = 0;
    for (uint32_t i = 0; i < exact->outcome->case_count; i++) {
        const Case *c = &exact->outcome->cases[i];
        for (uint32_t e = 0; e < c->model->entity_count; e++) {
            for (const Figure *f = c->figures->lists[e].first; f != NULL; f = f->next) {
                compare_figure(spec, &ranges->outcome->cases[i], c, f);
                compared++;
            }
        }
    }
    return compared;
}

/* The statement in which a finding stands. */
static const char *statement_of(const Finding *f, const Compiled *of)
{
    const Source *source = of->spec->sources.list[0];
    const char *at = source->text + (f->place.start - source->base);
    while (at > source->text && strchr("\n;{", at[-1]) == NULL) {
        at--;
    }
    return at + strspn(at, " ");
}

/* One rule may look at several lines of a thing. */
static bool same_line(const Finding *a, const Compiled *of_a, const Finding *b, const Compiled *of_b)
{
    const char *x = statement_of(a, of_a);
    const char *y = statement_of(b, of_b);
    size_t length = strcspn(x, " \n;}");
    return source_place(&of_a->spec->sources, a->place.start).line ==
               source_place(&of_b->spec->sources, b->place.start).line &&
           length == strcspn(y, " \n;}") && strncmp(x, y, length) == 0;
}

/* The worst that is found of a rule on the same thing, or there on the same line: what another spec says of a finding. */
static Verdicts verdict_on(const Compiled *c, const Compiled *of, const Finding *finding, bool on_line)
{
    Verdicts worst = NOTHING_FOUND;
    const Model *model = outcome_first(c->outcome)->model;
    const Model *other = outcome_first(of->outcome)->model;
    for (const Finding *f = c->outcome->findings; f != NULL; f = f->next) {
        if (f->rule == finding->rule && finding_same_matter(f, finding) &&
            (!on_line || same_line(f, c, finding, of)) &&
            same_name(f->subject, model, finding->subject, other) &&
            same_name(f->at, model, finding->at, other)) {
            Verdicts now = f->verdict == VERDICT_BROKEN ? FOUND_BROKEN : FOUND_OPEN;
            worst = now > worst ? now : worst;
        }
    }
    return worst;
}

static unsigned count_same(const Compiled *c, const Compiled *of, const Finding *finding)
{
    unsigned count = 0;
    const Model *model = outcome_first(c->outcome)->model;
    const Model *other = outcome_first(of->outcome)->model;
    for (const Finding *f = c->outcome->findings; f != NULL; f = f->next) {
        count += f->rule == finding->rule && finding_same_matter(f, finding) &&
                 same_name(f->subject, model, finding->subject, other) && same_name(f->at, model, finding->at, other);
    }
    return count;
}

Verdicts verdict_there(const Compiled *c, const Compiled *of, const Finding *finding)
{
    Verdicts there = verdict_on(c, of, finding, true);
    bool moved = there == NOTHING_FOUND && count_same(c, of, finding) >= count_same(of, of, finding);
    return moved ? verdict_on(c, of, finding, false) : there;
}

const char *finding_name(const Compiled *c, const Finding *f)
{
    const Model *model = outcome_first(c->outcome)->model;
    return text_format(model->arena, "%s on %s@%s: %s", f->rule->name, name_of(model, f->subject),
                       name_of(model, f->at), f->message);
}

/* Whether a size was chosen apart for a thing, or for something that it hangs on: a device upstream may be what counts. */
static bool is_chosen_up_from(const Case *with, const Case *in, const Entity *thing)
{
    for (int up = 0; up < 64 && thing != NULL; up++) {
        for (const Figure *f = in->figures->lists[thing->index].first; f != NULL; f = f->next) {
            if (rests_on_chosen(with, in, f, 0) || rests_on_chosen_copper(with, in, f)) {
                return true;
            }
        }
        thing = thing->fed != NULL ? thing->fed->giver : NULL;
    }
    return false;
}

/* Of banks that are joined the device of the other one counts, which hangs on nothing that the subject hangs on. */
static bool is_chosen_anywhere(const Case *with, const Case *in, const Finding *finding)
{
    for (uint32_t i = 0; i < in->model->entity_count && strcmp(finding->rule->name, "two-ended") == 0; i++) {
        if (is_chosen_up_from(with, in, in->model->entities[i])) {
            return true;
        }
    }
    return false;
}

static bool is_one_of(const Finding *f, const char *const *rules, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (strcmp(f->rule->name, rules[i]) == 0) {
            return true;
        }
    }
    return false;
}

/*
 * Of a device that is left to the program the class is, too; whoever writes its rating chooses none. Nor is one that was chosen as
 * large as the cable allows needless: nothing that is stated flows there.
 */
static bool is_class_chosen(const Case *ranges, const Case *exact, const Entity *thing, const Finding *finding)
{
    static const char *const of_device[] = {"protect-breaking", "wire-unprotected"};
    bool is_device = is_one_of(finding, of_device, 2) && thing != NULL;
    for (const Figure *f = is_device ? exact->figures->lists[thing->index].first : NULL; f != NULL; f = f->next) {
        const Figure *range = f->id == FIGURE_PROTECTION ? figure_of_ranges(ranges, exact, f) : NULL;
        if (range != NULL && range->chosen != f->chosen) {
            return true;
        }
    }
    return false;
}

/* The same for anything that a finding may rest on: of an inverter also what it passes through. */
static bool is_of_chosen(const Compiled *ranges, const Compiled *exact, const Finding *finding, const Compiled *of)
{
    for (uint32_t i = 0; i < exact->outcome->case_count; i++) {
        const Case *in = &exact->outcome->cases[i];
        const Case *with = &ranges->outcome->cases[i];
        const Entity *same = model_find(in->model, entity_name(outcome_first(of->outcome)->model, finding->subject));
        const Entity *passed = same != NULL ? entity_reference(same, PROP_INVERTER_PASSES) : NULL;
        if (is_chosen_up_from(with, in, same) || is_chosen_up_from(with, in, passed) || is_chosen_anywhere(with, in, finding) ||
            is_class_chosen(with, in, same, finding)) {
            return true;
        }
    }
    return false;
}

/* When to order at the latest, and what all waits for, go by the latest corner, and a float may be larger there than in another. */
static const char *const of_latest_corner[] = {"order-now", "holds-up"};

/* Whether what is broken with ranges says that it is so with any values: a rule may be judged with these without what it lacks. */
static bool breaks_for_all(const Finding *f)
{
    /* A waiver that is out of date is idle where what it sets aside is not even open. */
    static const char *const what_lacks[] = {"unmeasured", "read-off", "waiver-stale"};
    /* What a finding was reckoned with may be other assumptions where less is open. */
    return !is_one_of(f, of_latest_corner, 2) && !is_one_of(f, what_lacks, 3) && !f->rule->of_assumptions;
}

/*
 * Whether nothing that is found with ranges says that nothing is with any values. Of what is only open, rules of findings tell
 * nothing yet; where no screw of the series fits all that is possible, there is no figure to judge (cavitation); a waiver is idle
 * once what it sets aside is not even open any more.
 */
static bool holds_for_all(const Finding *f)
{
    static const char *const others[] = {"cavitation", "waiver-idle"};
    return !is_one_of(f, of_latest_corner, 2) && !is_one_of(f, others, 2) && !f->rule->of_findings;
}

/* The feed of another model that stands on the same thing, from the same one to the same one; NULL: none, or several. */
static const Feed *feed_there(const Model *there, const Model *here, const Feed *feed)
{
    const Feed *found = NULL;
    for (uint32_t i = 0; i < there->feed_count; i++) {
        const Feed *other = there->feeds[i];
        if (same_name(other->subject, there, feed->subject, here) && same_name(other->giver, there, feed->giver, here) &&
            same_name(other->taker, there, feed->taker, here)) {
            if (found != NULL) {
                return NULL;
            }
            found = other;
        }
    }
    return found;
}

/* Judges a rule there on what it looked at here; false where that is not there. */
static bool judge_there(const Compiled *there, const Compiled *here, const Finding *f, Judge *judge)
{
    const Case *in = outcome_first(there->outcome);
    const Model *of = outcome_first(here->outcome)->model;
    const Entity *looked_at = NULL;
    const Feed *feed = f->looked_at_feed != NULL ? feed_there(in->model, of, f->looked_at_feed) : NULL;
    if (f->looked_at != NULL) {
        looked_at = model_find(in->model, entity_name(of, f->looked_at));
    }
    if ((f->looked_at_feed != NULL && feed == NULL) || (f->looked_at != NULL && looked_at == NULL)) {
        return false;
    }
    *judge = rules_begin_again(in->judge, in->model->arena, in->figures);
    rules_judge_again(judge, f->rule, looked_at, feed);
    return true;
}

/*
 * Whether a rule could be judged with ranges on what it looked at here: if not, it does not say that it holds. Of a feed it is
 * asked of the figures alone.
 */
static bool is_judged(const Compiled *ranges, const Compiled *exact, const Finding *f)
{
    Judge judge;
    return f->looked_at_feed != NULL || !judge_there(ranges, exact, f, &judge) || judge.unjudged + judge.waiting == 0;
}

/* Whether the voltage that was drawn for a thing is a mistake, which the ranges leave open: a rule tells that, and no message. */
static bool is_wrongly_supplied(const Compiled *exact, const Compiled *ranges)
{
    static const char *const rules[] = {"wrong-supply"};
    for (const Finding *f = exact->outcome->findings; f != NULL; f = f->next) {
        if (f->verdict == VERDICT_BROKEN && is_one_of(f, rules, 1) &&
            verdict_on(ranges, exact, f, false) == FOUND_OPEN) {
            return true;
        }
    }
    return false;
}

/* Whether a rule waits for such a mistake there, or leaves it to a finding that tells of the same: that is no word that it holds. */
static bool waits(const Compiled *exact, const Compiled *ranges, const Finding *f)
{
    Judge judge;
    bool asked = judge_there(exact, ranges, f, &judge);
    return asked && ((judge.waiting > 0 && is_wrongly_supplied(exact, ranges)) || judge.given_way > 0);
}

/* What is lost on the way up is told of the feeder, once: with exact values that may be one before. */
static bool is_told_of_feeder(const Compiled *exact, const Compiled *ranges, const Finding *f)
{
    const Entity *thing = 
        model_find(outcome_first(exact->outcome)->model, entity_name(outcome_first(ranges->outcome)->model, f->subject));
    for (int step = 0; strcmp(f->rule->name, "wire-drop") == 0 && thing != NULL && thing->fed != NULL && step < 16; step++) {
        thing = thing->fed->giver;
        for (const Finding *told = exact->outcome->findings; told != NULL && thing != NULL; told = told->next) {
            if (told->rule == f->rule && told->verdict == VERDICT_BROKEN && told->subject == thing) {
                return true;
            }
        }
    }
    return false;
}

void check_chosen_sizes(int spec, const Compiled *exact)
{
    static const char *const rules[] = {"wire-unprotected", "wire-small"};
    const Case *in = outcome_first(exact->outcome);
    for (const Finding *f = exact->outcome->findings; f != NULL; f = f->next) {
        bool about = f->verdict == VERDICT_BROKEN && f->compared && is_one_of(f, rules, 2);
        const Entity *subject = about ? model_find(in->model, entity_name(in->model, f->subject)) : NULL;
        const Figure *size = subject != NULL ? figure_find(in->figures, subject, FIGURE_WIRE_SIZE, f->at) : NULL;
        const Conductor *row = size != NULL && size->chosen ? conductor_find(series_of_unit(size->unit), size->low) : NULL;
        bool said = size != NULL && size->remark != NULL && strncmp(size->remark, "none was found", 14) == 0;
        if (row != NULL && conductor_next(row) != NULL && !said) {
            tell("spec %d: a size that was chosen is too small: %s\n", spec, finding_name(exact, f));
        }
    }
}

unsigned compare_findings(int spec, const Compiled *ranges, const Compiled *exact)
{
    unsigned compared = 0;
    for (const Finding *f = ranges->outcome->findings; f != NULL; f = f->next, compared++) {
        if (f->verdict == VERDICT_BROKEN && !is_of_chosen(ranges, exact, f, ranges) &&
            breaks_for_all(f) && verdict_on(exact, ranges, f, false) != FOUND_BROKEN &&
            !is_told_of_feeder(exact, ranges, f) && !waits(exact, ranges, f)) {
            tell("spec %d: broken with ranges, and not with exact values: %s\n", spec,
                 finding_name(ranges, f));
        }
    }
    for (const Finding *f = exact->outcome->findings; f != NULL; f = f->next, compared++) {
        /* What could not be judged is counted, and is no word that the rule holds. */
        if (!is_of_chosen(ranges, exact, f, exact) && holds_for_all(f) && verdict_on(ranges, exact, f, false) == NOTHING_FOUND &&
            ranges->outcome->unjudged <= exact->outcome->unjudged && is_judged(ranges, exact, f)) {
            tell("spec %d: holds with ranges, and not with exact values: %s\n", spec, finding_name(exact, f));
        }
    }
    return compared;
}

/* ---- Mistakes ---- */

static bool has_mistake_of(const Compiled *c, const Message *message, uint32_t line)
{
    for (const Message *m = c->spec->messages.first; m != NULL; m = m->next) {
        if (m->id == message->id && source_place(&c->spec->sources, m->at.start).line == line) {
            return true;
        }
    }
    return false;
}

bool has_other_mistake(const Compiled *ranges, const Compiled *exact)
{
    for (const Message *m = exact->spec->messages.first; m != NULL; m = m->next) {
        if (!has_mistake_of(ranges, m, source_place(&exact->spec->sources, m->at.start).line)) {
            return true;
        }
    }
    return exact->spec->messages.count > ranges->spec->messages.count;
}
