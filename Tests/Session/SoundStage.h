#pragma once

#include "Session/Session.h"
#include "Support/BrassSynth.h"

#include <cstdint>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <string>
#include <vector>

namespace valveladder::testing {

/// A session that hears a rendered player in a host of the test's, block by block, with a clock that follows
/// the samples. Nothing here is a live player.
class SoundStage {
public:
    explicit SoundStage(SessionConfig wanted = quick());
    ~SoundStage();
    SoundStage(const SoundStage&) = delete;
    SoundStage& operator=(const SoundStage&) = delete;

    /// One rung, two segments.
    [[nodiscard]] static SessionConfig quick();

    void open(); ///< the session, anew
    [[nodiscard]] const Score& score() const { return session->setup()->score(); }
    [[nodiscard]] double lapQuarters() const;

    /// A pass of the drill as it is to be played at `bpm`, tick 0 at 0 s.
    [[nodiscard]] SoundPlan plan(const PlanFaults& faults, std::uint32_t seed) const;
    /// What the player sounds, from second `at` of the transport on, added to what is there.
    void play(const SoundPlan& plan, std::uint32_t seed, double at = 0.0);
    void playPass(int lap = 0, double lateMs = 0.0);

    void rollTo(double quarter, bool recording = true); ///< in blocks; ppq starts at `fromQuarter`
    void stop(int blocks = 60);
    void rewind() { ppq = 0.0, at = 0; } ///< back to the begin, as a player who records again
    void block(bool playing, bool recording);

    [[nodiscard]] std::vector<TakeSummary> takes();
    [[nodiscard]] TakeRecord take(std::size_t number = 0);
    [[nodiscard]] bool said(const std::string& words) const;

    static constexpr UtcMs noon = 1'780'000'000'000; ///< some day in 2026

    SessionConfig config;
    std::filesystem::path folder;
    std::unique_ptr<Session> session;
    double rate = 48000.0;
    double bpm = 90.0;
    int blockSamples = 512;
    TakeWay way = TakeWay::recordingPass;
    UtcMs clock = noon;
    BrassVoice voice = trumpetVoice();
    std::vector<float> sound;                    ///< by transport sample
    std::multimap<std::int64_t, MidiEvent> keys; ///< likewise
    std::function<void(SessionBlock&)> change;   ///< a last word on each block
    std::function<void()> afterBlock;
    std::int64_t samples = 0; ///< of the session
    std::int64_t at = 0;      ///< of the transport
    double ppq = 0.0;
};

} // namespace valveladder::testing
