#include "Files/MusicXmlPart.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <numeric>

namespace valveladder {

namespace {

constexpr std::size_t maxPlayedNotes = 1'000'000;

std::string chosenVoice(const RawPart& raw, const PartChoice& choice) {
    if (!choice.voice.empty())
        return choice.voice;
    const std::vector<PartInfo::Voice> voices = voicesOf(raw);
    const auto fullest = std::max_element(voices.begin(), voices.end(),
                                          [](const auto& a, const auto& b) { return a.notes < b.notes; });
    return fullest == voices.end() ? "" : fullest->name;
}

/// The bar's notes of one voice, one at a time: sorted by onset, one of each chord.
class VoiceReader {
public:
    VoiceReader(std::string voiceName, const PartChoice& partChoice)
        : voice(std::move(voiceName)), choice(partChoice) {}

    std::vector<RawNote> read(const RawBar& bar) {
        std::vector<RawNote> notes;
        for (const RawNote& note : bar.notes)
            if (note.voice == voice && (!note.grace || choice.graceNotes))
                notes.push_back(note);
        std::stable_sort(notes.begin(), notes.end(),
                         [](const RawNote& a, const RawNote& b) { return a.start < b.start; });
        std::vector<RawNote> line;
        for (const RawNote& note : notes) {
            if (!line.empty() && !note.grace && !line.back().grace && line.back().start == note.start)
                mergeChord(line.back(), note, bar);
            else
                line.push_back(note);
        }
        for (std::size_t i = 1; i < line.size(); ++i)
            line[i - 1].length = std::min(line[i - 1].length, line[i].start - line[i - 1].start);
        return line;
    }

    void addRemark(std::vector<std::string>& remarks) const {
        if (chords > 0)
            remarks.push_back(fmt::format("bar {}: a chord; of {} the {} note is taken", firstChordBar,
                                          chords == 1 ? "it" : fmt::format("this and {} more", chords - 1),
                                          choice.highest ? "highest" : "lowest"));
    }

private:
    void mergeChord(RawNote& kept, const RawNote& other, const RawBar& bar) {
        if (lastChordStart != kept.source && chords++ == 0)
            firstChordBar = bar.number;
        const int slurStarts = kept.slurStarts + other.slurStarts;
        const int slurStops = kept.slurStops + other.slurStops;
        if (choice.highest ? other.written > kept.written : other.written < kept.written)
            kept = other;
        lastChordStart = kept.source;
        kept.slurStarts = slurStarts;
        kept.slurStops = slurStops;
    }

    std::string voice;
    const PartChoice& choice;
    int chords = 0;
    int lastChordStart = -1;
    std::string firstChordBar;
};

/// Lays the bars of a voice end to end in the order played.
class Assembler {
public:
    explicit Assembler(const RawPart& rawPart) : raw(rawPart) { part.ticksPerQuarter = raw.ticksPerQuarter; }

    void addBar(int source, const std::vector<RawNote>& notes) {
        const RawBar& bar = raw.bars[static_cast<std::size_t>(source)];
        jumped = source != lastSource + 1;
        if (jumped)
            openSlurs = 0;
        lastSource = source;
        addSigns(bar);
        part.bars.push_back({part.length, bar.length, bar.number, source});
        for (const RawNote& note : notes)
            addNote(note);
        part.length += bar.length;
    }

    Part part;

private:
    void addSigns(const RawBar& bar) {
        const PartMeter meter{part.length, bar.meter.beats, bar.meter.unit};
        if (part.meters.empty() || part.meters.back().beats != meter.beats ||
            part.meters.back().unit != meter.unit)
            part.meters.push_back(meter);
        if (part.keys.empty() || part.keys.back().fifths != bar.key.fifths)
            part.keys.push_back({part.length, bar.key.fifths});
        if (bar.bpmAtStart > 0.0)
            addTempo(part.length, bar.bpmAtStart);
        for (const PartTempo& tempo : bar.tempos)
            addTempo(part.length + tempo.tick, tempo.bpm);
    }

    void addTempo(Tick tick, double bpm) {
        while (!part.tempos.empty() && part.tempos.back().tick >= tick)
            part.tempos.pop_back();
        if (part.tempos.empty() || part.tempos.back().bpm != bpm)
            part.tempos.push_back({tick, bpm});
    }

    void addNote(const RawNote& from) {
        const Tick onset = part.length + from.start;
        // A tie across a jump is often written at one end alone, as into a second ending.
        const bool tied = jumped ? from.tieStop || tieOpen : from.tieStop && tieOpen;
        if (tied && !from.grace && continues(from, onset)) {
            part.notes.back().length += from.length;
        } else {
            PartNote note{onset,
                          from.length,
                          from.written,
                          from.written + from.transposition,
                          from.grace,
                          openSlurs > 0,
                          static_cast<int>(part.bars.size()) - 1,
                          from.source,
                          from.alter};
            part.notes.push_back(note);
        }
        openSlurs = std::max(0, openSlurs + from.slurStarts - from.slurStops);
        tieOpen = from.tieStart;
        jumped = false;
    }

    [[nodiscard]] bool continues(const RawNote& note, Tick onset) const {
        if (part.notes.empty())
            return false;
        const PartNote& last = part.notes.back();
        return last.written == note.written && last.onset + last.length == onset;
    }

    const RawPart& raw;
    int lastSource = -1;
    int openSlurs = 0;
    bool tieOpen = false;
    bool jumped = false; ///< the bar does not follow the one before it in the file, no note of it added yet
};

/// What `other`, the same bar of another part, says about the order and the tempo.
void addSigns(RawBar& bar, const RawBar& other, double ticks) {
    BarSigns& signs = bar.signs;
    const BarSigns& more = other.signs;
    signs.repeatStart = signs.repeatStart || more.repeatStart;
    signs.repeatTimes = std::max(signs.repeatTimes, more.repeatTimes);
    if (signs.endings.empty()) {
        signs.endings = more.endings;
        signs.endingStart = more.endingStart;
    }
    signs.segno = signs.segno || more.segno;
    signs.coda = signs.coda || more.coda;
    signs.toCoda = signs.toCoda || more.toCoda;
    signs.fine = signs.fine || more.fine;
    signs.daCapo = signs.daCapo || more.daCapo;
    signs.dalSegno = signs.dalSegno || more.dalSegno;
    for (const PartTempo& tempo : other.tempos) {
        const Tick tick = std::llround(static_cast<double>(tempo.tick) * ticks);
        const bool known = std::any_of(bar.tempos.begin(), bar.tempos.end(),
                                       [tick](const PartTempo& own) { return own.tick == tick; });
        if (!known)
            bar.tempos.push_back({tick, tempo.bpm});
    }
}

Result<std::vector<int>> barOrder(const RawPart& raw, bool unroll) {
    std::vector<BarSigns> signs;
    for (const RawBar& bar : raw.bars)
        signs.push_back(bar.signs);
    if (unroll)
        return playOrder(signs);
    std::vector<int> order(signs.size());
    std::iota(order.begin(), order.end(), 0);
    return order;
}

} // namespace

void shareSigns(RawPart& part, std::span<const RawPart> others) {
    for (std::size_t i = 0; i < part.bars.size(); ++i) {
        RawBar& bar = part.bars[i];
        for (const RawPart& other : others)
            if (i < other.bars.size())
                addSigns(bar, other.bars[i],
                         static_cast<double>(part.ticksPerQuarter) / other.ticksPerQuarter);
        std::stable_sort(bar.tempos.begin(), bar.tempos.end(),
                         [](const PartTempo& a, const PartTempo& b) { return a.tick < b.tick; });
    }
    double bpm = 0.0;
    for (RawBar& bar : part.bars) {
        bar.bpmAtStart = bpm;
        if (!bar.tempos.empty())
            bpm = bar.tempos.back().bpm;
    }
}

std::vector<PartInfo::Voice> voicesOf(const RawPart& part) {
    std::vector<PartInfo::Voice> voices;
    for (const RawBar& bar : part.bars)
        for (const RawNote& note : bar.notes) {
            auto voice = std::find_if(voices.begin(), voices.end(),
                                      [&](const PartInfo::Voice& other) { return other.name == note.voice; });
            if (voice == voices.end())
                voice = voices.insert(voices.end(), {note.voice, 0});
            ++voice->notes;
        }
    return voices;
}

Result<Part> assembled(const RawPart& raw, const PartChoice& choice) {
    const Result<std::vector<int>> order = barOrder(raw, choice.unroll);
    if (!order)
        return order.problem();
    VoiceReader voice(chosenVoice(raw, choice), choice);
    std::vector<std::vector<RawNote>> lines;
    for (const RawBar& bar : raw.bars)
        lines.push_back(voice.read(bar));
    Assembler assembler(raw);
    for (const int bar : order.value()) {
        assembler.addBar(bar, lines[static_cast<std::size_t>(bar)]);
        if (assembler.part.notes.size() > maxPlayedNotes)
            return Problem{"with its repeats the part has more than a million notes", "the part",
                           "read it without unrolling repeats"};
    }
    Part part = std::move(assembler.part);
    if (!choice.unroll)
        for (const RawBar& bar : raw.bars)
            part.signs.push_back(bar.signs);
    voice.addRemark(part.remarks);
    for (const auto& [what, count] : raw.leftOut)
        part.remarks.push_back(fmt::format("{} ({})", what, count));
    return part;
}

} // namespace valveladder
