#include "Music/WrittenPart.h"

#include <algorithm>
#include <map>

namespace valveladder {

WrittenMarks onWrittenPart(const Part& written, const Marking& alone, const Part& played,
                           const Marking& marking, std::span<const Spot> spots) {
    const auto sourceOf = [](const Part& part, const MarkedNote& note) {
        return part.notes[static_cast<std::size_t>(note.note)].source;
    };
    std::map<int, const MarkedNote*> firstTime; // by the note of the file
    for (const MarkedNote& note : marking.notes)
        firstTime.emplace(sourceOf(played, note), &note);

    WrittenMarks marks{{alone.notes, marking.cost, marking.remarks}, {spots.begin(), spots.end()}};
    std::map<int, int> places; // in the marking, by the note of the file
    for (std::size_t i = 0; i < marks.marking.notes.size(); ++i) {
        MarkedNote& note = marks.marking.notes[i];
        places.emplace(sourceOf(written, note), static_cast<int>(i));
        const auto marked = firstTime.find(sourceOf(written, note));
        if (marked == firstTime.end())
            continue;
        const int at = note.note;
        note = *marked->second;
        note.note = at;
    }
    for (Spot& spot : marks.spots) {
        std::vector<int> found;
        for (const int note : spot.notes)
            if (const auto place =
                    places.find(sourceOf(played, marking.notes[static_cast<std::size_t>(note)]));
                place != places.end())
                found.push_back(place->second);
        std::sort(found.begin(), found.end());
        found.erase(std::unique(found.begin(), found.end()), found.end());
        spot.notes = std::move(found);
    }
    return marks;
}

} // namespace valveladder
