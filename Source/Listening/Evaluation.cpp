#include "Listening/Evaluation.h"

#include "Base/Units.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <functional>

namespace valveladder {

MatchCounts& MatchCounts::operator+=(const MatchCounts& other) {
    reference += other.reference;
    estimated += other.estimated;
    matched += other.matched;
    return *this;
}

double MatchCounts::f() const {
    return reference + estimated == 0 ? 1.0 : 2.0 * matched / static_cast<double>(reference + estimated);
}

double Tally::falseIn200() const {
    return notes.reference == 0 ? 0.0 : 200.0 * falseReports / notes.reference;
}

namespace {

bool within(double distance, double tolerance) {
    constexpr double decimals = 1e4;
    return std::round(std::abs(distance) * decimals) / decimals <= tolerance;
}

/// Cents are what is rounded, not semitones.
bool alike(const NoteEvent& a, const NoteEvent& b) {
    return within(a.onset - b.onset, matchOnsetSeconds) &&
           within(centsPerSemitone * (a.midi - b.midi), centsPerSemitone * matchSemitones);
}

} // namespace

std::vector<std::pair<int, int>> matchedPairs(const std::vector<NoteEvent>& reference,
                                              const std::vector<NoteEvent>& estimated) {
    std::vector<int> owner(estimated.size(), -1);
    std::vector<char> seen;
    // Augmenting paths; a note has few candidates, so they stay short.
    const std::function<bool(std::size_t)> place = [&](std::size_t r) {
        for (std::size_t e = 0; e < estimated.size(); ++e) {
            if (seen[e] || !alike(estimated[e], reference[r]))
                continue;
            seen[e] = 1;
            if (owner[e] < 0 || place(static_cast<std::size_t>(owner[e]))) {
                owner[e] = static_cast<int>(r);
                return true;
            }
        }
        return false;
    };
    for (std::size_t r = 0; r < reference.size(); ++r) {
        seen.assign(estimated.size(), 0);
        place(r);
    }
    std::vector<std::pair<int, int>> pairs;
    for (std::size_t e = 0; e < estimated.size(); ++e)
        if (owner[e] >= 0)
            pairs.emplace_back(owner[e], static_cast<int>(e));
    std::ranges::sort(pairs);
    return pairs;
}

std::vector<NoteEvent> heardEvents(const Performance& heard, double startSeconds) {
    std::vector<NoteEvent> notes;
    for (const NoteResult& note : heard.notes)
        if (note.onsetSeconds)
            notes.push_back({*note.onsetSeconds + startSeconds, static_cast<double>(note.played)});
    for (const ExtraNote& extra : heard.extras)
        notes.push_back({extra.onsetSeconds + startSeconds, static_cast<double>(extra.played)});
    return notes;
}

Tally& Tally::operator+=(const Tally& other) {
    notes += other.notes;
    const auto append = [](auto& to, const auto& from) { to.insert(to.end(), from.begin(), from.end()); };
    append(onsetErrorsMs, other.onsetErrorsMs);
    append(changeoverErrorsMs, other.changeoverErrorsMs);
    append(ratioErrors, other.ratioErrors);
    append(ioiSpreadErrors, other.ioiSpreadErrors);
    append(stories, other.stories);
    changeovers += other.changeovers;
    falseReports += other.falseReports;
    for (const auto fault :
         {&Tally::wrong, &Tally::missed, &Tally::split, &Tally::clearSplit, &Tally::breath}) {
        (this->*fault).planted += (other.*fault).planted;
        (this->*fault).found += (other.*fault).found;
    }
    return *this;
}

Tally tallyAgainstAnnotations(const std::vector<NoteEvent>& reference, const Performance& heard,
                              double startSeconds) {
    Tally tally;
    const std::vector<NoteEvent> events = heardEvents(heard, startSeconds);
    const auto pairs = matchedPairs(reference, events);
    tally.notes = {static_cast<int>(reference.size()), static_cast<int>(events.size()),
                   static_cast<int>(pairs.size())};
    for (const auto& [r, e] : pairs)
        tally.onsetErrorsMs.push_back(msPerSecond * (events[static_cast<std::size_t>(e)].onset -
                                                     reference[static_cast<std::size_t>(r)].onset));
    for (const NoteResult& note : heard.notes)
        tally.falseReports +=
            (note.outcome != Outcome::right ? 1 : 0) + (note.split ? 1 : 0) + (note.breathBefore ? 1 : 0);
    tally.falseReports += static_cast<int>(heard.extras.size());
    return tally;
}

std::vector<double> magnitudesOf(std::vector<double> values) {
    for (double& v : values)
        v = std::abs(v);
    return values;
}

std::string tallyTableHead(const std::string& title, const std::string& otherName) {
    return "| " + title + " | notes | note F | " + otherName +
           " | onset ms, median | 95 % | changeover ms: median error / bias / 95 % (measured) | wrong | "
           "missed | split (clear) | breath | false |\n|---|---|---|---|---|---|---|---|---|---|---|---|\n";
}

std::string tallyTableRow(const std::string& name, const Tally& t, const MatchCounts* other) {
    const auto onsets = magnitudesOf(t.onsetErrorsMs);
    const auto changes = magnitudesOf(t.changeoverErrorsMs);
    const auto fault = [](const Tally::Fault& f) {
        return f.planted == 0 ? std::string("-") : fmt::format("{}/{}", f.found, f.planted);
    };
    return fmt::format(
        "| {} | {} | {:.3f} | {} | {:.1f} | {:.1f} | {} | {} | {} | {} | {} | {} |\n", name,
        t.notes.reference, t.notes.f(), other == nullptr ? "-" : fmt::format("{:.3f}", other->f()),
        quantile(onsets, 0.5), quantile(onsets, 0.95),
        t.changeovers == 0 ? std::string("-")
                           : fmt::format("{:.1f} / {:+.1f} / {:.1f} ({}/{})", quantile(changes, 0.5),
                                         quantile(t.changeoverErrorsMs, 0.5), quantile(changes, 0.95),
                                         changes.size(), t.changeovers),
        fault(t.wrong), fault(t.missed),
        t.split.planted == 0 ? "-" : fmt::format("{} ({})", fault(t.split), fault(t.clearSplit)),
        fault(t.breath), fmt::format("{} ({:.1f} in 200)", t.falseReports, t.falseIn200()));
}

} // namespace valveladder
