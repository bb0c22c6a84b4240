/*
 * The words for basis and evidence. Knows nothing else.
 */
#include "physics/basis.h"

const char *evidence_word(Evidence evidence)
{
    switch (evidence) {
    case EVIDENCE_VERIFIED: return "verified";
    case EVIDENCE_SECOND_HAND: return "quoted at second hand";
    case EVIDENCE_MEMORY: return "from memory";
    case EVIDENCE_PRACTICE: return "common practice, no source";
    case EVIDENCE_COMPUTED: return "computed";
    case EVIDENCE_MODEL: return "a modelling choice";
    case EVIDENCE_COUNT: break;
    }
    return "unknown";
}

const char *basis_word(Basis basis)
{
    return basis == BASIS_ISO ? "iso" : "us";
}
