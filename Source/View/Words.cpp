#include "View/Words.h"

#include "Base/RobustStatistics.h"
#include "Base/Sentence.h"
#include "Base/Version.h"
#include "Records/Json.h"
#include "Words/NextSessionWords.h"
#include "Words/ReportWords.h"
#include "Words/SessionWords.h"
#include "Words/TellingApartWords.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace valveladder::words {

std::string logTroubleWords(const SessionView& view) {
    return fmt::format("{}. {} finished {} until then; none is lost.", view.logTrouble->text(),
                       view.waitingTakes, view.waitingTakes == 1 ? "take waits" : "takes wait");
}

std::string wrongTempoRemedy(const Surroundings& around) {
    return fmt::format("{}; what you really play is what is kept.",
                       around.host ? "Set the host to the planned tempo, or let our own clock lead"
                                   : "Set the others to the planned tempo, or switch Ableton Link off");
}

namespace {

/// How it is started: Space only where that is the window's.
std::string ourOwnClock(const Surroundings& around) {
    return fmt::format("start our own clock: {}.", around.ownKeys ? "Space" : "the button at the foot");
}

} // namespace

std::string noClockWords(const Surroundings& around) {
    return "Start the host, or " + ourOwnClock(around);
}

std::string hostStandsWords(const Surroundings& around) {
    return "Record with it, or " + ourOwnClock(around);
}

std::string noInputWords(const Surroundings& around) {
    return fmt::format(
        "No note and no sound has come in yet. Check {}, and in Set-up the player's channel and "
        "the sound threshold.",
        around.host ? "the input of this track" : "your device in the first steps");
}

namespace {

StateWords waitsForHost(const SessionView& view) {
    switch (view.way) {
    case TakeWay::recordingPass:
        return view.recording ? StateWords{"Recording", "The take begins after the count-in."}
                              : StateWords{"Record a take", ""};
    case TakeWay::loopPass:
        return {"Loop a take", "Each pass of the host's loop is one."};
    case TakeWay::playing:
        return {"Start and play", "That is a take."};
    case TakeWay::marker:
        return {"Mark a take", "A mark begins it."};
    case TakeWay::hand:
        break;
    }
    return {"Press Mark", "It begins a take (T)."};
}

StateWords waitsAlone(const SessionView& view) {
    if (!view.playing)
        return {"Press Start", "or Space, to begin"};
    switch (view.way) {
    case TakeWay::marker:
        return {"Mark a take", "A mark begins it."};
    case TakeWay::hand:
        return {"Press Mark", "It begins a take (T)."};
    case TakeWay::recordingPass:
    case TakeWay::loopPass:
    case TakeWay::playing:
        break;
    }
    return {"Get ready", "The take begins after the count-in."};
}

const char* leader(const SessionView& view, const Surroundings& around) {
    switch (view.clock) {
    case Clock::host:
        return around.host ? "The host's clock leads." : "";
    case Clock::own:
        return around.host ? "Our own clock leads." : "";
    case Clock::link:
        return "Ableton Link leads.";
    case Clock::none:
        break;
    }
    return "";
}

} // namespace

StateWords takeState(const SessionView& view, const Surroundings& around) {
    if (view.inTake)
        return {"Take running", ""};
    return around.host ? waitsForHost(view) : waitsAlone(view);
}

std::string clockLine(const SessionView& view, const StateWords& take, const Surroundings& around) {
    const std::string leads = leader(view, around);
    return take.more + (take.more.empty() || leads.empty() ? "" : " ") + leads;
}

std::string place(const Score& score, std::size_t note, const PitchNames& names) {
    if (note >= score.notes.size())
        return drillOver;
    const ScoreNote& now = score.notes[note];
    return fmt::format("{}, segment {} of {}: {}",
                       withPitchNames(score.rungLabels[static_cast<std::size_t>(now.rung)], names),
                       now.segment + 1, score.segmentNames.size(),
                       score.segmentNames[static_cast<std::size_t>(now.segment)]);
}

std::string segmentOf(const Score& score, int segment) {
    return fmt::format("Segment {} of {}", segment + 1, score.segmentNames.size());
}

std::string beatsToEntry(int beats) {
    return counted(beats, "beat") + " to go";
}

namespace {

/// "2 wrong, 1 missed, 1 breath"; what there is none of is left out.
std::string faultsInWords(int wrong, int missed, int extra, int breaths) {
    std::vector<std::string> faults;
    const auto add = [&faults](int count, const char* what) {
        if (count > 0)
            faults.push_back(fmt::format("{} {}", count, what));
    };
    add(wrong, "wrong");
    add(missed, "missed");
    add(extra, "extra");
    add(breaths, breaths == 1 ? "breath" : "breaths");
    return joined(faults);
}

/// What was right, and the faults.
std::string countsInWords(int right, int expected, const std::string& faults) {
    return fmt::format("{} of {} right{}{}", right, expected, faults.empty() ? "" : ", ", faults);
}

/// " (planned 66)"; empty where it was played as planned.
std::string otherPlan(double playedBpm, double plannedBpm) {
    return sameTempo(playedBpm, plannedBpm) ? "" : fmt::format(" (planned {})", tempoText(plannedBpm));
}

std::string verdictOf(const TakeSummary& take) {
    const bool whole = take.state == TakeState::whole;
    const std::string ended = verdict(whole, take.passed, take.expected > 0);
    return whole && take.passed && take.clean ? ended + ", clean" : ended;
}

/// "split, after a breath"
std::string joinedKinds(const std::vector<ReportKind>& kinds) {
    std::vector<std::string> words;
    for (const ReportKind kind : kinds)
        words.emplace_back(inWords(kind));
    return joined(words);
}

std::string asideWords(const NoteModel& note, NoteAside aside) {
    switch (aside) {
    case NoteAside::breath:
        return inWords(ReportKind::breath);
    case NoteAside::extra:
        return inWords(ReportKind::extra);
    case NoteAside::valves:
        return inWords(ReportKind::valves);
    case NoteAside::lateFinger:
        break;
    }
    return "finger " + note.fingersApart;
}

} // namespace

std::string firstSentence(const std::string& text) {
    const auto end = text.find(". ");
    return end == std::string::npos ? text : text.substr(0, end + 1);
}

std::string overAllTakes(const std::string& found) {
    std::string text = found;
    if (text.starts_with("Your "))
        text.front() = 'y';
    return "Over all takes: " + text;
}

std::string foundOverAllTakes(const std::string& ofThis) {
    return "Found over all takes. This one: " + ofThis;
}

std::string ofThisTake(const std::string& counts) {
    return "This take: " + counts;
}

std::string unmarkedBelow(double leastCost) {
    return fmt::format("changes that take less than {:.0f} % of the time there is for them are not marked",
                       100.0 * leastCost);
}

std::string noSpots(double leastCost) {
    return fmt::format(
        "No change of valves in it takes {:.0f} % of the time there is for it, so none is marked. "
        "Choose another part or voice at the left, or open another part.",
        100.0 * leastCost);
}

std::string noTakeOf(const std::string& player, const std::string& instrument) {
    return fmt::format("{} has no take on {} yet", player, instrument);
}

std::string takesOfOthers(const std::vector<LogPlayer>& others) {
    constexpr std::size_t mostNamed = 6;
    std::string text = "This log holds takes of ";
    for (std::size_t i = 0; i < std::min(mostNamed, others.size()); ++i) {
        const TakeHeader& newest = others[i].newest;
        const auto read = instrumentFromJson(newest.instrumentJson);
        text += fmt::format("{}{} ({}, {}{})", i == 0 ? "" : ", ", newest.player,
                            read ? read.value().name : newest.instrumentId, others[i].takes,
                            newest.invented ? " invented" : "");
    }
    return text + (others.size() > mostNamed ? " and more." : ".") + " The set-up (S) chooses among them.";
}

std::string scaleGiven(int wantedPercent, int givenPercent) {
    return fmt::format("This display has no room for {} %: the window is at {} %", wantedPercent,
                       givenPercent);
}

std::string firstBarsOf(const std::string& first, const std::string& last, const std::string& lastOfAll) {
    return first == last ? fmt::format("Bar {} of {}-{}", first, first, lastOfAll)
                         : fmt::format("Bars {}-{} of {}-{}", first, last, first, lastOfAll);
}

std::string goOnAs(const std::string& player) {
    return "Go on as " + player;
}

std::string drillReplaced(const std::string& now, double nowBpm) {
    return fmt::format("The drill is now: {}, from {} bpm.", now, tempoText(nowBpm));
}

std::string drillBefore(const std::string& before, double beforeBpm) {
    return fmt::format("Before it was: {}, at {} bpm. Its takes and its tempo are kept.", before,
                       tempoText(beforeBpm));
}

std::string playerReplaced(const std::string& player, const std::string& instrument,
                           const std::string& drill) {
    return fmt::format("Now it is {} on the {}: {}.", player, instrument, drill);
}

std::string playerBefore(const std::string& player, const std::string& instrument, const std::string& drill,
                         double bpm) {
    return fmt::format("Before it was {} on the {}: {}, at {} bpm. All takes and tempos are kept.", player,
                       instrument, drill, tempoText(bpm));
}

std::string whatDrillTells(const std::vector<std::string>& leftOpen) {
    if (leftOpen.empty())
        return everyFingerTold;
    std::string text;
    for (const std::string& words : leftOpen)
        text += (text.empty() ? "" : " ") + sentence(words) + ".";
    return text;
}

std::string whiskerWords(const std::string& name, const Estimate& ms, bool claimed) {
    return fmt::format("{}: {:.0f} ms, 90 % interval {:.0f} to {:.0f}, {}{}", name, ms.value, ms.low, ms.high,
                       counted(ms.n, "change"), claimed ? "; slower than your others" : "");
}

std::string dayChoice(const std::string& day, std::size_t takes) {
    return fmt::format("{}, {}", day, counted(static_cast<long>(takes), "take"));
}

std::string takeChoice(const std::string& time, const TakeSummary& take) {
    return fmt::format("{}, {} bpm", time, tempoText(take.playedBpm));
}

std::string cellWords(const SegmentResult& result) {
    if (!result.played)
        return "not played";
    std::string text =
        countsInWords(result.right, result.expected,
                      faultsInWords(result.wrong, result.missed, result.extra, result.breaths));
    if (result.clean)
        text += ", clean";
    if (result.ioiSpreadPercent)
        text += fmt::format(", uneven by {:.1f} % ({:.1f} to {:.1f})", result.ioiSpreadPercent->value,
                            result.ioiSpreadPercent->low, result.ioiSpreadPercent->high);
    return text;
}

std::string takeHeading(const TakeRecord& record) {
    return fmt::format(
        "{} bpm{}, {}", tempoText(record.playedBpm), otherPlan(record.playedBpm, record.header.plannedBpm),
        verdict(record.state == TakeState::whole, record.passed, record.performance.measured()));
}

std::string takeCounts(const TakeSummary& take) {
    return countsInWords(take.right, take.expected,
                         faultsInWords(take.wrong, take.missed, take.extra, take.breaths));
}

std::string takeDetail(const TakeSummary& take) {
    std::string text = takeCounts(take);
    if (const auto& lag = take.asynchronyMs)
        text += fmt::format("; {:.0f} ms {} the beat ({:.0f} to {:.0f})", std::abs(lag->value),
                            lag->value < 0 ? "before" : "after", lag->low, lag->high);
    if (take.header.invented)
        text += "; invented playing";
    return text;
}

std::string playingNote(const std::string& pitch, int side) {
    return side < 0 ? "Playing: " + pitch
                    : fmt::format("Playing: {}, {} take", pitch, side == 0 ? "first" : "second");
}

std::string graphPoint(const std::string& note, NoteMeasure measure, const std::optional<double>& value,
                       const char* fault) {
    std::string text = note + ": ";
    if (fault != nullptr)
        text += std::string(fault) + (value ? ", " : "");
    if (!value)
        return fault != nullptr ? text : text + "not measured";
    const double size = std::abs(*value);
    switch (measure) {
    case NoteMeasure::deviation:
        return text + fmt::format("{:.0f} ms {}", size, *value < 0 ? "early" : "late");
    case NoteMeasure::changeover:
        return text + fmt::format("changeover {:.0f} ms", *value);
    case NoteMeasure::intonation:
        break;
    }
    return text + fmt::format("{:.0f} cents {}", size, *value < 0 ? "low" : "high");
}

std::string workState(const std::string& what, std::optional<double> share) {
    return share ? fmt::format("{}, {:.0f} %", what, std::floor(*share * 100.0)) : what + "...";
}

std::string pedalName(const Pedal& pedal) {
    if (pedal.note >= 0)
        return fmt::format("note {}", pedal.note);
    return pedal.controller >= 0 ? fmt::format("controller {}", pedal.controller) : noPedal;
}

std::string notAName(const std::string& name) {
    return fmt::format("'{}' cannot be a file's name", name);
}

std::string noSegment(int number) {
    return fmt::format("there is no segment {}", number);
}

std::string segmentsUpTo(std::size_t last) {
    return fmt::format("use numbers from 1 to {}", last);
}

std::string axisValue(double value, bool isSigned) {
    if (std::abs(value) < 1e-9)
        return "0";
    return isSigned ? fmt::format("{:+.4g}", value) : fmt::format("{:.4g}", value);
}

std::string graphSummary(std::vector<double> values, bool cents) {
    if (values.empty())
        return "nothing was measured";
    const auto [least, most] = std::ranges::minmax(values);
    return fmt::format("{}: median {:.0f} {}, from {:.0f} to {:.0f}",
                       counted(static_cast<long>(values.size()), "note"), median(values),
                       cents ? "cents" : "ms", least, most);
}

std::string playedOfPlanned(const TakeSummary& take) {
    std::string text = tempoText(take.playedBpm);
    if (!sameTempo(take.playedBpm, take.header.plannedBpm))
        text += " / " + tempoText(take.header.plannedBpm);
    return text;
}

TakeLine takeLine(const TakeSummary& take) {
    TakeLine line;
    line.tempo = tempoText(take.playedBpm) + otherPlan(take.playedBpm, take.header.plannedBpm);
    line.notes = fmt::format("{}/{}", take.right, take.expected);
    line.faults = faultsInWords(take.wrong, take.missed, take.extra, take.breaths);
    line.even = take.worstIoiSpreadPercent ? fmt::format("{:.1f} %", *take.worstIoiSpreadPercent) : "-";
    line.verdict = verdictOf(take);
    return line;
}

std::string versionLine() {
    return fmt::format("{} {}", windowTitle, programVersion());
}

std::string whoPlays(const std::string& player, const std::string& instrument) {
    return player + ", " + instrument;
}

std::string whoPlaysHelp(const std::string& player, const std::string& instrument) {
    return fmt::format("{} on the {}: whose takes are shown and kept (the set-up, S, changes it)", player,
                       instrument);
}

std::string rungOf(int rung, int rungs) {
    return fmt::format("rung {} of {}", rung + 1, rungs);
}

std::string tempoAgainstPlan(double realBpm, double plannedBpm) {
    if (realBpm <= 0.0 || sameTempo(realBpm, plannedBpm))
        return realBpm > 0.0 ? "bpm, as planned" : "bpm planned";
    return fmt::format("bpm, planned {}", tempoText(plannedBpm));
}

std::string midiListened(const std::string& device) {
    return device + ": on";
}

std::string iHear(double midi, const Instrument& instrument, std::optional<Spelling> spelling) {
    const auto sounding = static_cast<MidiNote>(std::lround(midi));
    const MidiNote written = instrument.written(sounding);
    std::string text = "I hear " + pitchName(written, pitchNames(spelling, false, instrument).spelling);
    if (written != sounding)
        text +=
            fmt::format(" (sounds {})", pitchName(sounding, pitchNames(spelling, true, instrument).spelling));
    return text;
}

std::string noteResult(const NoteModel& note, const PitchNames& names) {
    const std::string pitch = pitchName(names.sounding ? note.sounding : note.written, names.spelling);
    const NoteSign sign = signOf(note);
    std::string what = signInWords(sign);
    const auto add = [&what](const std::string& more) { what += more.empty() ? "" : ", " + more; };
    const auto asides = asidesOf(note);
    for (const NoteAside aside : asides)
        if (aside != NoteAside::lateFinger) // says itself how sure it is
            add(asideWords(note, aside));
    add(sureness(note.likelihood));
    if (std::ranges::find(asides, NoteAside::lateFinger) != asides.end())
        add(asideWords(note, NoteAside::lateFinger));
    if (!note.saidRight.empty())
        what +=
            (sign.kind == NoteSign::Kind::saidRight ? "; heard: " : "; right, as you say, though heard: ") +
            joinedKinds(note.saidRight);
    return fmt::format("{}, {}: {}", pitch, note.combination, what);
}

const char* correctionKey(const CorrectionOffer& offer) {
    return offer.right ? "That was right" : "As it was heard";
}

std::string correctionHelp(const NoteModel& note, const CorrectionOffer& offer, const PitchNames& names) {
    std::vector<ReportKind> kinds;
    for (const NoteReport& report : offer.reports)
        kinds.push_back(report.kind);
    const std::string pitch = pitchName(names.sounding ? note.sounding : note.written, names.spelling);
    if (!offer.right)
        return fmt::format("Takes back that {} was right: it counts as heard again, {}", pitch,
                           joinedKinds(kinds));
    return fmt::format("Says that {} was right, and not {}: it counts so from now on; what was heard is kept",
                       pitch, joinedKinds(kinds));
}

std::string slowestChangeWords(double ms) {
    return fmt::format("slowest change, {:.0f} ms", ms);
}

std::string milliseconds(double ms) {
    return fmt::format("{:.0f} ms", ms);
}

std::string practiseThis(const PracticeSession& next) {
    return "Practise this, " + minutesInWords(next);
}

std::string practiceAdvice(const PracticeSession& next) {
    std::string text = inWords(next) + ".";
    for (const SessionItem& item : next.items)
        if (item.round == 1 && item.thing == 1)
            text += " First " + whatInWords(item, next.instrument) + ", " +
                    whyInWords(item, next.instrument) + ".";
    return text + " Rest your hand in between.";
}

std::string againAt(double bpm) {
    return fmt::format("Again at {} bpm", tempoText(bpm));
}

std::string nextTempo(double bpm) {
    return fmt::format("Next tempo, {} bpm", tempoText(bpm));
}

std::string allRight(int notes) {
    return fmt::format("All {} notes right.", notes);
}

std::string mostFaults(int faults, const std::string& segment, const std::string& rung) {
    return faults == 1 ? fmt::format("One note went wrong, in {}, {}.", segment, rung)
                       : fmt::format("{} notes went wrong, most of them in {}, {}.", faults, segment, rung);
}

std::string scatteredFaults(int faults) {
    return fmt::format("{} notes went wrong.", faults);
}

} // namespace valveladder::words
