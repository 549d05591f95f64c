#include "Targets.h"

#include "Files/SoundFile.h"
#include "Listening/SoundHearing.h"
#include "Listening/SoundListener.h"

#include <array>
#include <filesystem>
#include <fstream>
#include <unistd.h>

namespace valveladder {

namespace {

/// A damaged header may promise any length: no more than this is read.
constexpr std::size_t mostFrames = 20000;

Complaint listenTo(SoundFile& sound) {
    SoundSettings settings;
    settings.sampleRate = sound.format().sampleRate;
    if (!checked(settings))
        return std::nullopt;
    SoundHearing hearing(settings.sampleRate, 50.0, 70.0);
    std::vector<HeardNote> notes;
    std::array<float, 512> piece{};
    std::size_t frames = 0;
    while (frames < mostFrames) {
        const std::size_t got = sound.read(piece);
        if (got == 0)
            break;
        frames += got;
        hearing.push(std::span(piece).first(got), notes);
    }
    if (static_cast<std::int64_t>(frames) > sound.format().frames)
        return "more frames than the header promised";
    hearing.finish(notes);
    const double end = static_cast<double>(frames) / settings.sampleRate + 0.2;
    for (const HeardNote& note : notes)
        if (!(note.onset >= -0.2 && note.offset >= note.onset && note.offset <= end))
            return "a note outside the sound";
    return std::nullopt;
}

} // namespace

Complaint fuzzSound(std::span<const std::uint8_t> bytes) {
    const auto path =
        std::filesystem::temp_directory_path() / ("valve-ladder-fuzz-" + std::to_string(getpid()));
    std::ofstream(path, std::ios::binary)
        .write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
    auto opened = SoundFile::open(path);
    Complaint complaint;
    if (opened)
        complaint = listenTo(*opened.value());
    else if (opened.problem().where.empty() || opened.problem().remedy.empty())
        complaint = "a refusal without place or remedy: " + opened.problem().text();
    opened = Problem{}; // closes the file
    std::filesystem::remove(path);
    return complaint;
}

} // namespace valveladder
