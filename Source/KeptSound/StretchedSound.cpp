#include "KeptSound/StretchedSound.h"

#include "Base/Path.h"
#include "Files/SoundFile.h"

#include <algorithm>
#include <cmath>
#include <rubberband/RubberBandStretcher.h>
#include <vector>

namespace valveladder {

namespace {

using RubberBand::RubberBandStretcher;

constexpr std::size_t pieceFrames = 1024;
/// Cutting into running sound would click.
constexpr double fadeInSeconds = 0.002;
constexpr double fadeOutSeconds = 0.010;

RubberBandStretcher::Options stretchOptions() {
    return RubberBandStretcher::OptionProcessRealTime | RubberBandStretcher::OptionEngineFiner |
           RubberBandStretcher::OptionThreadingNever;
}

} // namespace

struct StretchedSound::Inside {
    std::shared_ptr<SoundFile> file;
    PlayedPiece piece;
    double slowness = 1.0;
    double outputRate = 48000.0;
    std::int64_t framesLeft = 0;                    ///< of the file, to be fed
    std::int64_t silenceLeft = 0;                   ///< before the file's first frame, to be fed
    std::int64_t given = 0;                         ///< samples read from here
    std::int64_t total = 0;                         ///< of the whole piece
    std::unique_ptr<RubberBandStretcher> stretcher; ///< nullptr: the file as it is
    bool ended = false;                             ///< all was fed
    std::vector<float> fed;

    [[nodiscard]] double fileRate() const { return file->format().sampleRate; }
    [[nodiscard]] Result<Done> begin();
    [[nodiscard]] std::size_t fromFile(std::span<float> mono);
    [[nodiscard]] bool dropDelay();
    void feed();
    [[nodiscard]] std::size_t pull(std::span<float> mono);
    void shape(std::span<float> mono) const;
};

/// Winds the file to the piece; the stretcher is fed with what lies before it, so that it is in its stride at
/// the piece's first sample.
Result<Done> StretchedSound::Inside::begin() {
    const auto first = static_cast<std::int64_t>(std::llround(piece.fromSeconds * fileRate()));
    const auto last = std::min(static_cast<std::int64_t>(std::llround(piece.toSeconds * fileRate())),
                               file->format().frames);
    if (first < 0 || first >= last)
        return Problem{"there is no sound left from there on", pathText(piece.file),
                       "choose an earlier note"};
    const double ratio = slowness * outputRate / fileRate();
    total = std::llround(static_cast<double>(last - first) * ratio);
    std::int64_t pad = 0;
    if (slowness > 1.0 || std::abs(outputRate - fileRate()) > 0.5) {
        stretcher =
            std::make_unique<RubberBandStretcher>(static_cast<std::size_t>(std::lround(fileRate())), 1,
                                                  stretchOptions(), ratio, fileRate() / outputRate);
        stretcher->setMaxProcessSize(pieceFrames);
        pad = static_cast<std::int64_t>(stretcher->getPreferredStartPad());
    }
    silenceLeft = std::max<std::int64_t>(0, pad - first);
    framesLeft = last - first + pad - silenceLeft;
    if (!file->seek(first - (pad - silenceLeft)))
        return Problem{"the file cannot be wound to the note", pathText(piece.file), "play another take"};
    fed.resize(pieceFrames);
    return Done{};
}

std::size_t StretchedSound::Inside::fromFile(std::span<float> mono) {
    if (silenceLeft > 0) {
        const auto count =
            static_cast<std::size_t>(std::min(silenceLeft, static_cast<std::int64_t>(mono.size())));
        std::fill_n(mono.begin(), count, 0.0F);
        silenceLeft -= static_cast<std::int64_t>(count);
        return count;
    }
    const auto wanted =
        static_cast<std::size_t>(std::min(framesLeft, static_cast<std::int64_t>(mono.size())));
    const std::size_t got = wanted == 0 ? 0 : file->read(mono.first(wanted));
    framesLeft = got < wanted ? 0 : framesLeft - static_cast<std::int64_t>(got);
    return got;
}

void StretchedSound::Inside::feed() {
    const std::size_t got = fromFile(fed);
    ended = got == 0 || (framesLeft == 0 && silenceLeft == 0);
    const float* const channel = fed.data();
    stretcher->process(&channel, got, ended);
}

std::size_t StretchedSound::Inside::pull(std::span<float> mono) {
    while (true) {
        const int ready = stretcher->available();
        if (ready > 0) {
            float* const channel = mono.data();
            return stretcher->retrieve(&channel, std::min(mono.size(), static_cast<std::size_t>(ready)));
        }
        if (ready < 0 || ended)
            return 0;
        feed();
    }
}

bool StretchedSound::Inside::dropDelay() {
    if (!stretcher)
        return true;
    std::vector<float> dropped(pieceFrames);
    std::size_t left = stretcher->getStartDelay();
    while (left > 0) {
        const std::size_t got = pull(std::span(dropped).first(std::min(left, dropped.size())));
        if (got == 0)
            return false;
        left -= got;
    }
    return true;
}

/// Gain and fades; `mono` begins at `given`.
void StretchedSound::Inside::shape(std::span<float> mono) const {
    const double in = fadeInSeconds * outputRate;
    const double out = fadeOutSeconds * outputRate;
    for (std::size_t i = 0; i < mono.size(); ++i) {
        const double from = static_cast<double>(given) + static_cast<double>(i);
        const double to = static_cast<double>(total) - from;
        const double fade = std::clamp(std::min((from + 1.0) / in, to / out), 0.0, 1.0);
        mono[i] *= static_cast<float>(piece.gain * fade);
    }
}

StretchedSound::StretchedSound(std::unique_ptr<Inside> parts) : inside(std::move(parts)) {}
StretchedSound::~StretchedSound() = default;

Result<std::unique_ptr<StretchedSound>> StretchedSound::open(const PlayedPiece& piece, double slowness,
                                                             double outputRate) {
    auto file = SoundFile::open(piece.file);
    if (!file)
        return file.problem();
    auto parts = std::make_unique<Inside>();
    parts->file = std::move(file.value());
    parts->piece = piece;
    parts->slowness = std::clamp(slowness, 1.0, slowest);
    parts->outputRate = outputRate;
    if (auto begun = parts->begin(); !begun)
        return begun.problem();
    if (!parts->dropDelay())
        return Problem{"the sound is too short to be slowed", pathText(piece.file), "choose an earlier note"};
    return std::unique_ptr<StretchedSound>(new StretchedSound(std::move(parts)));
}

std::size_t StretchedSound::read(std::span<float> mono) {
    Inside& parts = *inside;
    const auto left = static_cast<std::size_t>(std::max<std::int64_t>(0, parts.total - parts.given));
    const auto wanted = mono.first(std::min(mono.size(), left));
    if (wanted.empty())
        return 0;
    const std::size_t got = parts.stretcher ? parts.pull(wanted) : parts.fromFile(wanted);
    parts.shape(wanted.first(got));
    parts.given += static_cast<std::int64_t>(got);
    return got;
}

double StretchedSound::seconds() const {
    return inside->piece.fromSeconds +
           static_cast<double>(inside->given) / inside->outputRate / inside->slowness;
}

std::int64_t StretchedSound::length() const {
    return inside->total;
}

} // namespace valveladder
