#include "Words/SuspectWords.h"

#include <fmt/format.h>

#include <algorithm>

namespace valveladder {

namespace {

std::string movement(const Change& change, bool thumbValve) {
    std::string text;
    const auto add = [&](int finger, const char* verb) {
        text += (text.empty() ? "" : ", ") + valveName(finger, thumbValve) + verb;
    };
    for (int finger = 1; finger <= maxValves; ++finger) {
        if (change.released().has(finger))
            add(finger, " releasing");
        if (change.pressed().has(finger))
            add(finger, " pressing");
    }
    return text.empty() ? "no finger moving" : text;
}

std::string changeName(const Change& change, bool thumbValve) {
    return combinationName(change.from, thumbValve) + " to " + combinationName(change.to, thumbValve) + " (" +
           movement(change, thumbValve) + ")";
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
    return changeName(change, thumbValve);
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
    std::string text;
    for (const auto& suspect : suspects)
        text += (text.empty() ? "" : ", ") + inWords(suspect, thumbValve);
    return text;
}

std::string inWords(const std::vector<Suspect>& suspects, bool thumbValve) {
    std::string text;
    for (std::size_t i = 0; i < suspects.size(); ++i)
        text += (i == 0 ? "" : i + 1 == suspects.size() ? " and " : ", ") + inWords(suspects[i], thumbValve);
    return text;
}

} // namespace valveladder
