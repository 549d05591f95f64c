#pragma once

#include "Support/SoundTake.h"

#include <cstdint>
#include <string>
#include <vector>

namespace valveladder::testing {

/// Sounds are split by (source, instrument), tempo and seed. `tuning`: thresholds were set on these.
/// `seen`: the first test part; after its faults had been looked at, rules were changed, so that it counts
/// as tuning since. `tallied` and `third`: the next two; their sums were looked at several times while rules
/// changed, their faults never one by one. `test` and `later`: seeds that nothing was set on or chosen by.
/// `rooms`: was kept for the report on rooms alone, and tallied for it while rules changed; `halls`:
/// likewise, after it. All but `tuning` have the same instruments; `third` and `test` the same tempos.
enum class Part { tuning, seen, tallied, third, test, later, rooms, halls };
enum class SoundSource { largeFont, smallFont, synthesis };
enum class BrassKind { trumpet, horn, euphonium, tuba };
enum class Condition { clean, uneven, faulty, parted, stumbling };
[[nodiscard]] const char* nameOf(Condition condition);

struct TakeRecipe {
    SoundSource source = SoundSource::synthesis;
    BrassKind kind = BrassKind::trumpet;
    Articulation articulation = Articulation::glide;
    Condition condition = Condition::clean;
    double bpm = 90.0;
    std::uint32_t seed = 1;

    [[nodiscard]] std::string name() const;
};

/// The takes of a part; `size` seeds for each combination, each at the next of the part's tempos. Fonts that
/// are not installed are left out.
[[nodiscard]] std::vector<TakeRecipe> recipes(Part part, Condition condition, int size);

struct RenderedTake {
    Score score;
    SoundTake take;
};
/// Uneven takes: clean but for 10 ms jitter. Faulty takes: 15 ms jitter, a wrong, a missed and a split note
/// and a breath, noise of -60, -50 or -40 dBFS by seed, and in every third a room, in every third clicks and
/// somebody's held note. Parted takes: the same faulty takes, but for the first of two articulations on one
/// pitch, which ends in the silence that the plan has between them; a font lets it die away under the second
/// one, so that two instruments sound. Stumbling takes are parted ones with two wrong notes and two stray
/// ones more. `surroundings`: of a faulty take, as said; else it is dry and without noise.
[[nodiscard]] RenderedTake renderTake(const TakeRecipe& recipe, bool surroundings = true);

/// A plan as the recipe's source and instrument sound it, without anything about it.
[[nodiscard]] SoundTake renderPlan(const TakeRecipe& recipe, const SoundPlan& plan);
/// Semitones from written to sounding pitch of the instruments in the corpus.
[[nodiscard]] int transpositionOf(BrassKind kind);

[[nodiscard]] const char* nameOf(BrassKind kind);
[[nodiscard]] const char* nameOf(SoundSource source);

} // namespace valveladder::testing
