/* See meant.h. */
#include "model/meant.h"

#include "language/suggest.h"

#include <string.h>

/* Usual words, a blank between, and the property or kind that each stands for. */
typedef struct Usual {
    const char *words;
    const char *meant;
} Usual;

/* What people call a thing by its own name. */
static const Usual usual_kinds[] = {
    {"fridge refrigerator freezer lamp light lights fan stereo tv television microwave kettle laptop computer watermaker water-maker desalinator", "load"},
    {"battery batteries cell accumulator", "bank"},
    {"wind-generator wind-turbine turbine wind-charger towed-generator hydrogenerator hydro-generator shaft-generator dynamo",
     "alternator"},
    {"battery-switch isolator", "switch"},
    {"bus-bar busbar", "bus"},
    {"switch-panel fuse-box fuse-panel breaker-panel distribution-panel switchboard", "panel"},
    {"fuse breaker circuit-breaker branch", "circuit"},
    {"dynamo", "alternator"},
    {"inverter-charger combi", "inverter"},
    {"dc-dc dcdc dc-converter battery-to-battery b2b", "converter"},
    {"genset", "generator"},
    {"stuffing-box packing-gland shaft-gland stern-gland", "shaft-seal"},
    {"muffler silencer water-lock waterlock", "exhaust"},
    {"transmission reverse-gear", "gearbox"},
    {"zinc sacrificial-anode", "anode"},
    {"foghorn fog-horn air-horn", "horn"},
    {"siphon-break siphon-breaker anti-siphon swan-neck", "vent-loop"},
    {"hob-gas gas-stove gas-cooker", "gas-appliance"},
    {"spirit-stove alcohol-stove paraffin-stove kerosene-stove pressure-stove oil-lamp paraffin-lamp lantern", "burner"},
    {"radiator furnace", "heater"},
    {"air-conditioner aircon", "cooler"},
    {"motor outboard inboard diesel", "engine"},
    {"solar-panel solar-array array pv", "solar"},
    {"shore-power shore-inlet", "inlet"},
    {"socket receptacle", "outlet"},
    {"holding-tank water-tank fuel-tank diesel-tank grey-tank live-well livewell bait-well", "tank"},
    {"sink tap faucet basin shower washbasin", "fixture"},
    {"head heads wc marine-toilet", "toilet"},
    {"boiler calorifier", "water-heater"},
    {"stove cooker oven hob", "gas-appliance"},
    {"gas-bottle gas-cylinder propane propane-locker propane-tank lpg lpg-locker", "gas-locker"},
    {"seacock skin-fitting thru-hull thruhull scupper", "through-hull"},
    {"pipe tube tubing", "hose"},
    {"foot-pump hand-pump galley-pump water-pump", "pump"},
    {"prop", "propeller"},
    {"bow-thruster stern-thruster", "thruster"},
    {"wheel tiller autopilot", "steering"},
    {"chain rode ground-tackle kedge", "anchor"},
    {"anchor-windlass winch", "windlass"},
    {"gps plotter chartplotter sounder echo-sounder log compass radar", "instrument"},
    {"vhf", "radio"},
    {"anchor-light masthead-light sidelights sternlight tricolour tricolor bicolor bicolour steaming-light running-lights "
     "navigation-light navigation-lights", "nav-light"},
    {"fire-extinguisher", "extinguisher"},
    {"smoke-alarm gas-alarm detector", "alarm"},
    {"cabin locker compartment room", "space"},
    {"shop vendor store dealer", "supplier"},
    {"task todo", "job"},
    {"sail mast rudder keel hatch table bunk trailer cradle dinghy tender cover", "item"},
};

/* Of several rows the first that fits the kind. */
static const Usual usual[] = {
    {"weight", "mass"},
    {"cost costs value", "price"},
    {"drained vent vented", "drained-overboard"},
    {"bms management-system", "management"},
    {"quantity qty number amount pieces pcs", "count"},
    {"vendor shop store seller dealer bought-from", "supplier"},
    {"power watts wattage amps amperage current consumption", "draw"},
    {"power watts wattage horsepower hp rating output", "rated"},
    {"rated", "rating"},
    {"rated", "output"},
    {"rated size volume litres", "capacity"},
    {"voltage volts", "system-voltage"},
    {"voltage volts", "output"},
    {"volts", "voltage"},
    {"source supply supplied-by powered-by feed from", "fed-by"},
    {"source suction", "from"},
    {"charges output-to to", "feeds"},
    {"destination outlet", "to"},
    {"drain drains", "drains-to"},
    {"fuse breaker protection", "protect"},
    {"cable conductor gauge awg cross-section", "wire"},
    {"length distance cable-length", "run"},
    {"loa", "length"},
    {"lwl", "waterline"},
    {"width", "beam"},
    {"depth draught", "draft"},
    {"air-draught airdraught airdraft mast-height bridge-height bridge-clearance headroom under", "air-draft"},
    {"people persons", "crew"},
    {"location room compartment in", "space"},
    {"position place where", "at"},
    {"type kind", "chemistry"},
    {"type kind contents contains content for", "holds"},
    {"type kind", "works-as"},
    {"type kind", "function"},
    {"type kind", "shows"},
    {"type kind operation", "worked-by"},
    {"diameter inner-diameter size", "bore"},
    {"diameter round", "cylinder"},
    {"type kind contents contains content", "gas"},
    {"power watts consumption input burns gas-rate fuel-rate rated rating", "heat-input"},
    {"vat gst sales-tax value-added-tax mwst", "tax"},
    {"hours usage duty daily time-on", "use"},
    {"comment remark remarks notes description", "note"},
    {"url website datasheet data-sheet manual", "link"},
    {"reason why", "because"},
    {"serial-number", "serial"},
    {"purchased bought order-date", "ordered"},
    {"delivery due eta expected", "promised"},
    {"received delivered came", "arrived"},
    {"installed mounted", "fitted"},
    {"duration time takes-time", "takes"},
    {"foot by-hand by-foot hand-operated foot-operated manual-pump", "hand"},
    {"requires parts", "needs"},
};

bool word_is_among(Str word, const char *words)
{
    for (const char *at = words; *at != 0;) {
        size_t length = strcspn(at, " ");
        if (word.length == length && memcmp(at, word.text, length) == 0) {
            return true;
        }
        at += length + (at[length] == ' ');
    }
    return false;
}

static PropId usual_property(KindId kind, Str word)
{
    for (size_t i = 0; i < sizeof usual / sizeof usual[0]; i++) {
        PropId prop = word_is_among(word, usual[i].words) ? schema_find_prop(kind, str_from(usual[i].meant)) : PROP_NONE;
        if (prop != PROP_NONE) {
            return prop;
        }
    }
    return PROP_NONE;
}

PropId property_meant(Buf *right, KindId kind, Str word)
{
    PropId meant = usual_property(kind, word);
    if (meant != PROP_NONE) {
        buf_format(right, "`%s`", props[meant].word);
        return meant;
    }
    Suggestions near = suggest_begin(word);
    for (PropId p = schema_next_prop(kind, PROP_NONE); p != PROP_NONE; p = schema_next_prop(kind, p)) {
        suggest_offer(&near, str_from(props[p].word));
    }
    return suggest_write(right, &near) ? schema_find_prop(kind, near.best[0]) : PROP_NONE;
}

bool kind_may_be_burner(Str word)
{
    return word_is_among(word, "stove cooker oven hob");
}

KindId kind_meant(Str word)
{
    for (size_t i = 0; i < sizeof usual_kinds / sizeof usual_kinds[0]; i++) {
        if (word_is_among(word, usual_kinds[i].words)) {
            return schema_find_kind(str_from(usual_kinds[i].meant));
        }
    }
    return KIND_NONE;
}

bool is_property_of_something(Str word)
{
    for (PropId p = PROP_NONE + 1; p < PROP_COUNT; p++) {
        if (str_is(word, props[p].word)) {
            return true;
        }
    }
    return false;
}
