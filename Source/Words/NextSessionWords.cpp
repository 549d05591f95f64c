#include "Words/NextSessionWords.h"

#include "Base/Sentence.h"
#include "Valves/Spelling.h"
#include "Words/SuspectWords.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace valveladder {

namespace {

constexpr double longRestSeconds = 60.0; ///< worth a line of its own

std::string numberWord(int number) {
    constexpr std::array words{"one",   "two",   "three", "four", "five",   "six",
                               "seven", "eight", "nine",  "ten",  "eleven", "twelve"};
    return number >= 1 && number <= static_cast<int>(words.size())
               ? words.at(static_cast<std::size_t>(number - 1))
               : std::to_string(number);
}

std::string timeInWords(double seconds) {
    const int whole = static_cast<int>(std::lround(seconds));
    return fmt::format("{}:{:02}", whole / 60, whole % 60);
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
        return fmt::format("for the change from {} to {}", instrument.combinationName(suspect.change.from),
                           instrument.combinationName(suspect.change.to));
    case SuspectKind::fourthValve:
        return "for the fourth valve";
    case SuspectKind::alternate:
        break;
    }
    return fmt::format("for {} in place of {}", instrument.combinationName(suspect.alternate),
                       instrument.combinationName(suspect.usual));
}

std::string lineOf(const SessionItem& item, const Instrument& instrument) {
    std::string text = item.round == 0 ? "Warm-up. " : fmt::format("{}. ", item.thing);
    text += whatInWords(item, instrument);
    if (item.isRung && item.round > 0)
        text += "; another rung each round";
    text += fmt::format("; {}", timeInWords(item.seconds));
    if (item.restSecondsAfter > 0.0)
        text += fmt::format(", then rest {}", timeInWords(item.restSecondsAfter));
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
            lines.push_back(fmt::format("After {} of round {}, rest {}.", item.thing, item.round,
                                        timeInWords(item.restSecondsAfter)));
    }
    return lines;
}

std::string roundsInWords(const PracticeSession& session) {
    const bool warmUp = !session.items.empty() && session.items.front().round == 0;
    std::string text = warmUp ? "warm up, then " : "";
    text += numberWord(session.rounds) + (session.rounds == 1 ? " round" : " rounds");
    text += session.things == 1 ? " of one thing" : fmt::format(" of 1 to {}", session.things);
    return sentence(text);
}

std::vector<std::string> remarksOn(const PracticeSession& session) {
    std::vector<std::string> remarks;
    if (session.items.empty())
        remarks.push_back(fmt::format("{:.3g} minutes are too few for a single rung at {:.4g} bpm",
                                      session.minutesAsked, session.bpm));
    if (session.mixesCells)
        remarks.push_back(mixingRemark);
    return remarks;
}

} // namespace valveladder
