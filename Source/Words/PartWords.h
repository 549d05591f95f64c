#pragma once

#include <string>

namespace valveladder {

/// What the costs of a marked part go by: the player's own changeovers, or fingers moved. Changes are those
/// of valves, each way by itself.
struct CostBasis {
    int changes = 0; ///< different ones in the part
    int own = 0;     ///< of these, those whose cost is the player's own
    int known = 0;   ///< whose changeover is known of the player, in the part or not
    int logged = 0;  ///< played by the player on the instrument as the log has it, measured or not
    int fewest = 0;  ///< times that one must be measured to be known

    bool operator==(const CostBasis&) const = default;
};

/// In sentences, and why where it is not the player's own changeovers. `player` "" = none is known;
/// `instrument` is its name.
[[nodiscard]] std::string inWords(const CostBasis& basis, const std::string& player,
                                  const std::string& instrument);

namespace words {

/// Of marks that are to be written into the part that was read.
inline constexpr const char* noNotation = "a MIDI file holds no notation to write marks into";

} // namespace words

} // namespace valveladder
