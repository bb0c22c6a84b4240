/*
 * What is meant by a word that a property does not take: the words of the trade, British and American, and what the
 * language calls it. Where a word may mean one of several, or something that the property cannot say, the remark tells it:
 * what is copied from a message must not be another fuel or another chemistry than the owner has. See meant.h.
 */
#include "model/meant.h"

#include <string.h>

/* In small letters, a blank between; the first row of a property that fits counts. */
typedef struct UsualValue {
    const char *property;
    const char *words;
    const char *meant;
    const char *remark; /* behind it; NULL: none */
} UsualValue;

static const UsualValue usual_values[] = {
    /* fuel */
    {"fuel", "gasoline unleaded benzine mogas e10 e5", "petrol", NULL},
    {"fuel", "gas", "petrol", "if that is gasoline; a flame of bottled gas is a `gas-appliance`, with its `gas-locker`"},
    {"fuel", "gasoil gas-oil diesel-oil derv red-diesel white-diesel marine-diesel biodiesel hvo", "diesel", NULL},
    {"fuel", "coal anthracite charcoal peat briquettes logs solid solid-fuel multi-fuel multifuel", "wood", "which stands for all that burns on a grate"},
    {"fuel", "alcohol ethanol bioethanol meths metho methylated-spirit methylated-spirits denatured-alcohol gel", "spirit", NULL},
    {"fuel", "kerosene kerosine kero lamp-oil", "paraffin", NULL},
    {"fuel", "electricity battery batteries electro", "electric", NULL},
    /* what a tank holds */
    {"holds", "water freshwater fresh-water drinking-water drinking potable potable-water", "fresh", NULL},
    {"holds", "gray graywater greywater gray-water grey-water sullage", "grey", NULL},
    {"holds", "sewage blackwater black-water holding soil", "black", NULL},
    {"holds", "seawater sea-water saltwater salt-water salt raw-water bait live-bait fish", "sea", NULL},
    {"holds", "waste wastewater waste-water", "black", "from a toilet; `grey` from sinks and showers"},
    {"holds", "gasoline petrol gas unleaded", "fuel", "and `fuel petrol` says which"},
    {"holds", "diesel gasoil gas-oil derv diesel-oil", "fuel", "and `fuel diesel` says which"},
    /* batteries */
    {"chemistry", "wet wet-cell flooded-lead flooded-lead-acid lead-acid-flooded fla open-lead", "flooded", NULL},
    {"chemistry", "lead-acid leadacid lead pb acid la", "flooded", "if its cells have caps; a sealed one is `agm` or `gel`"},
    {"chemistry", "absorbed-glass-mat absorbent-glass-mat glass-mat agm-lead tppl thin-plate", "agm", NULL},
    {"chemistry", "sealed sla vrla sealed-lead-acid maintenance-free", "agm", "or `gel`, as its plate says"},
    {"chemistry", "gel-cell gelled", "gel", NULL},
    {"chemistry", "lfp lifepo lifepo-4 lithium-iron lithium-iron-phosphate", "lifepo4", NULL},
    {"chemistry", "lithium li lipo li-ion lithium-ion liion", "lifepo4",
     "if it is lithium iron phosphate; limits of other lithium cells are not known here"},
    {"role", "domestic service leisure hotel auxiliary", "house", NULL},
    {"role", "starter starting cranking crank engine", "start", NULL},
    {"role", "bow bow-thruster stern-thruster windlass", "thruster", NULL},
    /* switches and devices */
    {"works-as", "isolator on-off disconnect main master battery-switch", "battery", NULL},
    {"works-as", "both combiner one-two-both one-both-two all parallel-switch", "parallel", NULL},
    {"works-as", "selector changeover change-over source-selector", "transfer", "if it is never on both; a 1-2-both is `parallel`"},
    {"works-as", "cross-connect crossover jumper link emergency-parallel", "emergency", NULL},
    {"protect", "circuit-breaker cb mcb mccb breakers", "breaker", NULL},
    {"protect", "blade-fuse plug-in", "blade", NULL},
    {"protect", "anl bolted bolt-in", "bolt-on", NULL},
    {"protect", "terminal-fuse", "terminal", NULL},
    {"protect", "hydraulic-magnetic magnetic-hydraulic", "hydraulic", NULL},
    {"sheath", "jacket jacketed", "sheathed", NULL},
    {"sheath", "tube pipe loom", "conduit", NULL},
    {"behaves", "resistive heating", "resistance", NULL},
    {"behaves", "constant-power electronic", "power", NULL},
    {"regulator", "built-in", "internal", NULL},
    {"regulator", "smart remote", "external", NULL},
    {"controller", "maximum-power-point", "mppt", NULL},
    {"controller", "switching shunt pulse-width", "pwm", NULL},
    {"isolation", "galvanic-isolator isolator", "galvanic", NULL},
    {"isolation", "isolation-transformer", "transformer", NULL},
    {"isolation", "no", "none", NULL},
    /* lights */
    {"shows", "steaming steaming-light motoring foremast", "masthead", NULL},
    {"shows", "bicolor bicolour bi-color bi-colour two-colour two-color", "combined", NULL},
    {"shows", "tricolor tri-color tri-colour", "tricolour", NULL},
    {"shows", "red-green green-red port-and-starboard port-starboard", "combined", NULL},
    {"shows", "side sidelight side-lights side-light port starboard red green running", "sidelights", NULL},
    {"shows", "sternlight stern-light aft", "stern", NULL},
    {"shows", "riding anchor-light mooring", "anchor", NULL},
    {"shows", "all-around allround allaround all-round-white 360", "all-round", NULL},
    /* hull and space */
    {"hull", "full-displacement", "displacement", NULL},
    {"hull", "semi-planing semi semi-displacing", "semi-displacement", NULL},
    {"hull", "planning plane", "planing", NULL},
    {"built", "grp frp gfk fiberglass fibreglass glassfibre glass-fibre glass plastic", "composite", NULL},
    {"built", "wooden timber ply plywood planked strip-planked", "wood", NULL},
    {"built", "aluminum alloy", "aluminium", NULL},
    {"built", "iron", "steel", NULL},
    {"built", "solid unlined bare", "single", NULL},
    {"built", "core sandwich foam-core balsa", "cored", NULL},
    {"built", "lined insulation", "insulated", NULL},
    {"water", "saltwater sea seawater", "salt", NULL},
    {"water", "freshwater lake river", "fresh", NULL},
    {"waters", "lake lakes river rivers canal canals", "inland", NULL},
    {"waters", "coast inshore nearshore near-shore bay", "coastal", NULL},
    {"waters", "ocean oceans blue-water bluewater", "offshore", NULL},
    {"waters", "ndz no-discharge-zone", "no-discharge", NULL},
    {"basis", "usa american abyc cfr", "us", NULL},
    {"basis", "eu european europe uk british ce rcd", "iso", NULL},
    /* pipes and fittings */
    {"material", "aluminum alloy", "aluminium", NULL},
    {"material", "stainless-steel inox", "stainless", NULL},
    {"material", "cupronickel cupro-nickel copper-nickel-alloy", "copper-nickel", NULL},
    {"material", "polyethylene polythene poly pe hdpe xlpe rotomoulded rotomolded", "plastic", NULL},
    {"material", "nylon pvc acetal", "plastic", "or `composite`, if it is reinforced and its maker calls it that"},
    {"material", "grp frp fiberglass fibreglass glass-reinforced-nylon reinforced-nylon", "composite", NULL},
    {"material", "bladder bag", "flexible", NULL},
    {"material", "nickel-aluminium-bronze nickel-aluminum-bronze nibral nab", "aluminium-bronze", NULL},
    {"material", "gunmetal silicon-bronze", "bronze", NULL},
    {"material", "zn", "zinc", NULL},
    {"grade", "potable drinking drinking-water fresh", "water", NULL},
    {"grade", "waste sewage toilet", "sanitation", NULL},
    {"grade", "seawater sea-water raw sea", "raw-water", NULL},
    {"grade", "wet-exhaust", "exhaust", NULL},
    {"grade", "copper steel cupronickel", "metal", NULL},
    {"grade", "a1-15 a1-10 a1-5", "A1", "the number behind it is what passes through its wall"},
    {"grade", "a2-15", "A2", "the number behind it is what passes through its wall"},
    {"grade", "b1-15", "B1", "the number behind it is what passes through its wall"},
    {"grade", "b2-15", "B2", "the number behind it is what passes through its wall"},
    {"secured", "handle-removed removed", "handle-off", NULL},
    {"secured", "padlock locked lock", "padlocked", NULL},
    {"secured", "cable-tie zip-tie wired strapped", "tied", NULL},
    {"secured", "no", "none", NULL},
    /* engines, toilets, steering */
    {"mounted", "outboard-well transom bracket in-well", "outboard", NULL},
    {"mounted", "sail-drive s-drive", "saildrive", NULL},
    {"mounted", "stern-drive z-drive outdrive inboard-outboard inboard/outboard", "sterndrive", NULL},
    {"mounted", "shaft shaft-drive v-drive", "inboard", NULL},
    {"worked-by", "manual manually hand-pump lever foot", "hand", NULL},
    {"worked-by", "electric macerator electrically", "motor", NULL},
    {"worked-by", "compost separating dry desiccating urine-diverting", "composting", NULL},
    {"worked-by", "portable cassette chemical", "hand", "with `portable yes`"},
    {"worked-by", "cables wire wires", "cable", NULL},
    {"worked-by", "hydraulics", "hydraulic", NULL},
    {"worked-by", "rods", "rod", NULL},
    {"flushes-with", "seawater sea-water raw raw-water salt saltwater salt-water", "sea", NULL},
    {"flushes-with", "freshwater fresh-water tank", "fresh", NULL},
    /* safety and navigation */
    {"detects", "carbon-monoxide monoxide", "co", NULL},
    {"detects", "lpg propane butane", "gas", NULL},
    {"detects", "water high-water flood flooding", "bilge", NULL},
    {"detects", "heat flame", "fire", NULL},
    {"rating", "5bc 5-bc 5b b-i bi", "5-B", NULL},
    {"rating", "10bc 10-bc 10b b-ii bii", "10-B", NULL},
    {"rating", "20bc 20-bc 20b", "20-B", NULL},
    {"rating", "13b 13bc", "13-B", NULL},
    {"rating", "21b 21bc", "21-B", NULL},
    {"rating", "34b 34bc", "34-B", NULL},
    {"rating", "55b 55bc", "55-B", NULL},
    {"rating", "70b 70bc", "70-B", NULL},
    {"rating", "89b 89bc", "89-B", NULL},
    {"rating", "113b 113bc", "113-B", NULL},
    {"rating", "144b 144bc", "144-B", NULL},
    {"rating", "183b 183bc", "183-B", NULL},
    {"rating", "233b 233bc", "233-B", NULL},
    {"function", "sounder echo-sounder depthsounder", "depth", NULL},
    {"function", "log knotmeter knot-meter", "speed", NULL},
    {"function", "anemometer windvane", "wind", NULL},
    {"function", "gps gnss", "position", NULL},
    {"function", "plotter chartplotter chart-plotter", "chart", NULL},
    {"function", "heading", "compass", NULL},
    {"function", "pilot", "autopilot", NULL},
    {"carried", "lifejacket lifejackets life-jackets life-vest pfd pfds", "life-jacket", NULL},
    {"carried", "lifebuoy life-ring ring-buoy horseshoe throw-cushion ring", "throwable", NULL},
    {"carried", "flares distress distress-signals pyrotechnics vds", "flare", NULL},
    {"carried", "first-aid-kit medical-kit", "first-aid", NULL},
    /* buying */
    {"status", "needed planned", "wanted", NULL},
    {"status", "purchased bought paid", "ordered", NULL},
    {"status", "backordered back-ordered late", "delayed", NULL},
    {"status", "sent dispatched posted underway", "shipped", NULL},
    {"status", "arrived received delivered", "here", NULL},
    {"status", "installed mounted done", "fitted", NULL},
    {"status", "canceled cancelled removed sold", "dropped", NULL},
    {"system", "electrical electric electrics electricity", "power", NULL},
    {"system", "plumbing", "water", NULL},
    {"system", "engine propulsion", "drive", NULL},
    {"system", "electronics nav", "navigation", NULL},
    {"system", "heating cooling", "climate", NULL},
    {"system", "interior joinery furniture", "cabin", NULL},
    {"system", "deck rig rigging structure", "hull", NULL},
};
enum { USUAL_VALUES = sizeof usual_values / sizeof usual_values[0], LONGEST = 40 };

/* In small letters: owners write PWM, AGM and LiFePO4. */
static Str in_small(Str word, char *to)
{
    for (size_t i = 0; i < word.length; i++) {
        char c = word.text[i];
        to[i] = char_lower(c);
    }
    return (Str){to, word.length};
}

bool value_meant(Buf *right, const char *property, Str word, bool (*takes)(const void *of, Str word), const void *of)
{
    char letters[LONGEST];
    if (word.length > sizeof letters) {
        return false;
    }
    Str small = in_small(word, letters);
    for (size_t i = 0; i < USUAL_VALUES; i++) {
        const UsualValue *row = &usual_values[i];
        if (strcmp(row->property, property) == 0 && word_is_among(small, row->words) && takes(of, str_from(row->meant))) {
            buf_format(right, "`%s`", row->meant);
            if (row->remark != NULL) {
                buf_format(right, ", %s", row->remark);
            }
            return true;
        }
    }
    return false;
}

bool usual_value_at(size_t index, const char **property, const char **words, const char **meant)
{
    if (index < USUAL_VALUES) {
        *property = usual_values[index].property;
        *words = usual_values[index].words;
        *meant = usual_values[index].meant;
    }
    return index < USUAL_VALUES;
}
