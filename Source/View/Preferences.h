#pragma once

#include "Base/Problem.h"
#include "Valves/Pitch.h"

#include <filesystem>
#include <optional>

namespace valveladder {

/// How the player is heard; not heard: takes are kept unmeasured, and nobody asks for an input.
enum class HeardBy { microphone, midi, nothing };

/// How the window looks and behaves, for all sessions of this user.
struct Preferences {
    bool dark = true;
    int scalePercent = 100; ///< 100..300
    bool reducedMotion = false;
    std::optional<Spelling> spelling{}; ///< absent = as the instrument's notes are spelled
    bool soundingNames = false;         ///< names of sounding instead of written pitch
    bool ownTransportKeys = false;      ///< in a host: its transport's keys work in our window
    bool welcomed = false;              ///< the first steps have been gone
    bool openResult = true;             ///< after a take its result opens by itself
    HeardBy heardBy = HeardBy::microphone;
    bool loudspeaker = false; ///< the Standalone is heard by loudspeaker: its click is kept low

    static constexpr int smallestScale = 100;
    static constexpr int largestScale = 300;

    bool operator==(const Preferences&) const = default;
};

/// Kept in "screen.json" beside the log.
[[nodiscard]] std::filesystem::path preferencesPath();
/// Anything unreadable counts as absent: the defaults.
[[nodiscard]] Preferences readPreferences(const std::filesystem::path& path);
[[nodiscard]] Result<Done> writePreferences(const std::filesystem::path& path,
                                            const Preferences& preferences);

} // namespace valveladder
