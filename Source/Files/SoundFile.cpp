#include "Files/SoundFile.h"

#include "Base/Path.h"
#include "Files/FileKinds.h"
#include "Files/OpenSound.h"
#include "Files/SoundWriter.h"

#include <algorithm>
#include <array>
#include <sndfile.h>

namespace valveladder {

namespace {

constexpr double minRate = 1000.0;
constexpr double maxRate = 768000.0;

Problem unreadable(const std::filesystem::path& path, const std::string& what) {
    return {what, pathText(path), "save it again as WAV, AIFF or FLAC"};
}

std::string formatName(int format) {
    SF_FORMAT_INFO info{};
    info.format = format & SF_FORMAT_TYPEMASK;
    const bool known = sf_command(nullptr, SFC_GET_FORMAT_INFO, &info, sizeof info) == 0;
    return known && info.name != nullptr ? info.name : "unknown";
}

} // namespace

struct SoundFile::Handle {
    SNDFILE* file = nullptr;
    Handle() = default;
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;
    ~Handle() {
        if (file != nullptr)
            sf_close(file);
    }
};

SoundFile::SoundFile() : handle(std::make_unique<Handle>()) {}
SoundFile::~SoundFile() = default;

Result<std::shared_ptr<SoundFile>> SoundFile::open(const std::filesystem::path& path) {
    std::error_code error;
    if (!std::filesystem::is_regular_file(path, error))
        return Problem{"there is no such file", pathText(path), "check the path"};
    if (std::filesystem::file_size(path, error) == 0)
        return unreadable(path, "the file is empty");
    std::shared_ptr<SoundFile> sound(new SoundFile);
    SF_INFO info{};
    sound->handle->file = openSound(path, SFM_READ, &info);
    if (sound->handle->file == nullptr)
        return unreadable(path, std::string("this is no sound file that can be read (") +
                                    sf_strerror(nullptr) + ")");
    if (info.channels < 1 || info.channels > maxChannels)
        return unreadable(path, "the file has " + std::to_string(info.channels) + " channels");
    if (info.samplerate < minRate || info.samplerate > maxRate)
        return unreadable(path, "the file has a sample rate of " + std::to_string(info.samplerate) + " Hz");
    if (info.frames <= 0)
        return unreadable(path, "the file holds no sound");
    sound->soundFormat = {static_cast<double>(info.samplerate), info.channels, info.frames,
                          formatName(info.format)};
    return sound;
}

std::size_t SoundFile::read(std::span<float> mono, std::optional<int> channel) {
    const auto channels = static_cast<std::size_t>(soundFormat.channels);
    std::size_t filled = 0;
    while (filled < mono.size()) {
        const std::size_t wanted = std::min(pieceFrames, mono.size() - filled);
        interleaved.resize(wanted * channels);
        const sf_count_t got =
            sf_readf_float(handle->file, interleaved.data(), static_cast<sf_count_t>(wanted));
        if (got <= 0)
            break;
        for (std::size_t i = 0; i < static_cast<std::size_t>(got); ++i) {
            const float* frame = interleaved.data() + i * channels;
            float value = 0.0F;
            if (channel)
                value = frame[static_cast<std::size_t>(std::clamp(*channel, 0, soundFormat.channels - 1))];
            else {
                for (std::size_t c = 0; c < channels; ++c)
                    value += frame[c];
                value /= static_cast<float>(channels);
            }
            mono[filled + i] = value;
        }
        filled += static_cast<std::size_t>(got);
        framesRead += got;
    }
    return filled;
}

bool SoundFile::seek(std::int64_t frame) {
    if (frame < 0 || frame > soundFormat.frames || sf_seek(handle->file, frame, SEEK_SET) != frame)
        return false;
    framesRead = frame;
    return true;
}

std::string SoundFile::comment() const {
    const char* text = sf_get_string(handle->file, SF_STR_COMMENT);
    return text == nullptr ? "" : text;
}

std::string SoundFile::shortfall() const {
    if (framesRead >= soundFormat.frames)
        return {};
    return "the file breaks off after " + std::to_string(framesRead) + " of " +
           std::to_string(soundFormat.frames) + " frames";
}

Result<SoundFormat> readSound(const std::filesystem::path& path, std::optional<int> channel,
                              const std::function<void(std::span<const float>)>& take,
                              const std::function<bool(double)>& progress) {
    auto opened = SoundFile::open(path);
    if (!opened)
        return opened.problem();
    SoundFile& sound = *opened.value();
    const SoundFormat format = sound.format();
    if (channel && (*channel < 0 || *channel >= format.channels))
        return Problem{"there is no channel " + std::to_string(*channel + 1) + ": the file has " +
                           std::to_string(format.channels),
                       pathText(path), "choose another channel, or none to mix them"};
    std::array<float, pieceFrames> piece{};
    std::int64_t done = 0;
    while (const std::size_t got = sound.read(piece, channel)) {
        take(std::span<const float>(piece.data(), got));
        done += static_cast<std::int64_t>(got);
        if (progress &&
            !progress(std::min(1.0, static_cast<double>(done) / static_cast<double>(format.frames))))
            break;
    }
    return format;
}

Result<Done> writeSound(const std::filesystem::path& path, std::span<const float> mono, double sampleRate) {
    const bool flac = endingOf(path) == ".flac";
    auto opened = SoundWriter::open(path, sampleRate, {}, flac ? SoundCoding::flac16 : SoundCoding::wav16);
    if (!opened)
        return opened.problem();
    if (auto written = opened.value()->write(mono); !written)
        return written;
    return opened.value()->close();
}

} // namespace valveladder
