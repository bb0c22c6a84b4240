/*
 * See settle.h: many findings with one cause. A load whose draw is `?` leaves every cable, fuse and panel on its way open;
 * one of them leaves the hole least room, and says all that the others could.
 */
#include "rules/settle.h"

#include <string.h>

static const SettleRange *range_that_holds(const Settle *settle)
{
    for (uint32_t i = 0; i < settle->range_count; i++) {
        if (settle->ranges[i].holds) {
            return &settle->ranges[i];
        }
    }
    return NULL;
}

const Settle *settle_cause(const Finding *finding)
{
    const Settle *cause = NULL;
    for (const Settle *s = finding->settles; s != NULL; s = s->next) {
        if (s->hole && s->state == SETTLE_FOUND && range_that_holds(s) != NULL) {
            if (cause != NULL) {
                return NULL;
            }
            cause = s;
        }
    }
    return cause;
}

static bool is_within(Interval inner, const Settle *outer)
{
    for (uint32_t i = 0; i < outer->range_count; i++) {
        const SettleRange *range = &outer->ranges[i];
        if (range->holds && range->value.low <= inner.low && inner.high <= range->value.high) {
            return true;
        }
    }
    return false;
}

static bool has_cause(const Finding *finding, const Settle *cause)
{
    const Settle *own = settle_cause(finding);
    return finding->told_with == NULL && own != NULL && strcmp(own->input, cause->input) == 0;
}

static bool is_narrower(Interval a, Interval b)
{
    return a.high < b.high || (a.high == b.high && a.low > b.low);
}

/* Of the findings with that cause, the one that leaves it least room. */
static Finding *narrowest(const Outcome *outcome, const Settle *cause)
{
    Finding *least = NULL;
    for (Finding *f = outcome->findings; f != NULL; f = f->next) {
        if (has_cause(f, cause) &&
            (least == NULL || is_narrower(range_that_holds(settle_cause(f))->value,
                                          range_that_holds(settle_cause(least))->value))) {
            least = f;
        }
    }
    return least;
}

static void fold_into(const Outcome *outcome, Finding *teller)
{
    const Settle *cause = settle_cause(teller);
    Interval room = range_that_holds(cause)->value;
    uint32_t count = 0;
    for (const Finding *f = outcome->findings; f != NULL; f = f->next) {
        count += has_cause(f, cause) && is_within(room, settle_cause(f));
    }
    for (Finding *f = outcome->findings; f != NULL && count >= FOLD_LEAST; f = f->next) {
        if (f != teller && has_cause(f, cause) && is_within(room, settle_cause(f))) {
            f->told_with = teller;
            teller->tells++;
        }
    }
}

void settle_fold(Outcome *outcome)
{
    for (Finding *f = outcome->findings; f != NULL; f = f->next) {
        const Settle *cause = f->told_with == NULL && f->tells == 0 ? settle_cause(f) : NULL;
        Finding *teller = cause != NULL ? narrowest(outcome, cause) : NULL;
        if (teller != NULL && teller->tells == 0) {
            fold_into(outcome, teller);
        }
    }
}
