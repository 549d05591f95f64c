#include "Listening/GuideEcho.h"

#include "Guide/GuideTrack.h"

#include <algorithm>
#include <optional>
#include <tuple>

namespace valveladder {

namespace {

/// What was sent: for notes key and velocity, for valve moves valve and whether it is pressed.
struct Sent {
    double seconds = 0.0;
    int what = 0;
    int how = 0;
};

/// Longer on the way than any routing takes.
constexpr double longestWay = 0.25;
/// Times in files are rounded to ticks, so that something may seem to be back before it left.
constexpr double rounding = 0.002;
/// A cable's jitter, and a fifth of a good player's scatter.
constexpr double spread = 0.005;
constexpr double nearlyAll = 0.8;
/// With fewer, agreement may be chance.
constexpr std::size_t fewest = 4;

int whatOf(const PlayedNote& note) {
    return note.pitch;
}
int howOf(const PlayedNote& note) {
    return note.velocity;
}
double timeOf(const PlayedNote& note) {
    return note.onset;
}
int whatOf(const ValveMove& move) {
    return move.valve;
}
int howOf(const ValveMove& move) {
    return move.pressed ? 1 : 0;
}
double timeOf(const ValveMove& move) {
    return move.seconds;
}

/// A message that may be one that was sent, and how late it would be.
struct Pair {
    double late = 0.0;
    std::size_t sent = 0;
    std::size_t came = 0;
};

template <typename Message>
std::vector<Pair> pairsOf(const std::vector<Message>& came, const std::vector<Sent>& sent) {
    std::vector<Pair> pairs;
    for (std::size_t i = 0; i < sent.size(); ++i) {
        const auto first = std::lower_bound(
            came.begin(), came.end(), sent[i].seconds - rounding,
            [](const Message& message, double seconds) { return timeOf(message) < seconds; });
        for (auto it = first; it != came.end() && timeOf(*it) <= sent[i].seconds + longestWay; ++it)
            if (whatOf(*it) == sent[i].what && howOf(*it) == sent[i].how)
                pairs.push_back(
                    {timeOf(*it) - sent[i].seconds, i, static_cast<std::size_t>(it - came.begin())});
    }
    std::sort(pairs.begin(), pairs.end(), [](const Pair& a, const Pair& b) {
        return std::tie(a.late, a.sent) < std::tie(b.late, b.sent);
    });
    return pairs;
}

/// The range of `pairs`, sorted by lateness, that holds most within the spread.
std::pair<std::size_t, std::size_t> densest(const std::vector<Pair>& pairs) {
    std::pair<std::size_t, std::size_t> best{0, 0};
    for (std::size_t from = 0, to = 0; from < pairs.size(); ++from) {
        while (to < pairs.size() && pairs[to].late <= pairs[from].late + spread)
            ++to;
        if (to - from > best.second - best.first)
            best = {from, to};
    }
    return best;
}

template <typename Message>
std::size_t takeOut(std::vector<Message>& came, const std::vector<Sent>& sent) {
    const std::vector<Pair> pairs = pairsOf(came, sent);
    const auto [from, to] = densest(pairs);
    std::vector<bool> back(sent.size()), out(came.size());
    for (std::size_t i = from; i < to; ++i) {
        if (back[pairs[i].sent])
            continue;
        back[pairs[i].sent] = true;
        out[pairs[i].came] = true;
    }
    const auto found = static_cast<std::size_t>(std::count(back.begin(), back.end(), true));
    if (found < fewest || static_cast<double>(found) < nearlyAll * static_cast<double>(sent.size()))
        return 0;
    std::size_t index = 0;
    std::erase_if(came, [&](const Message&) { return out[index++]; });
    return found;
}

/// What the guide sends within the take, of one kind of cue.
std::vector<Sent> sentOf(const MidiTake& take, const std::vector<GuideCue>& cues, const TempoMap& tempo,
                         GuideCue::Kind kind) {
    std::vector<Sent> sent;
    for (const GuideCue& cue : cues) {
        const double seconds = tempo.secondsAt(quartersOf(cue.tick));
        if (cue.kind != kind || seconds < take.span.fromSeconds || seconds >= take.span.toSeconds)
            continue;
        if (kind == GuideCue::Kind::valve)
            sent.push_back({seconds, cue.valve, cue.pressed ? 1 : 0});
        else if (kind == GuideCue::Kind::clickOn)
            sent.push_back(
                {seconds, cue.accent ? GuideSettings{}.clickHigh : GuideSettings{}.clickLow, cue.velocity});
        else
            sent.push_back({seconds, cue.sounding, cue.velocity});
    }
    return sent;
}

} // namespace

GuideEcho takeOutGuide(MidiTake& take, const Score& score, const TempoMap& tempo) {
    const std::vector<GuideCue> cues = guideCues(score);
    GuideEcho echo;
    for (const GuideCue::Kind kind : {GuideCue::Kind::noteOn, GuideCue::Kind::clickOn})
        echo.notes += takeOut(take.notes, sentOf(take, cues, tempo, kind));
    echo.valves = takeOut(take.valves, sentOf(take, cues, tempo, GuideCue::Kind::valve));
    return echo;
}

} // namespace valveladder
