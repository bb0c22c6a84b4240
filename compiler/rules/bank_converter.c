/*
 * The rule converter-drains: what a converter takes of a starting bank, against what charges that bank.
 */
#include "rules/bank.h"

/* The bank that an engine is started from. */
static bool starts_an_engine(const Judge *judge, const Upstream *upstream, const Entity *bank)
{
    if (str_is(entity_word(bank, PROP_BANK_ROLE), "start")) {
        return true;
    }
    for (const Entity *e = judge->model->first_of_kind[KIND_ENGINE]; e != NULL; e = e->next_of_kind) {
        if (is_there(e) && upstream->source[e->index] == bank && is_cranked(e)) {
            return true;
        }
    }
    return false;
}

static void judge_against(Judge *judge, const Entity *converter, const Entity *bank, const Entity *day, Side brings)
{
    Side takes = side_figure(feed_figure(judge, converter->fed, FIGURE_CURRENT));
    Finding *f = judge_at_most(judge, converter, place_of(judge, converter, PROP_CONVERTER_OUTPUT), takes, brings);
    if (f == NULL) {
        return;
    }
    finding_at(f, day != NULL ? day : bank);
    finding_say(judge, f,
                "`%s` takes %s of `%s`, and what charges that brings it %s at most%s%s%s: the rest comes out "
                "of the bank that "
                "starts the engine",
                say_name(judge, converter), say_side(judge, takes), say_name(judge, bank),
                say_side(judge, brings), day != NULL ? " on `" : "", day != NULL ? say_name(judge, day) : "",
                day != NULL ? "`" : "");
    finding_note(judge, f, place_of_name(judge, bank), "the bank that it takes it of");
    finding_remedy(judge, f, "a smaller `output`, if it can be set so");
    finding_remedy(judge, f, "`surplus-only yes`, if it throttles itself by the voltage of `%s`", say_name(judge, bank));
}

static void judge_converter(Judge *judge, const Upstream *upstream, const Entity *converter)
{
    const Entity *bank = upstream->source[converter->index];
    bool charges = false, any_day = false;
    for (const Feed *feed = converter->gives; feed != NULL; feed = feed->next_of_giver) {
        const Entity *taker = feed->maker ? bank_charged(upstream, feed) : NULL;
        charges = charges || (taker != NULL && taker != bank);
    }
    if (!charges || bank == NULL || bank->kind != KIND_BANK || converter->fed == NULL || !starts_an_engine(judge, upstream, bank)) {
        return;
    }
    int surplus = is_relay(converter) ? 1 : entity_yes(converter, PROP_CONVERTER_SURPLUS_ONLY);
    if (surplus == -2) {
        judge_waiting(judge);
        return;
    }
    if (surplus == 1) {
        judge_holds(judge);
        return;
    }
    for (const Entity *day = judge->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        const Figure *brings = figure_find(judge->figures, converter, FIGURE_SOURCE_CURRENT, day);
        if (brings != NULL) {
            judge_against(judge, converter, bank, day, side_figure(brings));
            any_day = true;
        }
    }
    if (!any_day && upstream->charging[bank->index] != NULL) {
        judge_against(judge, converter, bank, NULL, side_figure(figure_of(judge, bank, FIGURE_CHARGE_CURRENT)));
    }
}

void judge_converter_drains(Judge *judge)
{
    const Upstream *upstream = upstream_of(judge);
    for (const Entity *e = judge->model->first_of_kind[KIND_CONVERTER]; e != NULL; e = e->next_of_kind) {
        if (is_there(e)) {
            judge_converter(judge, upstream, e);
        }
    }
}
