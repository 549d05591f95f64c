#include "Files/SoundWriter.h"

#include "Base/Path.h"
#include "Files/OpenSound.h"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>
#include <sndfile.h>

namespace valveladder {

namespace {

int formatOf(SoundCoding coding) {
    switch (coding) {
    case SoundCoding::wav16:
        return SF_FORMAT_WAV | SF_FORMAT_PCM_16;
    case SoundCoding::flac16:
        return SF_FORMAT_FLAC | SF_FORMAT_PCM_16;
    case SoundCoding::flac24:
        break;
    }
    return SF_FORMAT_FLAC | SF_FORMAT_PCM_24;
}

void putIn(SNDFILE* sound, int kind, const std::string& text) {
    if (!text.empty())
        sf_set_string(sound, kind, text.c_str());
}

} // namespace

struct SoundWriter::Handle {
    SNDFILE* sound = nullptr;
    Handle() = default;
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;
    ~Handle() {
        if (sound != nullptr)
            sf_close(sound);
    }
};

SoundWriter::SoundWriter(std::filesystem::path target)
    : file(std::move(target)), handle(std::make_unique<Handle>()) {}
SoundWriter::~SoundWriter() = default;

Problem SoundWriter::broken() const {
    return {"the sound could not be written to its end", pathText(file), "check the free space"};
}

Result<std::unique_ptr<SoundWriter>> SoundWriter::open(const std::filesystem::path& path, double sampleRate,
                                                       const Words& words, SoundCoding coding) {
    if (!(sampleRate >= 1.0 && sampleRate <= maxSampleRate))
        return Problem{fmt::format("no sound can be written at {:g} Hz", sampleRate), pathText(path),
                       "use a rate of up to 192 kHz"};
    std::unique_ptr<SoundWriter> writer(new SoundWriter(path));
    SF_INFO info{};
    info.channels = 1;
    info.samplerate = static_cast<int>(std::lround(sampleRate));
    info.format = formatOf(coding);
    SNDFILE* sound = openSound(path, SFM_WRITE, &info);
    if (sound == nullptr)
        return Problem{std::string("the sound cannot be written (") + sf_strerror(nullptr) + ")",
                       pathText(path), "check the folder, its rights and the free space"};
    writer->handle->sound = sound;
    sf_command(sound, SFC_SET_CLIPPING, nullptr, SF_TRUE);
    putIn(sound, SF_STR_TITLE, words.title);
    putIn(sound, SF_STR_COMMENT, words.comment);
    return writer;
}

Result<Done> SoundWriter::write(std::span<const float> mono) {
    if (handle->sound == nullptr)
        return broken();
    while (!mono.empty()) {
        const auto piece = mono.first(std::min(pieceFrames, mono.size()));
        cleaned.assign(piece.begin(), piece.end());
        for (float& sample : cleaned)
            if (!std::isfinite(sample))
                sample = 0.0F;
        const auto frames = static_cast<sf_count_t>(cleaned.size());
        if (sf_writef_float(handle->sound, cleaned.data(), frames) != frames ||
            sf_error(handle->sound) != SF_ERR_NO_ERROR)
            return broken();
        mono = mono.subspan(piece.size());
    }
    return Done{};
}

Result<Done> SoundWriter::close() {
    SNDFILE* sound = handle->sound;
    handle->sound = nullptr;
    if (sound == nullptr || sf_close(sound) != 0)
        return broken();
    return Done{};
}

} // namespace valveladder
