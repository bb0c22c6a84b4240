/*
 * wires.csv: every cable of the boat's wiring, one row a feed with a cable of its own; then the cables from solar
 * panels to their controllers (`roof@panels`), and of a bank with a fuse at each battery a row for those fuses
 * (`house@batteries`).
 *
 * Columns: feed, from, to, size, conductors, insulation_c, run_m (one way), length_m (out and back),
 * current_a, protection, drop_percent (of its own cable), colour, label, sized_by (spec or Garboard), current
 * (dc or ac), ground (size of the grounding conductor), poles, opens_ma (leakage), ends (terminals; those where a device cuts
 * the cable too), device_m and interrupts_a (where the device stands, what it breaks, as stated), sheath, bundle, cranking_a
 * and cranking_drop_percent (what starters behind it take for seconds, and what is lost then from the source on; a starter's
 * own cable has both in current_a and drop_percent). Labels
 * come from names and hold no number of ours, so that one that is on a cable stays right. Values that are
 * ranges are texts: `3..5`. Where choices are open, a cable has a row for each of what it may be, and names in
 * the column option, at the end, the options that make it so; currents and drops are those over all combinations in which
 * it stands so.
 */
#ifndef GARBOARD_OUTPUT_WIRES_H
#define GARBOARD_OUTPUT_WIRES_H

#include "rules/outcome.h"

void wires_csv(Buf *to, const Outcome *outcome);

/**
 * The colours of a feed's conductors by the basis: "red; returning black or yellow". *source is whose they
 * are.
 */
const char *wires_colour(Arena *arena, const Feed *feed, Basis basis, const char **source);

/**
 * Whether a cable of direct current begins or ends on a switch or a bus, which carry one pole: its returning conductor runs
 * beside it and ends on a negative bus, which is no thing of the spec.
 */
bool wires_return_elsewhere(const Feed *feed);
/** Whether a device of a feed, or none (NULL), is no way of a panel: it stands in its cable, or on a stud, by itself. */
bool wires_device_stands_alone(const Feed *feed, const Property *protect);

/** The same in short, in the order of the conductors: "red / black or yellow", with the grounding conductor of mains if stated. */
Str wires_colours(Arena *arena, const Feed *feed, Basis basis);

/** Terminals of one sort at both ends of a cable. */
typedef struct WireEnds {
    unsigned count;
    const char *what; /* "rings 10 mm2, hole M8 (usual)" */
    double area_m2;   /* of the conductor that they are for */
    bool measure;     /* rings whose hole nobody can know before the stud is measured */
} WireEnds;
enum { WIRE_ENDS_MOST = 2 };

/**
 * The terminals of a feed, with the holes that the spec states, else those usual for the thing that the end is bolted to, where that
 * is a bank, a battery switch, a starter or a great fuse; how many sorts there are. None where the size is not known.
 */
unsigned wires_end_sorts(Arena *arena, const Figures *figures, const Feed *feed, WireEnds ends[WIRE_ENDS_MOST]);

/** The same in words: "1 ring 10 mm2, hole M8 (usual), 3 rings 10 mm2, hole to measure"; of mains "4 ferrules 2.5 mm2, 2 ferrules 1.5 mm2". */
Str wires_ends(Arena *arena, const Figures *figures, const Feed *feed);

/** The size of the grounding conductor that runs with it; nothing if none is stated. */
Str wires_ground(Arena *arena, const Model *model, const Feed *feed);

/** Whether a cable stands in the wire list: an inlet's own too, which leads to the first breaker. */
bool wires_is_listed(const Feed *feed);
/** Those, and the cables of switches of which nothing is stated: a list that leaves them out reads as complete. */
bool wires_is_told(const Feed *feed);
/** What stands at the beginning and the end of a feed's cable: "?" for a name that is a mistake, "breaker" where that of an inlet ends. */
Str wires_name_from(const Model *model, const Feed *feed);
Str wires_name_to(const Model *model, const Feed *feed);
/** What is written on the cable's label at both ends: "main-panel to galley"; of an inlet's own cable "shore to breaker". */
void wires_label(Buf *to, const Model *model, const Feed *feed);

#endif
