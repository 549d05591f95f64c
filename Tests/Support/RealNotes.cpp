#include "Support/RealNotes.h"

#include "Files/SoundFile.h"
#include "Listening/CycleCorrelation.h"
#include "Listening/Envelope.h"
#include "Support/SoundRoom.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <stdexcept>
#include <tuple>

namespace valveladder::testing {

namespace {

namespace fs = std::filesystem;

constexpr double rate = 44100.0;
constexpr double fadeSeconds = 0.03;
/// A note speaks until it repeats so well with its own pitch, strayed by half a semitone at most.
constexpr double settledCorrelation = 0.55;
constexpr double offPitchShare = 0.03;
constexpr double longestSpeaking = 0.3;
/// It is laid only where it speaks within this share of its length: sooner than it speaks nobody could end
/// it.
constexpr double speakingShare = 0.5;
/// A note is moved by no more than this: moving stretches its attack.
constexpr int nearSemitones = 3;
/// From the foot of a run to its top, semitones.
constexpr int runSpan = 6;

fs::path folderOf(RealKind kind) {
    constexpr const char* names[] = {"trumpet", "trombone", "french-horn", "tuba"};
    return fs::path(VALVE_LADDER_BINARY_DIR) / "outside" / "node_modules" /
           (std::string("tonejs-instrument-") + names[static_cast<std::size_t>(kind)] + "-mp3");
}

/// "Fs3" is F sharp 3; A4 = 69.
int midiOfName(const std::string& stem) {
    constexpr int aboveC[] = {9, 11, 0, 2, 4, 5, 7};
    const int octave = stem.back() - '0';
    return 12 * (octave + 1) + aboveC[stem.front() - 'A'] + (stem.find('s') != stem.npos ? 1 : 0);
}

double hzOf(double midi) {
    return 440.0 * std::exp2((midi - 69.0) / 12.0);
}

/// How well it repeats about `seconds`, two periods of the named pitch compared.
double repeats(const RealNote& note, double seconds, double octaves = 0.0) {
    const double period = note.rate / hzOf(note.midi);
    return cycleCorrelation(note.samples, seconds * note.rate, period * std::exp2(-octaves), 2.0 * period,
                            offPitchShare);
}

/// One file is named an octave below what it sounds.
void nameByOctaveHeard(RealNote& note) {
    constexpr double steadyFrom = 0.3;
    double higher = 0.0;
    constexpr int places = 10;
    for (int i = 0; i < places; ++i)
        higher += repeats(note, steadyFrom + 0.03 * i, 1.0) / places;
    if (higher > 0.9)
        note.midi += 12;
}

double speakingTime(const RealNote& note) {
    double last = 0.0;
    for (double t = 0.0; t < longestSpeaking; t += 0.005)
        if (repeats(note, t) < settledCorrelation)
            last = t;
    return last;
}

RealNote readNote(const fs::path& path) {
    RealNote note;
    note.midi = midiOfName(path.stem().string());
    const auto format = readSound(path, std::nullopt, [&](std::span<const float> piece) {
        note.samples.insert(note.samples.end(), piece.begin(), piece.end());
    });
    if (!format.ok())
        throw std::runtime_error(format.problem().text());
    note.rate = format.value().sampleRate;
    const Envelope envelope(note.samples);
    const double window = note.rate * std::max(0.005, 1.0 / hzOf(note.midi));
    const double heard = 0.01 * envelope.maxRms(0.0, envelope.size(), window, 0.25 * window);
    double first = 0.0;
    while (first < envelope.size() && envelope.rms(first, window) < heard)
        first += 1.0;
    note.samples.erase(note.samples.begin(), note.samples.begin() + static_cast<std::ptrdiff_t>(first));
    nameByOctaveHeard(note);
    note.speaks = speakingTime(note);
    return note;
}

/// Read at `speed` times the speed, `count` samples, by a windowed sinc below the lower of the two limits.
std::vector<float> resampled(const std::vector<float>& sound, double speed, std::size_t count) {
    constexpr int reach = 24;
    const double cut = std::min(1.0, 1.0 / speed);
    std::vector<float> out(count, 0.0F);
    for (std::size_t i = 0; i < count; ++i) {
        const double at = static_cast<double>(i) * speed;
        const auto middle = static_cast<std::ptrdiff_t>(at);
        double sum = 0.0;
        for (std::ptrdiff_t k = middle - reach + 1; k <= middle + reach; ++k) {
            if (k < 0 || k >= static_cast<std::ptrdiff_t>(sound.size()))
                continue;
            const double away = at - static_cast<double>(k);
            const double x = std::numbers::pi * away * cut;
            const double sinc = std::abs(x) < 1e-9 ? 1.0 : std::sin(x) / x;
            const double taper = std::cos(0.5 * std::numbers::pi * away / reach);
            sum += cut * sinc * taper * taper * static_cast<double>(sound[static_cast<std::size_t>(k)]);
        }
        out[i] = static_cast<float>(sum);
    }
    return out;
}

std::vector<const RealNote*> notesOf(RealKind kind, Part part) {
    const auto& all = realNotes(kind);
    std::vector<const RealNote*> some;
    for (std::size_t i = part == Part::tuning ? 0 : 1; i < all.size(); i += 2)
        some.push_back(&all[i]);
    return some;
}

std::vector<const RealNote*> near(const std::vector<const RealNote*>& notes, int midi) {
    std::vector<const RealNote*> some;
    std::ranges::copy_if(notes, std::back_inserter(some),
                         [&](const RealNote* note) { return std::abs(note->midi - midi) <= nearSemitones; });
    return some;
}

double speaksAt(const RealNote& note, int midi) {
    return note.speaks * std::exp2((note.midi - midi) / 12.0);
}

/// One of those near that speak in time, or the one that speaks first.
const RealNote& chosen(std::vector<const RealNote*> some, int midi, double length, std::mt19937& random) {
    const auto speaks = [&](const RealNote* note) { return speaksAt(*note, midi); };
    const RealNote* first = *std::ranges::min_element(some, {}, speaks);
    std::erase_if(some, [&](const RealNote* note) { return speaks(note) > speakingShare * length; });
    return some.empty() ? *first : *some[random() % some.size()];
}

/// A run's pitch to start from, and the shortest note that can be laid at each of its pitches, seconds.
struct Foot {
    int midi;
    double shortest;
};

std::vector<Foot> feetOf(const std::vector<const RealNote*>& notes) {
    std::vector<Foot> feet;
    for (int foot = notes.front()->midi - nearSemitones; foot + runSpan <= notes.back()->midi + nearSemitones;
         ++foot) {
        double shortest = 0.0;
        bool whole = true;
        for (int midi = foot; midi <= foot + runSpan && whole; ++midi) {
            const auto some = near(notes, midi);
            whole = !some.empty();
            double soonest = longestSpeaking;
            for (const RealNote* note : some)
                soonest = std::min(soonest, speaksAt(*note, midi));
            shortest = std::max(shortest, soonest / speakingShare);
        }
        if (whole)
            feet.push_back({foot, shortest});
    }
    return feet;
}

/// A foot on which even eighths speak; where there is none, the one on which they nearly do.
Foot chosenFoot(std::vector<Foot> feet, double eighth, std::mt19937& random) {
    const Foot easiest = *std::ranges::min_element(feet, {}, &Foot::shortest);
    std::erase_if(feet, [&](const Foot& foot) { return foot.shortest > eighth; });
    return feet.empty() ? easiest : feet[random() % feet.size()];
}

/// Six of those whose shortest note can still speak.
std::vector<std::vector<int>> rhythmsFor(double shortest, double eighth) {
    std::vector<std::vector<int>> some{{1}};
    for (const std::vector<int>& rhythm : {std::vector{3, 1}, {1, 3}, {2, 1}, {1, 2}})
        if (2.0 * eighth / (rhythm[0] + rhythm[1]) >= shortest)
            some.push_back(rhythm);
    for (std::size_t i = 0; some.size() < 6; ++i)
        some.push_back(some[i]);
    return some;
}

/// The first second and a half of a note at another pitch.
const std::vector<float>& transposed(RealKind kind, const RealNote& note, int midi) {
    static std::map<std::tuple<RealKind, int, int>, std::vector<float>> known;
    auto& sound = known[{kind, note.midi, midi}];
    if (sound.empty())
        sound = resampled(note.samples, note.rate / rate * std::exp2((midi - note.midi) / 12.0),
                          static_cast<std::size_t>(1.5 * rate));
    return sound;
}

std::vector<float> cut(const std::vector<float>& sound, double seconds) {
    const auto length = static_cast<std::size_t>(seconds * rate);
    const auto fade = static_cast<std::size_t>(fadeSeconds * rate);
    std::vector<float> piece(
        sound.begin(), sound.begin() + static_cast<std::ptrdiff_t>(std::min(sound.size(), length + fade)));
    for (std::size_t i = length; i < piece.size(); ++i) {
        const double share = static_cast<double>(i - length) / static_cast<double>(fade);
        piece[i] *= static_cast<float>(0.5 + 0.5 * std::cos(std::numbers::pi * share));
    }
    return piece;
}

} // namespace

const char* nameOf(RealKind kind) {
    constexpr const char* names[] = {"real trumpet", "real trombone", "real horn", "real tuba"};
    return names[static_cast<std::size_t>(kind)];
}

bool realNotesInstalled() {
    return std::ranges::all_of(realKinds, [](RealKind kind) { return fs::is_directory(folderOf(kind)); });
}

const std::vector<RealNote>& realNotes(RealKind kind) {
    static std::map<RealKind, std::vector<RealNote>> known;
    auto& notes = known[kind];
    if (notes.empty()) {
        for (const auto& entry : fs::directory_iterator(folderOf(kind)))
            if (entry.path().extension() == ".mp3")
                notes.push_back(readNote(entry.path()));
        std::ranges::sort(notes, {}, &RealNote::midi);
    }
    return notes;
}

std::string RealRecipe::name() const {
    return std::string(nameOf(kind)) + " " + std::to_string(static_cast<int>(bpm)) + " seed " +
           std::to_string(seed);
}

std::vector<RealRecipe> realRecipes(Part part, int size) {
    constexpr double tempos[] = {54.0, 66.0, 80.0, 98.0, 120.0, 144.0};
    std::vector<RealRecipe> all;
    std::uint32_t seed = part == Part::tuning ? 71000 : 81000;
    std::size_t turn = 0;
    for (const RealKind kind : realKinds)
        for (int i = 0; i < size; ++i)
            all.push_back({kind, part, tempos[turn++ % std::size(tempos)], ++seed});
    return all;
}

RenderedTake renderReal(const RealRecipe& recipe) {
    std::mt19937 random(recipe.seed);
    const auto notes = notesOf(recipe.kind, recipe.part);
    PlanStyle style;
    style.articulation = Articulation::detached;
    const double eighth = 30.0 / recipe.bpm * style.gateShare;
    const Foot foot = chosenFoot(feetOf(notes), eighth, random);
    RunShape shape;
    shape.top = shape.foot + runSpan;
    shape.transposition = foot.midi - shape.foot;
    shape.rhythms = rhythmsFor(foot.shortest, eighth);
    shape.slurred = false;
    RenderedTake rendered{chromaticRun(shape, recipe.bpm), {}};
    for (ScoreNote& note : rendered.score.notes)
        note.gate = static_cast<int>(style.gateShare * note.length);
    const PlanFaults faults{6.0, 0, 0, 0, 0};
    SoundTake& take = rendered.take;
    take.truth = planTake(rendered.score, recipe.bpm, style, faults, recipe.seed);
    take.rate = rate;
    take.samples.assign(static_cast<std::size_t>(take.truth.length * rate), 0.0F);
    for (TrueNote& note : take.truth.notes) {
        const double length = note.offset - note.onset;
        const RealNote& played = chosen(near(notes, note.midi), note.midi, length, random);
        const auto& whole = transposed(recipe.kind, played, note.midi);
        const std::vector<float> sound = cut(whole, length);
        const auto from = static_cast<std::size_t>(note.onset * rate);
        for (std::size_t i = 0; i < sound.size() && from + i < take.samples.size(); ++i)
            take.samples[from + i] += sound[i];
        note.onset += audibleOnset(sound, rate, 0.0, length, hzOf(note.midi));
    }
    addNoise(take, -66.0, recipe.seed);
    return rendered;
}

} // namespace valveladder::testing
