#include "Support/RealNotes.h"

#include "Files/SoundFile.h"
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
constexpr double leastLength = 0.05;
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
    std::ranges::copy_if(notes, std::back_inserter(some), [&](const RealNote* note) {
        return std::abs(note->midi - midi) <= nearSemitones;
    });
    return some;
}

/// Pitches from which a run finds a note near each of its pitches.
std::vector<int> feetOf(const std::vector<const RealNote*>& notes) {
    std::vector<int> feet;
    for (int foot = notes.front()->midi - nearSemitones; foot + runSpan <= notes.back()->midi + nearSemitones;
         ++foot) {
        bool whole = true;
        for (int midi = foot; midi <= foot + runSpan; ++midi)
            whole = whole && !near(notes, midi).empty();
        if (whole)
            feet.push_back(foot);
    }
    return feet;
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
    std::vector<float> piece(sound.begin(), sound.begin() + static_cast<std::ptrdiff_t>(
                                                                std::min(sound.size(), length + fade)));
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

std::vector<int> dbgSample;//DBG
RenderedTake renderReal(const RealRecipe& recipe) {
    std::mt19937 random(recipe.seed);
    const auto notes = notesOf(recipe.kind, recipe.part);
    const auto feet = feetOf(notes);
    RunShape shape;
    shape.top = shape.foot + runSpan;
    shape.transposition = feet[random() % feet.size()] - shape.foot;
    shape.rhythms = {{1}, {3, 1}, {1, 3}, {1}, {2, 1}, {1, 2}};
    shape.slurred = false;
    PlanStyle style;
    style.articulation = Articulation::detached;
    RenderedTake rendered{chromaticRun(shape, recipe.bpm), {}};
    for (ScoreNote& note : rendered.score.notes)
        note.gate = static_cast<int>(style.gateShare * note.length);
    dbgSample.clear();//DBG
    const PlanFaults faults{6.0, 0, 0, 0, 0};
    SoundTake& take = rendered.take;
    take.truth = planTake(rendered.score, recipe.bpm, style, faults, recipe.seed);
    take.rate = rate;
    take.samples.assign(static_cast<std::size_t>(take.truth.length * rate), 0.0F);
    for (TrueNote& note : take.truth.notes) {
        const double length = std::max(leastLength, note.offset - note.onset);
        const auto choice = near(notes, note.midi);
        const RealNote& played = *choice[random() % choice.size()];
        dbgSample.push_back(played.midi);//DBG
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
