#include "Words/SuspectWords.h"

#include "Base/Sentence.h"

#include <fmt/format.h>

#include <algorithm>

namespace valveladder {

namespace {

std::string movement(const Change& change, bool thumbValve) {
    std::vector<std::string> moves;
    const auto add = [&](int finger, const char* verb) {
        moves.push_back(valveName(finger, thumbValve) + verb);
    };
    for (int finger = 1; finger <= maxValves; ++finger) {
        if (change.released().has(finger))
            add(finger, " releasing");
        if (change.pressed().has(finger))
            add(finger, " pressing");
    }
    return moves.empty() ? "no finger moving" : joined(moves);
}

std::vector<std::string> namesEach(const std::vector<Suspect>& suspects, bool thumbValve) {
    std::vector<std::string> names;
    for (const Suspect& suspect : suspects)
        names.push_back(inWords(suspect, thumbValve));
    return names;
}

} // namespace

std::string inWords(const Suspect& suspect, bool thumbValve) {
    const Change& change = suspect.change;
    switch (suspect.kind) {
    case SuspectKind::press:
        return valveName(suspect.finger, thumbValve) + " pressing";
    case SuspectKind::release:
        return valveName(suspect.finger, thumbValve) + " releasing";
    case SuspectKind::fourthValve:
        return thumbValve ? "the thumb valve" : "the fourth valve";
    case SuspectKind::alternate:
        return combinationName(suspect.alternate, thumbValve) + " in place of " +
               combinationName(suspect.usual, thumbValve);
    case SuspectKind::change:
        break;
    }
    if (change.fingersMoved() == 1 && change.pressed().count() == 1)
        return movement(change, thumbValve) + " after " + combinationName(change.from, thumbValve);
    return changeName(change, thumbValve) + " (" + movement(change, thumbValve) + ")";
}

std::string fingerInWords(int finger, bool thumbValve) {
    // The fourth valve is no fourth finger's where the other hand presses it.
    constexpr const char* names[] = {"first finger", "second finger", "third finger", "fourth-valve finger"};
    return thumbValve && finger == maxValves ? "thumb" : names[std::clamp(finger, 1, maxValves) - 1];
}

std::string asSubject(const Suspect& suspect, bool thumbValve) {
    switch (suspect.kind) {
    case SuspectKind::press:
        return fmt::format("Your {} goes down", fingerInWords(suspect.finger, thumbValve));
    case SuspectKind::release:
        return fmt::format("Your {} comes up", fingerInWords(suspect.finger, thumbValve));
    case SuspectKind::change:
        return fmt::format("Your change {} comes", inWords(suspect, thumbValve));
    case SuspectKind::fourthValve:
        return thumbValve ? "Your changes with the thumb valve come"
                          : "Your changes with the fourth valve come";
    case SuspectKind::alternate:
        break;
    }
    return fmt::format("Your changes with {} come", inWords(suspect, thumbValve));
}

std::string namesOf(const std::vector<Suspect>& suspects, bool thumbValve) {
    return joined(namesEach(suspects, thumbValve));
}

std::string inWords(const std::vector<Suspect>& suspects, bool thumbValve) {
    return joinedWithAnd(namesEach(suspects, thumbValve));
}

} // namespace valveladder
