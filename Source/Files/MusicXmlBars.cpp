#include "Files/MusicXmlBars.h"

#include "Base/Number.h"
#include "Valves/Interval.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <optional>

namespace valveladder {

namespace {

constexpr std::int64_t maxTicksPerQuarter = 100'000'000;
constexpr double maxDivisions = 1e6;
constexpr double maxBarQuarters = 1024.0;   // no notated bar is longer; beyond it sums would not be exact
constexpr std::int64_t divisionsUntold = 1; ///< of a quarter, before the first <divisions>

using Name = std::string_view;

bool yes(pugi::xml_attribute attribute) {
    return Name(attribute.value()) == "yes";
}

/// Whole number in an element's text, if it is one within +-limit.
std::optional<std::int64_t> wholeNumber(pugi::xml_node node, double limit) {
    const auto value = leadingDecimal(node.child_value());
    if (!value || !(std::abs(*value) <= limit) || *value != std::floor(*value))
        return std::nullopt;
    return static_cast<std::int64_t>(*value);
}

/// "3+2" is a sum.
int beatsOf(Name text) {
    int sum = 0;
    while (!text.empty()) {
        const auto term = takeInteger(text);
        if (!term || *term < 1 || *term > 999)
            return 0;
        sum += *term;
        if (text.starts_with('+'))
            text.remove_prefix(1);
    }
    return sum;
}

/// Quarters a minute of a metronome mark "beat-unit dots = per-minute"; 0 for any other.
double metronomeBpm(pugi::xml_node metronome) {
    static constexpr std::array<std::pair<Name, double>, 7> units{{{"breve", 8.0},
                                                                   {"whole", 4.0},
                                                                   {"half", 2.0},
                                                                   {"quarter", 1.0},
                                                                   {"eighth", 0.5},
                                                                   {"16th", 0.25},
                                                                   {"32nd", 0.125}}};
    const Name name = metronome.child_value("beat-unit");
    const auto unit =
        std::find_if(units.begin(), units.end(), [name](const auto& entry) { return entry.first == name; });
    Name minute = metronome.child_value("per-minute");
    minute.remove_prefix(std::min(minute.find_first_of("0123456789"), minute.size()));
    const double beats = leadingDecimal(minute).value_or(0.0);
    if (unit == units.end() || metronome.child("beat-unit").next_sibling("beat-unit"))
        return 0.0;
    double dots = 1.0;
    double part = 1.0;
    for (pugi::xml_node dot : metronome.children("beat-unit-dot")) {
        (void)dot;
        part /= 2.0;
        dots += part;
    }
    return beats * unit->second * dots;
}

/// Passes of an ending's number attribute: "1", "1, 2", "1-3".
std::vector<int> endingNumbers(Name text) {
    std::vector<int> numbers;
    while (!text.empty() && numbers.size() < 64) {
        const auto number = takeInteger(text);
        if (!number)
            text.remove_prefix(1);
        else if (*number > 0 && *number < 64)
            numbers.push_back(*number);
    }
    return numbers;
}

std::optional<int> writtenPitch(pugi::xml_node pitch) {
    static constexpr std::array<int, 7> fromA{9, 11, 0, 2, 4, 5, 7};
    const char step = pitch.child_value("step")[0];
    const std::optional<std::int64_t> octave = wholeNumber(pitch.child("octave"), 10);
    if (step < 'A' || step > 'G' || !octave)
        return std::nullopt;
    const double alter = leadingDecimal(pitch.child_value("alter")).value_or(0.0);
    if (!(std::abs(alter) <= 4.0))
        return std::nullopt;
    const int note = static_cast<int>(semitonesAnOctave * (*octave + 1)) +
                     fromA[static_cast<std::size_t>(step - 'A')] + static_cast<int>(std::lround(alter));
    return note < lowestMidiNote || note > highestMidiNote ? std::nullopt : std::optional<int>(note);
}

/// Reads the measures of one part one after another.
class BarReader {
public:
    explicit BarReader(int ticks) { part.ticksPerQuarter = ticks; }

    std::optional<Problem> read(pugi::xml_node measure) {
        bar = {};
        bar.number = measure.attribute("number").value();
        if (bar.number.empty())
            bar.number = std::to_string(part.bars.size() + 1);
        bar.bpmAtStart = bpm;
        cursor = lastStart = 0;
        bool sounded = false;
        for (pugi::xml_node node : measure.children()) {
            const Name name = node.name();
            if (!sounded && (name == "note" || name == "backup" || name == "forward"))
                setInForce();
            sounded = sounded || name == "note" || name == "backup" || name == "forward";
            readElement(name, node);
            if (problem)
                return problem;
        }
        if (!sounded)
            setInForce();
        finishBar();
        return std::nullopt;
    }

    RawPart part;

private:
    void setInForce() {
        bar.meter = meter;
        bar.key = key;
    }

    void readElement(Name name, pugi::xml_node node) {
        if (name == "note")
            readNote(node);
        else if (name == "attributes")
            readAttributes(node);
        else if (name == "backup")
            move(node, -1);
        else if (name == "forward")
            move(node, 1);
        else if (name == "direction")
            readDirection(node);
        else if (name == "sound")
            readSound(node, cursor);
        else if (name == "barline")
            readBarline(node);
    }

    void readAttributes(pugi::xml_node node) {
        if (pugi::xml_node divisionsNode = node.child("divisions"))
            divisions = *wholeNumber(divisionsNode, maxDivisions);
        if (pugi::xml_node fifths = node.child("key").child("fifths"))
            key.fifths = static_cast<int>(wholeNumber(fifths, 14).value_or(0));
        const int beats = beatsOf(node.child("time").child_value("beats"));
        const auto unit = wholeNumber(node.child("time").child("beat-type"), 64).value_or(0);
        if (beats > 0 && unit > 0)
            meter = {0, beats, static_cast<int>(unit)};
        if (pugi::xml_node transpose = node.child("transpose"))
            transposition = static_cast<int>(
                wholeNumber(transpose.child("chromatic"), 48).value_or(0) +
                semitonesAnOctave * wholeNumber(transpose.child("octave-change"), 4).value_or(0));
    }

    std::optional<Tick> ticksOf(pugi::xml_node duration) {
        const auto value = wholeNumber(duration, maxBarQuarters * maxDivisions);
        if (!value || *value < 0 ||
            static_cast<double>(*value) > maxBarQuarters * static_cast<double>(divisions)) {
            fail(std::string("a duration of \"") + duration.child_value() + "\"");
            return std::nullopt;
        }
        return *value * part.ticksPerQuarter / divisions;
    }

    void move(pugi::xml_node node, int direction) {
        const std::optional<Tick> ticks = ticksOf(node.child("duration"));
        if (ticks)
            advance(*ticks * direction);
    }

    void advance(Tick ticks) {
        cursor = std::max<Tick>(0, cursor + ticks);
        bar.length = std::max(bar.length, cursor);
        if (bar.length > static_cast<Tick>(maxBarQuarters) * part.ticksPerQuarter)
            fail("a bar longer than 1024 quarters");
    }

    void readNote(pugi::xml_node node) {
        const int source = noteCount++;
        const bool grace = static_cast<bool>(node.child("grace"));
        Tick length = 0;
        if (!grace) {
            const std::optional<Tick> ticks = ticksOf(node.child("duration"));
            if (!ticks)
                return;
            length = *ticks;
        }
        const bool chord = static_cast<bool>(node.child("chord"));
        const Tick start = chord ? lastStart : cursor;
        if (!chord) {
            lastStart = cursor;
            advance(length);
        }
        keep(node, {start, length, 60, transposition, node.child_value("voice"), grace, false, false, 0, 0,
                    source});
    }

    void keep(pugi::xml_node node, RawNote note) {
        if (node.child("rest"))
            return;
        if (node.child("cue"))
            return leaveOut("cue notes are left out");
        if (!node.child("pitch"))
            return leaveOut("notes without pitch are left out");
        const std::optional<int> written = writtenPitch(node.child("pitch"));
        if (!written)
            return leaveOut("notes beyond MIDI's range are left out");
        note.written = *written;
        const double alter = leadingDecimal(node.child("pitch").child_value("alter")).value_or(0.0);
        if (std::abs(alter) < 1.5)
            note.alter = static_cast<int>(std::lround(alter));
        if (note.voice.empty())
            note.voice = "1";
        for (pugi::xml_node tie : node.children("tie")) {
            note.tieStart = note.tieStart || Name(tie.attribute("type").value()) == "start";
            note.tieStop = note.tieStop || Name(tie.attribute("type").value()) == "stop";
        }
        for (pugi::xml_node notations : node.children("notations"))
            for (pugi::xml_node slur : notations.children("slur")) {
                note.slurStarts += Name(slur.attribute("type").value()) == "start";
                note.slurStops += Name(slur.attribute("type").value()) == "stop";
            }
        bar.notes.push_back(std::move(note));
    }

    void readDirection(pugi::xml_node node) {
        const pugi::xml_node sound = node.child("sound");
        Tick at = cursor;
        const pugi::xml_node offset = node.child("offset");
        if (offset && yes(offset.attribute("sound")))
            at = std::max<Tick>(0, cursor + wholeNumber(offset, maxDivisions).value_or(0) *
                                                part.ticksPerQuarter / divisions);
        if (sound)
            readSound(sound, at);
        for (pugi::xml_node type : node.children("direction-type")) {
            if (type.child("metronome") && !sound.attribute("tempo"))
                setTempo(metronomeBpm(type.child("metronome")), at);
            // The same glyphs also stand beside "D.S." and "To Coda"; their sound tells them apart.
            bar.signs.segno = bar.signs.segno || (type.child("segno") && !sound.attribute("dalsegno"));
            bar.signs.coda = bar.signs.coda || (type.child("coda") && !sound.attribute("tocoda"));
        }
    }

    void readSound(pugi::xml_node sound, Tick at) {
        setTempo(leadingDecimal(sound.attribute("tempo").value()).value_or(0.0), at);
        BarSigns& signs = bar.signs;
        signs.segno = signs.segno || sound.attribute("segno");
        signs.coda = signs.coda || sound.attribute("coda");
        signs.toCoda = signs.toCoda || sound.attribute("tocoda");
        signs.fine = signs.fine || sound.attribute("fine");
        signs.daCapo = signs.daCapo || yes(sound.attribute("dacapo"));
        signs.dalSegno = signs.dalSegno || sound.attribute("dalsegno");
    }

    void setTempo(double tempo, Tick at) {
        if (!(tempo > 0.0 && tempo < 10000.0))
            return;
        bpm = tempo;
        bar.tempos.push_back({at, tempo});
    }

    void readBarline(pugi::xml_node barline) {
        const pugi::xml_node repeat = barline.child("repeat");
        const Name direction = repeat.attribute("direction").value();
        bar.signs.repeatStart = bar.signs.repeatStart || direction == "forward";
        if (direction == "backward") {
            Name times = repeat.attribute("times").value();
            bar.signs.repeatTimes = std::clamp(takeInteger(times).value_or(2), 1, 64);
        }
        const pugi::xml_node ending = barline.child("ending");
        const Name type = ending.attribute("type").value();
        if (type == "start") {
            endings = endingNumbers(ending.attribute("number").value());
            bar.signs.endingStart = true;
        } else if (type == "stop" || type == "discontinue")
            endingsStop = true;
    }

    void finishBar() {
        if (bar.length == 0)
            bar.length = static_cast<Tick>(part.ticksPerQuarter) * 4 * meter.beats / meter.unit;
        bar.signs.endings = endings;
        if (endingsStop)
            endings.clear();
        endingsStop = false;
        part.bars.push_back(std::move(bar));
    }

    void leaveOut(const char* what) { ++part.leftOut[what]; }

    void fail(std::string what) {
        if (!problem)
            problem = Problem{std::move(what), "bar " + bar.number, "correct it in the notation program"};
    }

    RawBar bar;
    std::int64_t divisions = divisionsUntold;
    PartMeter meter;
    PartKey key;
    double bpm = 0.0;
    int transposition = 0;
    Tick cursor = 0;
    Tick lastStart = 0;
    int noteCount = 0;
    std::vector<int> endings;
    bool endingsStop = false;
    std::optional<Problem> problem;
};

/// A number of ticks a quarter that every <divisions> divides.
Result<int> commonDivisions(const std::vector<pugi::xml_node>& measures) {
    std::int64_t common = 1;
    for (pugi::xml_node measure : measures)
        for (pugi::xml_node attributes : measure.children("attributes"))
            for (pugi::xml_node node : attributes.children("divisions")) {
                const auto divisions = wholeNumber(node, maxDivisions);
                if (!divisions || *divisions < 1)
                    return Problem{std::string("divisions of \"") + node.child_value() + "\"",
                                   std::string("bar ") + measure.attribute("number").value(),
                                   "save it again with whole divisions a quarter"};
                common = std::lcm(common, *divisions);
                if (common > maxTicksPerQuarter)
                    return Problem{"its divisions have no common measure that can be counted in",
                                   std::string("bar ") + measure.attribute("number").value(),
                                   "save it again with one number of divisions"};
            }
    return static_cast<int>(common);
}

} // namespace

std::vector<pugi::xml_node> measuresOf(pugi::xml_node root, int part) {
    std::vector<pugi::xml_node> measures;
    if (Name(root.name()) == "score-partwise") {
        int index = 0;
        for (pugi::xml_node node : root.children("part"))
            if (index++ == part)
                for (pugi::xml_node measure : node.children("measure"))
                    measures.push_back(measure);
        return measures;
    }
    for (pugi::xml_node measure : root.children("measure")) {
        int index = 0;
        for (pugi::xml_node node : measure.children("part"))
            if (index++ == part)
                measures.push_back(node);
    }
    return measures;
}

Result<RawPart> readBars(const std::vector<pugi::xml_node>& measures) {
    const Result<int> ticks = commonDivisions(measures);
    if (!ticks)
        return ticks.problem();
    BarReader reader(ticks.value());
    for (pugi::xml_node measure : measures)
        if (const std::optional<Problem> problem = reader.read(measure))
            return *problem;
    return std::move(reader.part);
}

} // namespace valveladder
