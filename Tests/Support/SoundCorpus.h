#pragma once

#include "Support/SoundTake.h"

#include <cstdint>
#include <string>
#include <vector>

namespace valveladder::testing {

/// Sounds are split by (source, instrument), tempo and seed: what thresholds were set on is never in the
/// test part.
enum class Part { tuning, test };
enum class SoundSource { largeFont, smallFont, synthesis };
enum class BrassKind { trumpet, horn, euphonium, tuba };
enum class Condition { clean, faulty };

struct TakeRecipe {
    SoundSource source = SoundSource::synthesis;
    BrassKind kind = BrassKind::trumpet;
    Articulation articulation = Articulation::glide;
    Condition condition = Condition::clean;
    double bpm = 90.0;
    std::uint32_t seed = 1;

    [[nodiscard]] std::string name() const;
};

/// The takes of a part; `size` seeds for each combination. Fonts that are not installed are left out.
[[nodiscard]] std::vector<TakeRecipe> recipes(Part part, Condition condition, int size);

struct RenderedTake {
    Score score;
    SoundTake take;
};
/// Faulty takes: 15 ms jitter, a wrong, a missed and a split note and a breath, noise of -60, -50 or -40
/// dBFS by seed, and in every third a room, in every third clicks and somebody's held note.
[[nodiscard]] RenderedTake renderTake(const TakeRecipe& recipe);

[[nodiscard]] const char* nameOf(BrassKind kind);
[[nodiscard]] const char* nameOf(SoundSource source);

} // namespace valveladder::testing
