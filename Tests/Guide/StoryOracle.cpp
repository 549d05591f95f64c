#include "Guide/StoryOracle.h"

#include "Music/Backing.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <sstream>
#include <utility>

namespace valveladder::test {

namespace {

/// Two computations of one time may differ by so much; an event this close to a stretch's border may lie on
/// either side.
constexpr double borderSamples = 1.0e-3;
constexpr std::size_t maxFaults = 5;

struct Sounded {
    double on = 0.0;
    double off = 0.0;
    int channel = 1;
    int key = 60;
    int velocity = 1;
    double tolerance = 1.0;
    bool optional = false;
};

class Faults {
public:
    template <typename... Parts>
    void add(const Parts&... parts) {
        if (count++ >= maxFaults)
            return;
        (text << ... << parts);
        text << '\n';
    }
    [[nodiscard]] std::string all() const { return text.str(); }

private:
    std::ostringstream text;
    std::size_t count = 0;
};

/// Stretches that one part plays through without a break.
struct Passage {
    std::vector<const Stretch*> parts;

    [[nodiscard]] const Stretch& first() const { return *parts.front(); }
    [[nodiscard]] double from() const { return static_cast<double>(parts.front()->from); }
    [[nodiscard]] double to() const { return static_cast<double>(parts.back()->to); }
    [[nodiscard]] double firstPpq() const { return first().ppq; }
    [[nodiscard]] double lastPpq() const {
        const Stretch& last = *parts.back();
        return last.ppq + last.quartersAfter(static_cast<double>(last.to - last.from));
    }
    [[nodiscard]] const Stretch& holding(double ppq) const {
        const Stretch* found = parts.front();
        for (const Stretch* part : parts)
            if (part->ppq <= ppq)
                found = part;
        return *found;
    }
    [[nodiscard]] double sampleAt(double ppq) const { return holding(ppq).sampleAt(ppq); }
    [[nodiscard]] double tolerance() const {
        double most = 1.0;
        for (const Stretch* part : parts)
            most = std::max(most, part->tolerance);
        return most;
    }
    /// Outside, inside, or too close to a border to tell (nothing).
    [[nodiscard]] std::optional<bool> holds(double sample) const {
        const double slack = tolerance() > 1.0 ? tolerance() : borderSamples;
        for (const double border : {from() - 0.5, to() - 0.5})
            if (std::abs(sample - border) < slack)
                return std::nullopt;
        return sample > from() - 0.5 && sample < to() - 0.5;
    }
};

/// `joins(a, b)`: the part goes on from stretch a into b; `on(s)`: it plays at all.
template <typename Joins, typename On>
std::vector<Passage> passages(const Story& story, Joins joins, On on) {
    std::vector<Passage> found;
    const Stretch* before = nullptr;
    for (const Stretch& stretch : story.stretches) {
        if (stretch.rolling && on(stretch)) {
            if (before && joins(*before, stretch))
                found.back().parts.push_back(&stretch);
            else
                found.push_back({{&stretch}});
            before = &stretch;
        } else {
            before = nullptr;
        }
    }
    return found;
}

/// Calls use(ppq of the lap's start) for each lap that a passage touches.
template <typename Use>
void eachLap(const Passage& passage, Use use) {
    const Score& score = passage.first().track->score();
    const GuideSettings& settings = passage.first().settings;
    const double length = static_cast<double>(score.length) / ticksPerQuarter;
    for (int lap = 0; lap == 0 || settings.repeat; ++lap) {
        const double start = settings.startPpq + lap * length;
        if (start > passage.lastPpq() + 1.0)
            return;
        if (start + length > passage.firstPpq() - 1.0)
            use(start);
    }
}

void addSounded(const Passage& passage, double onPpq, double offPpq, Sounded sounded,
                std::vector<Sounded>& list) {
    if (onPpq < passage.firstPpq() - 1.0 || onPpq > passage.lastPpq() + 1.0)
        return;
    sounded.on = passage.sampleAt(onPpq);
    const std::optional<bool> holds = passage.holds(sounded.on);
    if (holds == false)
        return;
    sounded.optional = !holds.has_value();
    sounded.off = std::min(passage.sampleAt(offPpq), passage.to());
    sounded.tolerance = passage.tolerance();
    list.push_back(sounded);
}

std::vector<Sounded> expectedNotes(const Story& story) {
    const auto joins = [](const Stretch& a, const Stretch& b) {
        return b.follows && a.settings.soundingPitch == b.settings.soundingPitch &&
               a.settings.noteChannel == b.settings.noteChannel;
    };
    std::vector<Sounded> list;
    for (const Passage& passage :
         passages(story, joins, [](const Stretch& s) { return s.track && s.settings.notes; }))
        eachLap(passage, [&](double lapStart) {
            const GuideSettings& settings = passage.first().settings;
            for (const ScoreNote& note : passage.first().track->score().notes) {
                const double on = lapStart + static_cast<double>(note.onset) / ticksPerQuarter;
                const int key = settings.soundingPitch ? note.sounding : note.written;
                addSounded(passage, on, on + static_cast<double>(note.gate) / ticksPerQuarter,
                           {0, 0, settings.noteChannel, key, note.velocity}, list);
            }
        });
    return list;
}

std::vector<Sounded> expectedClicks(const Story& story) {
    const auto joins = [](const Stretch& a, const Stretch& b) {
        return b.follows && a.settings.click == b.settings.click &&
               a.settings.clickChannel == b.settings.clickChannel;
    };
    const auto on = [](const Stretch& s) { return s.track && s.settings.click != ClickWhen::off; };
    std::vector<Sounded> list;
    for (const Passage& passage : passages(story, joins, on))
        eachLap(passage, [&](double lapStart) {
            const Score& score = passage.first().track->score();
            const GuideSettings& settings = passage.first().settings;
            const double beat = 4.0 / score.meter.unit;
            const double length = static_cast<double>(score.length) / ticksPerQuarter;
            const double clicked = settings.click == ClickWhen::always
                                       ? length
                                       : static_cast<double>(score.countInTicks) / ticksPerQuarter;
            for (int i = 0; i * beat < clicked - 1e-9; ++i) {
                const bool accent = i % score.meter.beats == 0;
                addSounded(passage, lapStart + i * beat, lapStart + (i + 0.25) * beat,
                           {0, 0, settings.clickChannel, accent ? 76 : 77, accent ? 112 : 84}, list);
            }
        });
    return list;
}

/// Of one backing part, from the events that are also written to files.
std::vector<Sounded> expectedBacking(const Story& story, BackingPart part, Backing written) {
    const auto joins = [part](const Stretch& a, const Stretch& b) {
        return b.follows && a.settings.backing.channelOf(part) == b.settings.backing.channelOf(part);
    };
    const auto on = [part](const Stretch& s) { return s.track && s.settings.backing.sends(part); };
    BackingSettings all;
    all.drone = all.pad = all.bass = all.drums = true;
    std::vector<Sounded> list;
    for (const Passage& passage : passages(story, joins, on)) {
        std::vector<BackingEvent> events = backingEvents(passage.first().track->score(), all);
        std::erase_if(events, [written](const BackingEvent& event) { return event.part != written; });
        eachLap(passage, [&](double lapStart) {
            const auto at = [lapStart](const BackingEvent& event) {
                return lapStart + static_cast<double>(event.tick) / ticksPerQuarter;
            };
            for (auto begin = events.begin(); begin != events.end(); ++begin) {
                if (!begin->begins)
                    continue;
                const auto end = std::find_if(begin + 1, events.end(), [&](const BackingEvent& event) {
                    return !event.begins && event.bytes[1] == begin->bytes[1];
                });
                addSounded(passage, at(*begin), at(*end),
                           {0, 0, passage.first().settings.backing.channelOf(part), begin->bytes[1],
                            begin->bytes[2]},
                           list);
            }
        });
    }
    return list;
}

/// Pairs note-ons with note-offs, and tells of any that have no partner.
std::vector<Sounded> soundedOn(const std::vector<Heard>& heard, int lowChannel, int highChannel,
                               Faults& faults) {
    std::map<std::pair<int, int>, Sounded> open;
    std::vector<Sounded> list;
    for (const auto& [sample, event] : heard) {
        if ((!event.isNoteOn() && !event.isNoteOff()) || event.channel() < lowChannel ||
            event.channel() > highChannel)
            continue;
        const std::pair<int, int> key{event.channel(), event.bytes[1]};
        const auto found = open.find(key);
        if (event.isNoteOn()) {
            if (found != open.end())
                faults.add("doubled note-on at ", sample);
            open[key] = {static_cast<double>(sample), 0, key.first, key.second, event.bytes[2]};
        } else if (found == open.end()) {
            faults.add("note-off without note-on at ", sample);
        } else {
            found->second.off = static_cast<double>(sample);
            list.push_back(found->second);
            open.erase(found);
        }
    }
    for (const auto& [key, sounded] : open)
        faults.add("stuck note ", key.second, " since ", sounded.on);
    return list;
}

bool begins(const Sounded& want, const std::vector<Sounded>& actual, std::size_t at) {
    return at < actual.size() && std::abs(actual[at].on - want.on) <= want.tolerance &&
           actual[at].channel == want.channel && actual[at].key == want.key &&
           actual[at].velocity == want.velocity;
}

bool soundsAs(const Sounded& want, const std::vector<Sounded>& actual, std::size_t at) {
    return begins(want, actual, at) && std::abs(actual[at].off - want.off) <= want.tolerance;
}

/// An event that may be there is not when what is heard in its place is needed, as long as it is, for the
/// next one. Where a loop wraps half way between two samples, its end and its start may both be there at one
/// place.
bool isLeftOut(const std::vector<Sounded>& expected, std::size_t i, const std::vector<Sounded>& actual,
               std::size_t at) {
    if (!expected[i].optional)
        return false;
    if (!soundsAs(expected[i], actual, at))
        return true;
    return i + 1 < expected.size() && soundsAs(expected[i + 1], actual, at) &&
           !begins(expected[i + 1], actual, at + 1);
}

void compare(const char* what, std::vector<Sounded> expected, std::vector<Sounded> actual, Faults& faults) {
    const auto earlier = [](const Sounded& a, const Sounded& b) { return a.on < b.on; };
    std::stable_sort(expected.begin(), expected.end(), earlier);
    std::stable_sort(actual.begin(), actual.end(), earlier);
    std::size_t at = 0;
    for (std::size_t i = 0; i < expected.size(); ++i) {
        const Sounded& want = expected[i];
        if (isLeftOut(expected, i, actual, at))
            continue;
        if (!begins(want, actual, at)) {
            faults.add(what, ' ', want.key, " missing at ", want.on, "; next heard is ",
                       at < actual.size() ? actual[at].key : -1, " at ",
                       at < actual.size() ? actual[at].on : -1.0);
            return;
        }
        if (std::abs(actual[at].off - want.off) > want.tolerance)
            faults.add(what, ' ', want.key, " of ", want.on, " ends at ", actual[at].off, ", not ", want.off);
        ++at;
    }
    if (at < actual.size())
        faults.add(what, ' ', actual[at].key, " extra at ", actual[at].on);
}

/// Key by key, as several may begin at once. Channels move between parts from one passage to the next, so
/// that what was heard is not told by its channel alone.
void compareBacking(const Story& story, const std::vector<Sounded>& actual, Faults& faults) {
    constexpr std::array<std::pair<BackingPart, Backing>, backingPartCount> parts{
        {{BackingPart::drone, Backing::drone},
         {BackingPart::pad, Backing::pad},
         {BackingPart::bass, Backing::bass},
         {BackingPart::drums, Backing::drums}}};
    std::map<std::pair<int, int>, std::pair<std::vector<Sounded>, std::vector<Sounded>>> byKey;
    for (const auto& [part, written] : parts)
        for (const Sounded& sounded : expectedBacking(story, part, written))
            byKey[{sounded.channel, sounded.key}].first.push_back(sounded);
    for (const Sounded& sounded : actual)
        byKey[{sounded.channel, sounded.key}].second.push_back(sounded);
    for (auto& [key, lists] : byKey)
        compare("backing", std::move(lists.first), std::move(lists.second), faults);
}

struct LaneState {
    double sample = 0.0;
    unsigned pressed = 0;
};

/// What the lanes of a channel should show, from each entry's sample to the next's.
std::vector<LaneState> expectedLanes(const Story& story, int channel, double& tolerance) {
    const auto joins = [](const Stretch&, const Stretch& b) { return b.follows; };
    const auto on = [&](const Stretch& s) {
        return s.track && s.settings.valveLanes && s.settings.noteChannel == channel;
    };
    std::vector<LaneState> states{{-1.0e9, 0}};
    for (const Passage& passage : passages(story, joins, on)) {
        tolerance = std::max(tolerance, passage.tolerance());
        states.push_back({passage.from(), 0});
        const std::size_t atStart = states.size() - 1;
        const auto change = [&](double ppq, unsigned pressed) {
            const double sample = passage.sampleAt(ppq);
            if (sample <= passage.from())
                states[atStart].pressed = pressed;
            else if (sample < passage.to())
                states.push_back({sample, pressed});
        };
        eachLap(passage, [&](double lapStart) {
            const Score& score = passage.first().track->score();
            for (const ScoreSpan& span : score.spans) {
                for (int i = 0; i < span.noteCount; ++i) {
                    const ScoreNote& note = score.notes[static_cast<std::size_t>(span.firstNote + i)];
                    change(lapStart + static_cast<double>(note.onset) / ticksPerQuarter,
                           note.combination.bits());
                }
                change(lapStart + static_cast<double>(span.end) / ticksPerQuarter, 0);
            }
        });
        states.push_back({passage.to(), 0});
    }
    return states;
}

std::vector<LaneState> actualLanes(const std::vector<Heard>& heard, int channel, Faults& faults) {
    std::vector<LaneState> states{{-1.0e9, 0}};
    for (const auto& [sample, event] : heard) {
        if (!event.isController() || event.channel() != channel)
            continue;
        const unsigned bit = 1U << (event.bytes[1] - firstValveController);
        const unsigned before = states.back().pressed;
        const unsigned after = event.bytes[2] >= 64 ? before | bit : before & ~bit;
        if (after == before)
            faults.add("valve said twice at ", sample);
        states.push_back({static_cast<double>(sample), after});
    }
    if (states.back().pressed != 0)
        faults.add("valve left down on channel ", channel);
    return states;
}

void compareLanes(const Story& story, const std::vector<Heard>& heard, int channel, Faults& faults) {
    double tolerance = 1.0;
    const std::vector<LaneState> expected = expectedLanes(story, channel, tolerance);
    const std::vector<LaneState> actual = actualLanes(heard, channel, faults);
    std::size_t at = 0;
    for (std::size_t i = 0; i < expected.size(); ++i) {
        const double from = expected[i].sample + tolerance;
        const double to = (i + 1 < expected.size() ? expected[i + 1].sample : 1.0e18) - tolerance;
        if (from >= to)
            continue;
        while (at + 1 < actual.size() && actual[at + 1].sample <= from)
            ++at;
        if (actual[at].pressed != expected[i].pressed)
            faults.add("lanes show ", actual[at].pressed, " not ", expected[i].pressed, " after ", from);
        if (at + 1 < actual.size() && actual[at + 1].sample < to)
            faults.add("lanes change at ", actual[at + 1].sample, " inside ", from, "..", to);
    }
}

void comparePulses(const Story& story, const std::vector<Heard>& heard, Faults& faults) {
    std::vector<Sounded> expected;
    std::vector<Sounded> actual;
    const auto joins = [](const Stretch&, const Stretch& b) { return b.positionFollows; };
    for (const Passage& passage :
         passages(story, joins, [](const Stretch& s) { return s.settings.midiClock; })) {
        const auto first = static_cast<int>(std::floor(passage.firstPpq() * 24.0)) - 2;
        const auto last = static_cast<int>(std::ceil(passage.lastPpq() * 24.0)) + 2;
        for (int pulse = first; pulse <= last; ++pulse)
            addSounded(passage, pulse / 24.0, 1.0e6, {0, 0, 0, 0, 0}, expected);
    }
    bool running = false;
    for (const auto& [sample, event] : heard) {
        if (event.bytes[0] == 0xF8)
            actual.push_back({static_cast<double>(sample), 0, 0, 0, 0});
        if (event.bytes[0] == 0xFA || event.bytes[0] == 0xFB || event.bytes[0] == 0xFC) {
            if (running == (event.bytes[0] != 0xFC))
                faults.add("clock started or stopped twice at ", sample);
            running = event.bytes[0] != 0xFC;
        }
    }
    if (running)
        faults.add("clock follower left running");
    for (Sounded& pulse : expected)
        pulse.off = 0.0;
    compare("pulse", expected, actual, faults);
}

} // namespace

std::vector<Heard> playTo(Guide& guide, const Story& story, std::string& faults) {
    std::vector<Heard> heard;
    std::int64_t now = 0;
    for (const Step& step : story.steps) {
        int last = 0;
        for (const MidiEvent& event : guide.process(step.block, step.track, step.settings)) {
            if (event.sample < last || event.sample >= step.block.samples)
                faults +=
                    "event outside its block or out of order at " + std::to_string(now + event.sample) + '\n';
            last = event.sample;
            heard.push_back({now + event.sample, event});
        }
        now += std::max(0, step.block.samples);
    }
    return heard;
}

std::string faultsOf(const Story& story, const std::vector<Heard>& heard) {
    Faults faults;
    compare("note", expectedNotes(story), soundedOn(heard, 1, 3, faults), faults);
    compareBacking(story, soundedOn(heard, 4, 8, faults), faults);
    compare("click", expectedClicks(story), soundedOn(heard, 9, 16, faults), faults);
    for (int channel = 1; channel <= 3; ++channel)
        compareLanes(story, heard, channel, faults);
    comparePulses(story, heard, faults);
    return faults.all();
}

} // namespace valveladder::test
