#pragma once

#include "Support/SoundCorpus.h"

#include <functional>
#include <string>
#include <vector>

namespace valveladder::testing {

/// Where and how takes sound. `dry`: as the condition says; `room`: each in one of its own, RT60 0.25 to
/// 0.6 s, direct 3 to 10 dB over the tail, noise -60 dBFS; `besideAnother`: another take of the part, 20 dB
/// softer, a moment later; `connected`: clean, in every Connection, bent slurs only; `realNotes`: clean,
/// nothing where they are not installed.
enum class Life { dry, room, besideAnother, connected, realNotes };
inline constexpr Life lives[] = {Life::dry, Life::room, Life::besideAnother, Life::connected,
                                 Life::realNotes};
[[nodiscard]] const char* nameOf(Life life);

struct TakeInLife {
    RenderedTake rendered;
    double bpm = 90.0;
    std::string name;
    std::vector<std::string> groups; ///< by which tallies are summed
};

/// Renders the takes of a part one after the other, `size` for each combination. Real notes have the parts
/// tuning and test alone: all but tuning means test.
void visitTakes(Life life, Part part, Condition condition, int size,
                const std::function<void(const TakeInLife&)>& visit);

} // namespace valveladder::testing
