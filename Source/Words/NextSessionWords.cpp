#include "Words/NextSessionWords.h"

#include "Base/Sentence.h"
#include "Valves/Spelling.h"
#include "Words/SuspectWords.h"
#include "Words/TempoWords.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace valveladder {

namespace {

constexpr double longRestSeconds = 60.0; ///< worth a line of its own

/// "2nd".
std::string ordinal(int number) {
    constexpr std::array endings{"th", "st", "nd", "rd"};
    const auto ones = static_cast<std::size_t>(number % 10);
    const bool teens = number / 10 % 10 == 1;
    return std::to_string(number) + (teens || ones >= endings.size() ? endings.front() : endings.at(ones));
}

/// "28 s", "5 min", "1 min 20 s".
std::string durationInWords(double seconds) {
    constexpr long minute = 60; // seconds
    const long whole = std::lround(seconds);
    const long minutes = whole / minute, left = whole % minute;
    if (minutes == 0)
        return fmt::format("{} s", left);
    return left == 0 ? fmt::format("{} min", minutes) : fmt::format("{} min {} s", minutes, left);
}

/// "Warm up, then exercises 1 to 3, ten times through".
std::string roundsInWords(const PracticeSession& session) {
    const bool warmUp = !session.items.empty() && session.items.front().round == 0;
    const std::string times = timesInWords(session.rounds);
    return sentence((warmUp ? "warm up, then " : "") +
                    (session.things == 1
                         ? fmt::format("exercise 1, {}", times)
                         : fmt::format("exercises 1 to {}, {} through", session.things, times)));
}

std::string cellInWords(const FingeredCell& cell, const Instrument& instrument) {
    std::string notes, valves;
    for (std::size_t i = 0; i < cell.notes.size(); ++i) {
        notes += (i == 0 ? "" : "-") + writtenName(instrument, cell.notes[i]);
        valves += (i == 0 ? "" : ", ") + instrument.combinationName(cell.combinations[i]);
    }
    return fmt::format("{} back and forth ({})", notes, valves);
}

std::string runInWords(const RungRun& run) {
    constexpr std::array ways{"", " up and down", " down and up"};
    constexpr std::array fingerings{"", ", there with the fourth valve, back with 1-3",
                                    " with the fourth valve", " with 1-3"};
    return run.label + ways.at(static_cast<std::size_t>(run.way)) +
           fingerings.at(static_cast<std::size_t>(run.fingering));
}

std::string forSuspect(const Suspect& suspect, const Instrument& instrument) {
    switch (suspect.kind) {
    case SuspectKind::press:
        return "for your " + fingerInWords(suspect.finger, instrument.thumbValve) + " going down";
    case SuspectKind::release:
        return "for your " + fingerInWords(suspect.finger, instrument.thumbValve) + " coming up";
    case SuspectKind::change:
        return "for the change from " + changeName(suspect.change, instrument.thumbValve);
    case SuspectKind::fourthValve:
    case SuspectKind::alternate:
        break;
    }
    return "for " + inWords(suspect, instrument.thumbValve);
}

std::string lineOf(const SessionItem& item, const Instrument& instrument) {
    std::string text = item.round == 0 ? "Warm-up. " : fmt::format("{}. ", item.thing);
    text += whatInWords(item, instrument);
    if (item.isRung && item.round > 0)
        text += "; another rung each time";
    text += fmt::format("; {}", durationInWords(item.seconds));
    if (item.restSecondsAfter > 0.0)
        text += fmt::format(", then rest {}", durationInWords(item.restSecondsAfter));
    return text + ": " + whyInWords(item, instrument);
}

} // namespace

std::string whatInWords(const SessionItem& item, const Instrument& instrument) {
    if (const auto* cell = std::get_if<FingeredCell>(&item.what))
        return cellInWords(*cell, instrument);
    return runInWords(std::get<RungRun>(item.what)) +
           (item.why.kind == SessionPurpose::Kind::warmUp ? ", easy" : "");
}

std::string whyInWords(const SessionItem& item, const Instrument& instrument) {
    switch (item.why.kind) {
    case SessionPurpose::Kind::warmUp:
        return "to warm up lips and hand";
    case SessionPurpose::Kind::weakness:
        return forSuspect(item.why.suspect, instrument);
    case SessionPurpose::Kind::likeliest:
        return forSuspect(item.why.suspect, instrument) +
               ": the likeliest place to look, though nothing is sure yet";
    case SessionPurpose::Kind::tellApart:
        return "to tell apart what your takes cannot tell apart yet";
    case SessionPurpose::Kind::intoTheRun:
        break;
    }
    return "to put it back into the run";
}

std::vector<std::string> linesOf(const PracticeSession& session) {
    std::vector<std::string> lines;
    for (const SessionItem& item : session.items) {
        if (item.round <= 1)
            lines.push_back(lineOf(item, session.instrument));
        if (item.round > 1 && item.restSecondsAfter >= longRestSeconds)
            lines.push_back(fmt::format("After exercise {} the {} time, rest {}.", item.thing,
                                        ordinal(item.round), durationInWords(item.restSecondsAfter)));
    }
    return lines;
}

std::string inWords(const PracticeSession& session) {
    return fmt::format("{}: about {} with rests, at {} bpm", roundsInWords(session), minutesInWords(session),
                       words::tempoText(session.bpm));
}

std::string minutesInWords(const PracticeSession& session) {
    return counted(std::max(1L, std::lround(session.minutes)), "minute");
}

std::vector<std::string> remarksOn(const PracticeSession& session) {
    std::vector<std::string> remarks;
    if (session.items.empty())
        remarks.push_back(fmt::format("{:.3g} minutes are too few for a single rung at {} bpm",
                                      session.minutesAsked, words::tempoText(session.bpm)));
    if (session.mixesCells)
        remarks.push_back(mixingRemark);
    return remarks;
}

} // namespace valveladder
