#pragma once

#include "Files/Smf.h"
#include "RunTool.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

namespace valveladder::consoletest {

/// A guide that the tool wrote, to be played wrong on purpose and handed back as a recording.
class Recording {
public:
    Recording(const Sandbox& sandbox, const std::string& name) {
        auto read = readSmfFile(sandbox.file(name));
        EXPECT_TRUE(read.ok());
        if (read)
            file = read.value();
    }

    /// The `index`-th note of channel 1 (from 0) is not played.
    void drop(std::size_t index) {
        const auto [track, on, off] = find(index);
        auto& events = file.tracks[track].events;
        events.erase(events.begin() + static_cast<std::ptrdiff_t>(off));
        events.erase(events.begin() + static_cast<std::ptrdiff_t>(on));
    }

    /// It sounds `semitones` higher.
    void shift(std::size_t index, int semitones) {
        const auto [track, on, off] = find(index);
        for (const std::size_t at : {on, off}) {
            auto& key = file.tracks[track].events[at].bytes[1];
            key = static_cast<std::uint8_t>(key + semitones);
        }
    }

    /// It is let go after `first` of its length and struck again on the same pitch at `second` of it.
    void strikeTwice(std::size_t index, double first, double second) {
        const auto [track, on, off] = find(index);
        auto& events = file.tracks[track].events;
        SmfEvent letGo = events[off];
        SmfEvent again = events[on];
        const auto length = static_cast<double>(letGo.tick - again.tick);
        const std::int64_t start = again.tick;
        letGo.tick = start + static_cast<std::int64_t>(first * length);
        again.tick = start + static_cast<std::int64_t>(second * length);
        const auto place = events.begin() + static_cast<std::ptrdiff_t>(on) + 1;
        events.insert(place, {letGo, again});
    }

    /// Before it another pitch, `semitones` higher, sounds for the first `share` of its length.
    void speakThrough(std::size_t index, int semitones, double share) {
        const auto [track, on, off] = find(index);
        auto& events = file.tracks[track].events;
        SmfEvent through = events[on];
        through.bytes[1] = static_cast<std::uint8_t>(through.bytes[1] + semitones);
        SmfEvent letGo = events[off];
        letGo.bytes[1] = through.bytes[1];
        letGo.tick = through.tick +
                     static_cast<std::int64_t>(share * static_cast<double>(events[off].tick - through.tick));
        events[on].tick = letGo.tick;
        events.insert(events.begin() + static_cast<std::ptrdiff_t>(on), {through, letGo});
    }

    /// Nothing after the `index`-th note's onset was recorded.
    void cutBefore(std::size_t index) {
        const auto [track, on, off] = find(index);
        const std::int64_t end = file.tracks[track].events[on].tick;
        for (SmfTrack& each : file.tracks) {
            std::erase_if(each.events, [end](const SmfEvent& event) { return event.tick >= end; });
            each.length = std::min(each.length, end);
        }
    }

    void save(const Sandbox& sandbox, const std::string& name) const {
        EXPECT_TRUE(writeSmfFile(sandbox.file(name), file).ok());
    }

private:
    struct Place {
        std::size_t track, on, off;
    };

    [[nodiscard]] Place find(std::size_t index) const {
        for (std::size_t track = 0; track < file.tracks.size(); ++track) {
            const auto& events = file.tracks[track].events;
            std::size_t seen = 0;
            for (std::size_t on = 0; on < events.size(); ++on) {
                if (events[on].bytes[0] != 0x90 || seen++ != index)
                    continue;
                for (std::size_t off = on + 1; off < events.size(); ++off)
                    if (events[off].bytes[0] == 0x80 && events[off].bytes[1] == events[on].bytes[1])
                        return {track, on, off};
            }
        }
        ADD_FAILURE() << "the guide holds no note " << index;
        return {0, 0, 0};
    }

    SmfFile file;
};

} // namespace valveladder::consoletest
