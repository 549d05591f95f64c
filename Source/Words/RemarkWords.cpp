#include "Words/RemarkWords.h"

#include "Base/Sentence.h"
#include "Listening/Estimates.h"
#include "Valves/Interval.h"
#include "Words/TempoWords.h"

#include <fmt/format.h>

#include <cstdlib>
#include <iterator>
#include <utility>

namespace valveladder {

namespace {

struct Worded {
    std::string operator()(const std::string& text) const { return text; }
    std::string operator()(TakeRemark remark) const;
    std::string operator()(const AbsentMeasure& absent) const;
    std::string operator()(const UnusableInput& unusable) const;
    std::string operator()(const OtherRegister& other) const;
    std::string operator()(const ScoopedNotes& scooped) const;
    std::string operator()(const SegmentRestarted& restarted) const;
    std::string operator()(const NotPlaced& notPlaced) const;
    std::string operator()(const DamagedRecording& damaged) const {
        return "The recording is damaged: " + damaged.shortfall;
    }
};

std::string Worded::operator()(TakeRemark remark) const {
    switch (remark) {
    case TakeRemark::soundEmpty:
        return "The sound is empty: nothing was recorded";
    case TakeRemark::soundSilent:
        return "The sound is silent: check the input and its level";
    case TakeRemark::noNoteHeard:
        return "No notes were heard in the sound";
    case TakeRemark::otherMusic:
        return "Few of the expected notes were heard: another piece, another tempo, or the drill was not "
               "played";
    case TakeRemark::noSlurredChange:
        return "No changeovers: every change was tongued";
    case TakeRemark::midiBesideSound:
        return "MIDI notes and sound came; the MIDI notes were measured";
    case TakeRemark::unusableRate:
        return "The sound was not measured: it came at an unusable sample rate";
    case TakeRemark::noRoundTrip:
        return "No round trip is known, so that everything seems late by the delay of the sound device; "
               "evenness and changeovers do not depend on it";
    case TakeRemark::guideLeftOut:
        return "The guide's own notes are in the recording as well; they were left out";
    }
    return "";
}

std::string Worded::operator()(const AbsentMeasure& absent) const {
    const std::string segments = counted(absent.segments, "segment");
    switch (absent.what) {
    case AbsentMeasure::What::notes:
        return segments + " not played";
    case AbsentMeasure::What::deviations:
        return fmt::format("No deviations in {}: fewer than {} notes were heard", segments, absent.least);
    case AbsentMeasure::What::spread:
        return fmt::format("No spread of onsets or intervals in {}: fewer than {} of them were heard",
                           segments, absent.least);
    case AbsentMeasure::What::longShortRatio:
        return fmt::format("No long:short ratio in {0}: it takes {1} long and {1} short intervals", segments,
                           numberInWords(minOfEach));
    case AbsentMeasure::What::asynchrony:
        return fmt::format("No asynchrony of the take: fewer than {} notes were heard", absent.least);
    }
    return "";
}

std::string Worded::operator()(const UnusableInput& unusable) const {
    const long count = unusable.count;
    const bool one = count == 1;
    switch (unusable.what) {
    case UnusableInput::What::timesWithoutSense:
        return fmt::format("{} {} left out: {} no sense", counted(count, "note"), one ? "was" : "were",
                           one ? "its time makes" : "their times make");
    case UnusableInput::What::notesWithoutLength:
        return fmt::format("{} came without a length: gaps and breaths after {} are not known",
                           counted(count, "note"), one ? "it" : "them");
    case UnusableInput::What::samplesAtFullScale:
        return fmt::format("{} {} at full scale: lower the input's level", counted(count, "sample"),
                           one ? "is" : "are");
    case UnusableInput::What::samplesWithoutSense:
        return one ? "1 sample was no number or far over full scale and counts as silence"
                   : fmt::format("{} samples were no numbers or far over full scale and count as silence",
                                 count);
    case UnusableInput::What::soundsTooMany:
        return fmt::format("{} more than there is room for {} not weighed", counted(count, "sound"),
                           one ? "was" : "were");
    }
    return "";
}

std::string Worded::operator()(const OtherRegister& other) const {
    const char* direction = other.semitones > 0 ? "above" : "below";
    const int size = std::abs(other.semitones);
    if (size % semitonesAnOctave == 0)
        return fmt::format("Everything sounded {} {} the drill and was judged in its own octave: set the "
                           "controller's octave",
                           size == semitonesAnOctave ? "an octave" : "two octaves", direction);
    return fmt::format("Everything sounded {} {} the drill: set the controller's transposition, "
                       "or the instrument's",
                       counted(size, "semitone"), direction);
}

std::string Worded::operator()(const ScoopedNotes& scooped) const {
    return fmt::format("{} notes spoke off their pitch at first: by {:.0f} cents for {:.0f} ms in the median",
                       scooped.notes, scooped.cents, scooped.ms);
}

std::string Worded::operator()(const SegmentRestarted& restarted) const {
    return fmt::format("{}, {}: broken off after {} and begun again at {:.1f} s; the last try counts",
                       rungInWords(restarted.rungLabel, restarted.rung),
                       segmentInWords(restarted.segmentName, restarted.segment),
                       counted(restarted.notesBefore, "note"), restarted.againSeconds);
}

std::string Worded::operator()(const NotPlaced& notPlaced) const {
    if (notPlaced.readings.empty())
        return "Neither tempo nor start could be found: the sound does not follow the drill";
    std::string text = "Where in the drill this take lies cannot be told for sure. It could be ";
    const char* between = "";
    for (const NotPlaced::Reading& reading : notPlaced.readings) {
        text += fmt::format("{}{} bpm with the count-in from {:.2f} s ({} notes agree)", between,
                            words::tempoText(reading.bpm), reading.countInSeconds, reading.notesAgreeing);
        between = " or ";
    }
    return text + ". Give the tempo or the start";
}

} // namespace

std::string inWords(const Remark& remark) {
    return std::visit(Worded{}, remark);
}

std::vector<std::string> inWords(const std::vector<Remark>& remarks) {
    std::vector<std::string> texts;
    for (const Remark& remark : remarks)
        texts.push_back(inWords(remark));
    return texts;
}

std::string rungInWords(const std::string& label, int rung) {
    return label.empty() ? fmt::format("rung {}", rung + 1) : label;
}

std::string segmentInWords(const std::string& name, int segment) {
    return name.empty() ? fmt::format("segment {}", segment + 1) : name;
}

std::vector<Remark> remarksFrom(std::vector<std::string> texts) {
    return {std::make_move_iterator(texts.begin()), std::make_move_iterator(texts.end())};
}

} // namespace valveladder
