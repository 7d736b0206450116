#include "report/cautions.h"

#include <array>

namespace windgap::report {
namespace {

constexpr auto table = std::to_array<Caution>({
    {"rules_first",
     "local rules and licensed practice first",
     "Local codes, range rules and licensed practice come before anything printed here. A computed "
     "distance does not make a bench safe to run."},
    {"rotor_burst",
     "nobody in the rotors' plane",
     "A wheel that bursts throws its pieces outwards in its own plane. Keep everybody, and "
     "yourself, out of the planes of compressor, turbine and fan, and run behind a shield that "
     "would stop a wheel."},
    {"eyes_and_ears",
     "eyes and ears covered",
     "Wear safety glasses and ear protection from the moment the fan's pack is plugged in. The fan "
     "alone is loud enough to hurt."},
    {"debris",
     "sleeves, hair and grit away",
     "Tie back hair, sleeves and cords, and sweep the bench: a ducted fan picks up what lies "
     "before it and shoots it into the compressor."},
    {"loose_parts",
     "nothing loose at the inlet, nor the fan",
     "Once the engine runs it draws in whatever is loose: a screw, a cable, a plug, a rag, the fan "
     "itself. Lock every fastener of the bracket, tie the leads back, and pull at the fan as hard "
     "as its own thrust before each run."},
    {"hands_off",
     "hands off the fan while anything turns",
     "Never slide, tilt or trim the fan by hand while fan or engine turn. Stop, let the rotor come "
     "to rest, disconnect the pack, then move it."},
    {"parked_fan",
     "a parked fan windmills and feeds its controller: brake it",
     "The running engine pulls air through the parked fan and may turn it into a generator. A "
     "controller without its pack, or with a full one, can be destroyed by that and can catch "
     "fire. Brake the fan, or part its motor leads once the engine runs."},
    {"fuel_vapour",
     "no pooled fuel, no vapour",
     "Fuel that did not burn lies in the case or hangs in the exhaust as vapour and lights all at "
     "once. Drain and look before each attempt, and keep people clear of the exhaust."},
    {"purge_again",
     "purge again after a failed light",
     "After a failed light shut the fuel, keep the fan blowing until no vapour is left, drain what "
     "has pooled, and only then try again."},
    {"hot_metal",
     "metal stays hot",
     "Turbine housing and exhaust stay hot enough to burn skin and to light fuel long after the "
     "flame is out. Keep the oil and the cooling air going until the bearing is safe."},
    {"lithium_packs",
     "lithium packs burn",
     "Draw no more than the pack's burst current, never use one that is swollen or cold, keep it "
     "away from fuel and hot metal, and charge it where it may burn."},
});

}  // namespace

std::span<const Caution> cautions() { return table; }

}  // namespace windgap::report
