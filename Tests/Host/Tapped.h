#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

namespace valveladder::host {

/// A note-on that the tests' own LV2 (see Tap) passed on or sent itself.
struct Tapped {
    std::int64_t frame = 0; ///< of the session's time line
    int offset = 0;         ///< in its block
    int blockSamples = 0;
    int pitch = 60;
};

/// URI of that LV2, and the folder that hosts find it in (LV2_PATH).
inline constexpr const char* tapUri = "urn:valveladder:tests:tap";
[[nodiscard]] std::filesystem::path tapFolder();
/// Channel of the notes that it sends itself.
inline constexpr int tapsChannel = 16;

/// Note-ons of a channel that it wrote down, in order.
[[nodiscard]] std::vector<Tapped> tappedNotes(const std::filesystem::path& file, int channel);

} // namespace valveladder::host
