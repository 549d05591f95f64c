#pragma once

#include "Guide/Story.h"

#include <string>
#include <vector>

namespace valveladder::test {

/// An event at a sample of the story.
struct Heard {
    std::int64_t sample = 0;
    MidiEvent event;
};

/// Plays the story to a guide. Anything wrong with a block itself (order, samples outside it) goes to
/// `faults`.
[[nodiscard]] std::vector<Heard> playTo(Guide& guide, const Story& story, std::string& faults);

/// What is wrong with the events, judged from the score and what the host knows alone: notes and clicks that
/// are missing, extra, double or further than a stretch's tolerance from their place; notes without an end;
/// valve lanes that show another combination; clock pulses missing or extra. Empty = all is right.
[[nodiscard]] std::string faultsOf(const Story& story, const std::vector<Heard>& heard);

} // namespace valveladder::test
