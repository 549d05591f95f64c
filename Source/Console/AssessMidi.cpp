#include "Console/AssessMidi.h"

#include "Base/Path.h"
#include "Console/Output.h"
#include "Files/GuideFile.h"
#include "Files/Smf.h"
#include "Listening/GuideEcho.h"
#include "Listening/MidiListener.h"

#include <algorithm>
#include <cmath>

namespace valveladder::console {

namespace {

/// A recording with its tempo.
struct MidiRecording {
    MidiTake take;
    TempoMap tempo;              ///< score quarters to seconds
    double lengthQuarters = 0.0; ///< of the recording, from the score's tick 0
};

Result<Done> checkOptions(const AssessOptions& options, double start) {
    if (options.startSeconds)
        return Problem{"where a MIDI file's drill starts is given in quarters", "--start-seconds",
                       "Use --start"};
    if (!std::isfinite(start) || std::abs(start) > farthestQuarter)
        return Problem{"this is not a position in a file", "--start", "Give quarters, e.g. 96"};
    if (options.channel < 0 || options.channel > 16)
        return Problem{fmt::format("there is no MIDI channel {}", options.channel), "--channel",
                       "Choose from 1 to 16, or 0 for any but 10"};
    return Done{};
}

std::int64_t lastTick(const SmfFile& file) {
    std::int64_t last = 0;
    for (const SmfTrack& track : file.tracks)
        last = std::max({last, track.length, track.events.empty() ? 0 : track.events.back().tick});
    return last;
}

Result<MidiRecording> readMidi(const AssessOptions& options, double start) {
    auto file = readSmfFile(pathOf(options.file));
    if (!file)
        return file.problem();
    auto recorded = recordedTake(file.value(), options.channel, start);
    if (!recorded)
        return inFile(recorded.problem(), options.file);
    MidiRecording heard{std::move(recorded.value().take), recorded.value().tempo, 0.0};
    const double inFile =
        static_cast<double>(lastTick(file.value())) / file.value().ticksPerQuarterNote - start;
    const double seconds = heard.tempo.secondsAt(inFile);
    if (options.bpm)
        heard.tempo = TempoMap(*options.bpm);
    heard.lengthQuarters = heard.tempo.quarterAt(seconds);
    return heard;
}

/// Notes of other passes are not this take's; what the recording did not reach is not expected.
void limitTo(MidiTake& take, const Listened& heard) {
    const double end = heard.tempo.secondsAt(quartersOf(heard.score.length));
    std::erase_if(take.notes,
                  [end](const PlayedNote& note) { return note.onset < 0.0 || note.onset >= end; });
    std::erase_if(take.valves, [end](const ValveMove& move) { return move.seconds >= end; });
    if (!heard.isWhole())
        take.span.toSeconds = heard.tempo.secondsAt(heard.lengthQuarters);
}

} // namespace

Result<Listened> listenToMidiFile(const AssessOptions& options) {
    const double start = options.startQuarter.value_or(0.0);
    if (auto valid = checkOptions(options, start); !valid)
        return valid.problem();
    auto chosen = options.drill.choose();
    if (!chosen)
        return chosen.problem();
    auto read = readMidi(options, start);
    if (!read)
        return read.problem();
    auto score = buildScore(chosen.value().drill, chosen.value().instrument, read.value().tempo.bpmAt(0.0));
    if (!score)
        return score.problem();
    MidiTake& take = read.value().take;
    Listened heard{std::move(chosen.value()),
                   std::move(score.value()),
                   read.value().tempo,
                   read.value().lengthQuarters,
                   start,
                   {}};
    limitTo(take, heard);
    if (take.notes.empty())
        return Problem{"no note is played within the drill", options.file,
                       fmt::format("Check --start ({:g}) and --channel ({})", start, options.channel)};
    // Where hardly anything else was recorded, it is a take as even as the guide: there is nobody else.
    MidiTake withoutGuide = take;
    const GuideEcho echo = takeOutGuide(withoutGuide, heard.score, heard.tempo);
    const bool beside = echo.any() && 2 * withoutGuide.notes.size() >= echo.notes;
    heard.performance = listenToMidi(heard.score, heard.tempo, beside ? withoutGuide : take,
                                     options.roundTripMs.value_or(0.0));
    if (beside)
        heard.performance.remarks.emplace_back(TakeRemark::guideLeftOut);
    return heard;
}

} // namespace valveladder::console
