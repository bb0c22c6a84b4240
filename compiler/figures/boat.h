/*
 * What the sums over the boat's things have in common, and by how much such a sum differs between two models of one
 * spec.
 *
 * Two options of a choice share most of the boat. What they share has one value, decided or not: it adds nothing to the
 * difference, and where it is a range it does not blur it.
 */
#ifndef GARBOARD_FIGURES_BOAT_H
#define GARBOARD_FIGURES_BOAT_H

#include "figures/figure.h"
#include "model/status.h"

/** Whether a thing counts in what is summed over the boat. */
bool boat_counts(Work *work, const Entity *entity);

/* All that counts, in the order of the spec. */
typedef struct BoatThings {
    const Entity **list;
    uint32_t count;
    bool waiting; /* something may count or not: every sum waits for a mistake to be mended */
} BoatThings;

/** What counts in a sum that begins. */
const BoatThings *boat_things(Work *work);
/**
 * Orders things by their system, in each as they were: those of a system stand from first[system] up to the first of the
 * next; first has SYSTEM_COUNT + 1 elements.
 */
void boat_order_by_system(const Entity *const things[], size_t count, const Entity *ordered[], size_t first[]);
/** How many pieces of what was dropped, sent back or is not picked were paid for, as far as that is said. */
Interval boat_pieces_paid(const Entity *entity, const Purchase *p);
/** How many of it there are aboard, spares included. */
Interval boat_pieces(Work *work, const Entity *entity);
/** work_begin of an amount of money: it waits where the boat's currency is a mistake. */
void begin_money(Work *work);
/** Whether something that counts does not state it. */
bool boat_leaves_out(Work *work, PropId prop);
/** Whether it states a mass, or what hangs on it has one. */
bool boat_weighs(const Work *work, const Entity *entity);
/** What one of it weighs, with an anchor's chain and rope; STATE_MISSING where neither is known. */
Quantity boat_mass(Work *work, const Entity *entity);
/** What one of it costs: its price, else what was offered. */
Quantity boat_price(Work *work, const Entity *entity);

/** Masses are printed in the unit in which the owner states what the boat weighs (kg for t), else in the one that goes with her length. */
UnitPair mass_unit(const Model *model);

/** The thing's own lead, else its supplier's usual one; STATE_MISSING where neither says one. */
Quantity boat_lead_of(Work *work, const Entity *entity);
/** Records the longest lead. */
void boat_lead(Work *work);

/** What everything, and what is still to buy, costs without tax, where one is stated (money_tax.c). */
void boat_without_tax(Work *work);
/** What was paid for dropped things, and for those of options that are not taken, and has not come back (boat_vain.c). */
void boat_paid_in_vain(Work *work);
/** The first of those that says no price: nobody knows how much is gone for it. NULL: none. */
const Entity *boat_vain_unpriced(const Model *model);

/** Masses and centres of her systems, of what is in her tanks, and of her as a whole (weight_centre.c). */
void weight_centres(Work *work);

/* What one thing adds to such a figure of the boat. */
typedef enum BoatTerm {
    TERM_NONE,    /* nothing: it is not among what is summed */
    TERM_UNKNOWN, /* it is, and does not say how much */
    TERM_KNOWN,
} BoatTerm;

/** For cost, committed, still-to-buy and mass; of longest-lead and ready the thing's own lead. */
BoatTerm boat_term(const Figures *figures, const Entity *entity, FigureId id, Interval *term);
/** Whether boat_term and boat_difference know that figure. */
bool boat_is_sum(FigureId id);

/**
 * The figure of `a` less that of `b`, in SI or in the boat's currency, whatever the values that both share turn out to
 * be. False if it cannot be told: something that only one of the two has does not say what it adds.
 */
bool boat_difference(const Figures *a, const Figures *b, FigureId id, Interval *difference);

#endif
