/*
 * The rule converter-drains: what a converter takes of a starting bank, against what charges that bank at any one time, and what
 * a whole day leaves in it.
 */
#include "rules/bank.h"

/* The bank that an engine is started from. */
static bool starts_an_engine(const Judge *judge, const Upstream *upstream, const Entity *bank)
{
    if (str_is(entity_word(bank, PROP_BANK_ROLE), "start")) {
        return true;
    }
    for (const Entity *e = judge->model->first_of_kind[KIND_ENGINE]; e != NULL; e = e->next_of_kind) {
        if (is_aboard(e) && upstream->source[e->index] == bank && is_cranked(e)) {
            return true;
        }
    }
    return false;
}

static Finding *judge_against(Judge *judge, const Entity *converter, const Entity *bank, const Entity *day, Side brings)
{
    Side takes = side_figure(feed_figure(judge, converter->fed, FIGURE_CURRENT));
    Finding *f = judge_at_most(judge, converter, place_of(judge, converter, PROP_CONVERTER_OUTPUT), takes, brings);
    if (f == NULL) {
        return NULL;
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
    return f;
}

/*
 * However much charges it while the engine runs: for the rest of the day the converter carries the other bank out of it. What it
 * would lose without that, by its own loads, is not laid to the converter.
 */
static Finding *judge_whole_day(Judge *judge, const Entity *converter, const Entity *bank, const Entity *day)
{
    Side balance = side_figure(figure_find(judge->figures, bank, FIGURE_BALANCE, day));
    Side spared = side_figure(figure_find(judge->figures, converter, FIGURE_SPARED_BALANCE, day));
    const Figure *lowest = figure_find(judge->figures, bank, FIGURE_LOWEST_CHARGE, day);
    if (balance.state == STATE_MISSING || spared.state == STATE_MISSING || lowest == NULL) {
        return NULL; /* nothing is drawn from it */
    }
    spared.value = interval_min(spared.value, (Interval){0.0, 0.0});
    Finding *f = judge_at_least(judge, converter, place_of(judge, converter, PROP_CONVERTER_OUTPUT), balance, spared);
    if (f == NULL) {
        return NULL;
    }
    finding_at(f, day);
    finding_matter(f, "day");
    finding_say(judge, f,
                "on `%s` `%s` carries what hangs behind it out of `%s`, which starts the engine: begun full that falls to %s, and what "
                "others last on such a day counts on it",
                say_name(judge, day), say_name(judge, converter), say_name(judge, bank), say_figure(judge, lowest));
    finding_note(judge, f, place_of_name(judge, bank), "the bank that it takes it of");
    finding_remedy(judge, f, "`surplus-only yes`, if it throttles itself by the voltage of `%s` or is switched off with the engine",
                   say_name(judge, bank));
    return f;
}

/* What is surely found of a day; of several days with the same it is told once, on the worst of them. */
typedef enum Drained { DRAINED_NOT, DRAINED_AT_ONCE, DRAINED_ALL_DAY } Drained;

/* *measure is the less the worse. */
static Drained surely_drained(const Judge *judge, const Entity *converter, const Entity *bank, const Entity *day, double *measure)
{
    const Figure *takes = feed_figure(judge, converter->fed, FIGURE_CURRENT);
    const Figure *brings = figure_find(judge->figures, converter, FIGURE_SOURCE_CURRENT, day);
    if (figure_is_known(takes) && figure_is_known(brings) && takes->low > brings->high * (1.0 + 1e-6)) {
        *measure = brings->high;
        return DRAINED_AT_ONCE;
    }
    const Figure *balance = figure_find(judge->figures, bank, FIGURE_BALANCE, day);
    const Figure *spared = figure_find(judge->figures, converter, FIGURE_SPARED_BALANCE, day);
    const Figure *lowest = figure_find(judge->figures, bank, FIGURE_LOWEST_CHARGE, day);
    bool sure = figure_is_known(balance) && figure_is_known(spared) && figure_is_known(lowest) &&
                (brings == NULL || figure_is_known(brings)) && balance->high < 0.0 && balance->high < spared->low * (1.0 + 1e-6);
    *measure = sure ? lowest->low : 0.0;
    return sure ? DRAINED_ALL_DAY : DRAINED_NOT;
}

/* The worst of the days that are drained so, the first of several as bad; *others takes the rest, as far as they have room. */
static const Entity *worst_of(const Judge *judge, const Entity *converter, const Entity *bank, Drained so, const Entity *others[],
                              uint32_t room, uint32_t *count)
{
    const Entity *worst = NULL;
    double least = 0.0, measure;
    for (const Entity *day = judge->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        if (surely_drained(judge, converter, bank, day, &measure) == so && (worst == NULL || measure < least)) {
            worst = day;
            least = measure;
        }
    }
    *count = 0;
    for (const Entity *day = judge->model->first_of_kind[KIND_DAY]; day != NULL; day = day->next_of_kind) {
        if (day != worst && surely_drained(judge, converter, bank, day, &measure) == so) {
            others[*count < room ? *count : room - 1] = day;
            ++*count;
        }
    }
    return worst;
}

static void judge_day(Judge *judge, const Entity *converter, const Entity *bank, const Entity *day)
{
    enum { NAMED = 8 };
    const Entity *others[NAMED];
    uint32_t count = 0;
    double measure;
    const Figure *brings = figure_find(judge->figures, converter, FIGURE_SOURCE_CURRENT, day);
    Drained so = surely_drained(judge, converter, bank, day, &measure);
    if (so != DRAINED_NOT && worst_of(judge, converter, bank, so, others, NAMED, &count) != day) {
        judge_gives_way(judge);
        return;
    }
    Finding *f = brings != NULL ? judge_against(judge, converter, bank, day, side_figure(brings)) : NULL;
    f = f != NULL ? f : judge_whole_day(judge, converter, bank, day);
    if (f != NULL && count > 0) {
        finding_note(judge, f, place_of_name(judge, others[0]), "the same is found, and no worse, on %s",
                     say_names(judge, others, count < NAMED ? count : NAMED, count));
    }
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
        any_day = any_day || brings != NULL;
        judge_day(judge, converter, bank, day);
    }
    if (!any_day && upstream->charging[bank->index] != NULL) {
        judge_against(judge, converter, bank, NULL, side_figure(figure_of(judge, bank, FIGURE_CHARGE_CURRENT)));
    }
}

void judge_converter_drains(Judge *judge)
{
    const Upstream *upstream = upstream_of(judge);
    for (const Entity *e = judge->model->first_of_kind[KIND_CONVERTER]; e != NULL; e = e->next_of_kind) {
        if (is_aboard(e)) {
            judge_converter(judge, upstream, e);
        }
    }
}
