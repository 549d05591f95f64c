#pragma once

#include <string>
#include <vector>

namespace valveladder {

/// A repeating pattern of note lengths: `shares` of one cycle. One cycle of n shares lasts n note values, so
/// the tempo of the notes is the same in every rhythm. Even {1}; long-short {3, 1}; short-long {1, 3}; any
/// other as given.
struct Rhythm {
    std::vector<int> shares{1}; ///< each 1..maxShare, at most maxShares of them

    static constexpr int maxShare = 16;
    static constexpr std::size_t maxShares = 8;

    [[nodiscard]] static Rhythm even() { return {{1}}; }
    [[nodiscard]] static Rhythm longShort(int longPart = 3, int shortPart = 1) {
        return {{longPart, shortPart}};
    }
    [[nodiscard]] static Rhythm shortLong(int longPart = 3, int shortPart = 1) {
        return {{shortPart, longPart}};
    }
    [[nodiscard]] bool isEven() const;
    /// The longest share over the shortest, e.g. 3 for a dotted pair, 1 when even.
    [[nodiscard]] double ratio() const;

    bool operator==(const Rhythm&) const = default;
};

/// How the valves are struck: firm = pressed fast and fully; relaxed = with loose fingers.
enum class Touch { firm, relaxed };

/// Which notes are accented. `drift` accents every `group`-th note whatever the beat, so that the accent
/// wanders over the beat (groups of 3 over duple notes, or 4 over triple).
enum class AccentRule { none, everyNote, longNotes, firstOfGroup, drift };

struct Accents {
    AccentRule rule = AccentRule::none;
    int group = 4; ///< notes a group, see DrillLimits; for firstOfGroup counted from each beat-aligned group,
                   ///< for drift from the first note

    bool operator==(const Accents&) const = default;
};

/// One of the ways a rung is played.
struct Segment {
    std::string name; ///< shown to the player, e.g. "Even, firm"
    Rhythm rhythm;
    Touch touch = Touch::firm;
    Accents accents;
    bool slurred = true; ///< one slur over the whole segment, tongued notes otherwise

    bool operator==(const Segment&) const = default;
};

/// The default four: even firm; long-short firm; short-long firm; even relaxed.
[[nodiscard]] std::vector<Segment> defaultSegments();

} // namespace valveladder
