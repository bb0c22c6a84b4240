/*
 * What a figure rests on: the basis (whose practice is followed) and the evidence (how sure the number is).
 *
 * Every published table in compiler/tables says for each figure how it is known; physics hands that on, so
 * that a finding never shows a remembered number as the words of a standard. Knows numbers and the names of
 * sources; nothing of specs.
 */
#ifndef GARBOARD_PHYSICS_BASIS_H
#define GARBOARD_PHYSICS_BASIS_H

typedef enum Basis {
    BASIS_US,  /* US federal regulations, and the voluntary practice that repeats them */
    BASIS_ISO, /* the ISO small-craft standards, mostly from memory */
    BASIS_COUNT
} Basis;

typedef enum Evidence {
    EVIDENCE_VERIFIED,    /* read in a copy of the named source */
    EVIDENCE_SECOND_HAND, /* read in a text that quotes the named source */
    EVIDENCE_MEMORY,      /* from general knowledge; the source was not at hand */
    EVIDENCE_PRACTICE,    /* common practice, no source */
    EVIDENCE_COMPUTED,    /* arithmetic from a named formula */
    EVIDENCE_MODEL,       /* a choice made in this program */
    EVIDENCE_COUNT
} Evidence;

/** "verified", "from memory" ...; never NULL. */
const char *evidence_word(Evidence evidence);

/** "us" or "iso". */
const char *basis_word(Basis basis);

#endif
