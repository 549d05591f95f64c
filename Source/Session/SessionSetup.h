#pragma once

#include "Base/Problem.h"
#include "Findings/Care.h"
#include "Guide/GuideTrack.h"
#include "Guide/MidiEvent.h"
#include "KeptSound/KeptSound.h"
#include "Ladder/Drill.h"
#include "Review/Review.h"
#include "Tempo/TempoPlan.h"
#include "Valves/Instrument.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace valveladder {

/// A MIDI message that the player gives without looking: a footswitch, a spare key. -1 = none.
struct Pedal {
    int note = -1;       ///< notes of this number
    int controller = -1; ///< this controller

    /// It comes from this pedal, whether pressed (see PedalPresses), let go, or on its way.
    [[nodiscard]] bool sends(const MidiEvent& event) const {
        if (event.isNoteOn() || event.isNoteOff())
            return event.bytes[1] == note;
        return event.isController() && event.bytes[1] == controller;
    }
    bool operator==(const Pedal&) const = default;
};

/// What pedals do. None of their messages counts as played.
struct Pedals {
    Pedal start;  ///< starts our own clock, and a take where takes are asked for; stops it again
    Pedal mark;   ///< begins or ends a take where takes go by marks
    Pedal repeat; ///< the same rung again at the same tempo

    [[nodiscard]] bool any(const MidiEvent& event) const {
        return start.sends(event) || mark.sends(event) || repeat.sends(event);
    }
    bool operator==(const Pedals&) const = default;
};

/// What is practised day by day, put aside while the drill of a session or of a spot is played instead.
struct DailyDrill {
    std::string instrumentId; ///< that it was played on
    Drill drill;
    TempoRules rules;

    bool operator==(const DailyDrill&) const = default;
};

/// What the player chose, apart from the switches of the guide: kept in the host's state.
struct SessionConfig {
    std::string player = "Player";
    Instrument instrument = catalogue().front();
    Drill drill = defaultDrill(catalogue().front());
    TempoRules rules;
    std::optional<DailyDrill> daily; ///< put aside; absent = `drill` is it
    Pedals pedals;
    std::optional<double> roundTripMs; ///< of sound: output + input latency, by hand, in liveRoundTrip; leads
                                       ///< over a measured one; absent = none by hand
    KeepSound keepSound;
    bool invented = false; ///< demo: takes are marked as invented
    CareSettings care;     ///< reminders between takes

    bool operator==(const SessionConfig&) const = default;
};

/// The configuration, or the first thing in it that is out of range.
[[nodiscard]] Result<SessionConfig> checked(SessionConfig config);

/// Another drill for now, at rules of its own; the daily one is put aside until dailyAgain().
[[nodiscard]] SessionConfig insteadOfDaily(Drill drill, const TempoRules& rules, SessionConfig config);
/// Whether something else than the daily drill is played.
[[nodiscard]] bool isAside(const SessionConfig& config);
/// The daily drill that was put aside; the instrument's own where none was, or it was another instrument's.
[[nodiscard]] SessionConfig dailyAgain(SessionConfig config);

/// Another instrument: what is about pitch, the drill's pattern and fingerings, becomes that instrument's
/// own, as it would mean nothing on it; all else stays.
[[nodiscard]] SessionConfig playedOn(const Instrument& instrument, SessionConfig config);

/// The proposed session as the drill to practise, at its tempo: what a button loads. Takes of it form a plan
/// of their own that starts there.
[[nodiscard]] SessionConfig configFor(const PracticeSession& next, SessionConfig config);

/// A configuration laid out at a tempo: what guide, listener and screen work from. Immutable.
struct SessionSetup {
    SessionConfig config;
    PlannedTempo planned;
    std::shared_ptr<const GuideTrack> track;
    std::vector<std::string> warnings; ///< what does not keep the drill from being played, in words
    std::vector<std::string> leftOpen; ///< what takes of the drill cannot tell of the fingers, in words

    [[nodiscard]] const Score& score() const { return track->score(); }
};

/// Fails where checked(config) or buildScore fails. `before`, when given, lends its track where the layout is
/// the same, so that a new tempo alone does not interrupt the guide.
[[nodiscard]] Result<std::shared_ptr<const SessionSetup>>
makeSetup(const SessionConfig& config, const PlannedTempo& planned, const SessionSetup* before = nullptr);

} // namespace valveladder
