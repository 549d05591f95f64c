#pragma once

#include "KeptSound/KeptSound.h"
#include "Listening/SoundListener.h"
#include "Session/Capture.h"
#include "Session/SessionSetup.h"

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace valveladder {

/// The last moments of sound, for takes that begin a little before they are noticed. Memory is bounded by
/// what is asked for and one block.
class SoundHistory {
public:
    /// The next sound; a gap or another rate forgets what was before. Keeps the last `keptSamples` and all of
    /// this block.
    void push(std::int64_t startSample, std::span<const float> sound, std::size_t keptSamples);
    void clear() { samples.clear(); }
    [[nodiscard]] std::int64_t firstSample() const { return first; }
    [[nodiscard]] std::span<const float> sound() const { return samples; }

private:
    std::vector<float> samples;
    std::int64_t first = 0;
};

/// Hears the sound of one take while it is played: the listener, and the file when sound is kept. [worker]
/// Bounded memory: see SoundListener. Samples count as in SessionBlock; what is missing between two pushes
/// counts as silence, so that what follows keeps its time.
class TakeHearing {
public:
    struct Begin {
        std::int64_t firstSample = 0; ///< of the sound: some of what came before the take, for early entries
        std::int64_t takeSample = 0;  ///< of the take's begin edge
        double quartersFromTick0 = 0.0; ///< of the take's begin edge, from the score's tick 0
        double bpm = 120.0;
        double sampleRate = 48000.0; ///< Hz, as checked(SoundSettings) allows
        std::optional<double> roundTripMs;
    };

    TakeHearing(std::shared_ptr<const SessionSetup> takeSetup, const Begin& takeBegin);

    /// From now on the sound is kept as well.
    void keep(const KeptSoundFolder& folder, const KeepSound& settings, const KeptSound::Take& take);

    /// Sound that begins at `startSample`; what was pushed before is skipped. `silenced` of it stand for what
    /// was lost.
    void push(std::int64_t startSample, std::span<const float> sound, std::size_t silenced = 0);

    /// What is heard now. `seconds` counts from the first sample.
    [[nodiscard]] LiveView live() const { return listener.now(); }
    [[nodiscard]] double sampleRate() const { return begin.sampleRate; }

    /// Samples of silence put in for what did not come.
    [[nodiscard]] std::uint64_t missingSamples() const { return missing; }

    /// The verdict, against the tempo and the edges as they really were. Call once.
    [[nodiscard]] Performance finish(const Capture::Heard& heard);

    /// The kept file; nullptr when none was wanted.
    [[nodiscard]] KeptSound* kept() { return file.get(); }

private:
    void take(std::span<const float> sound);

    std::shared_ptr<const SessionSetup> setup; ///< holds the listener's score
    Begin begin;
    SoundListener listener;
    std::unique_ptr<KeptSound> file;
    std::int64_t next;
    std::uint64_t missing = 0;
};

} // namespace valveladder
