// The cautions that every result carries. A faster craft can hurt people.
#pragma once

#include <array>
#include <string_view>

namespace bowrise {

inline constexpr std::array<std::string_view, 5> cautions{
    "A prediction is not a clearance to ride: the maker's limits and local law on speed, load, noise and "
    "emissions stand above it.",
    "Test on a closed, checked course with an observer, engine cut-off lanyard, life vest and protective "
    "clothing; never alone.",
    "Engine off and lanyard out before a hand goes near intake, grate or nozzle; nobody behind the jet.",
    "Engine, fuel, boost and limiter work, and work on blades and ring, belongs to qualified, where required "
    "licensed, persons.",
    "Over-speed, lean running and cavitation break parts: stop on vibration, heat or warning lights."};

}  // namespace bowrise
