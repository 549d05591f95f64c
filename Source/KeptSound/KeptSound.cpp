#include "KeptSound/KeptSound.h"

#include "Base/Path.h"
#include "Words/SessionWords.h"

#include <algorithm>
#include <date/date.h>
#include <fmt/format.h>
#include <locale>
#include <utility>

namespace valveladder {

namespace {

constexpr std::string_view nameStart = "take-";
constexpr std::string_view nameEnd = ".flac";
/// take-20260301T173000Z-0b6f5a52.flac
constexpr std::size_t nameLength = 35;
constexpr std::size_t idChars = 8;
constexpr std::uint64_t bytesInMb = 1'000'000;
/// Room is looked for this much ahead.
constexpr double grantSeconds = 5.0;
constexpr std::uint64_t bytesASample = 3;
constexpr std::uint64_t headerBytes = 16384;

bool ours(const std::string& name) {
    return name.size() == nameLength && name.starts_with(nameStart) && name.ends_with(nameEnd);
}

std::string mb(std::uint64_t bytes) {
    return fmt::format("{:.0f} MB", static_cast<double>(bytes) / static_cast<double>(bytesInMb));
}

/// Whether somebody is writing it.
bool isHeld(const std::filesystem::path& path) {
    std::error_code error;
    return !LockedFile::takeOver(path) && std::filesystem::exists(path, error);
}

bool removeUnlessHeld(const std::filesystem::path& path) {
    auto file = LockedFile::takeOver(path);
    return file && file->remove();
}

} // namespace

KeptSoundFolder::KeptSoundFolder(const std::filesystem::path& logPath)
    : folder(logPath.parent_path() / "sound") {}

std::string KeptSoundFolder::fileName(std::int64_t startedUtcMs, const std::string& takeId) {
    const date::sys_time<std::chrono::milliseconds> time{std::chrono::milliseconds(startedUtcMs)};
    const std::string when =
        date::format(std::locale::classic(), "%Y%m%dT%H%M%SZ", date::floor<std::chrono::seconds>(time));
    return fmt::format("{}{}-{:0>8.8}{}", nameStart, when, takeId, nameEnd);
}

std::vector<KeptSoundFolder::Entry> KeptSoundFolder::entries() const {
    std::vector<Entry> found;
    std::error_code trouble;
    for (std::filesystem::directory_iterator at(folder, trouble), end; !trouble && at != end;
         at.increment(trouble)) {
        std::error_code sizeTrouble;
        Entry entry{pathText(at->path().filename()), at->file_size(sizeTrouble)};
        if (ours(entry.name) && !sizeTrouble)
            found.push_back(std::move(entry));
    }
    std::ranges::sort(found, {}, &Entry::name);
    return found;
}

std::uint64_t KeptSoundFolder::bytes() const {
    std::uint64_t sum = 0;
    for (const Entry& entry : entries())
        sum += entry.bytes;
    return sum;
}

Result<Done> KeptSoundFolder::makeRoom(const KeepSound& settings, std::uint64_t wanted,
                                       const std::string& spared, std::vector<std::string>& removed) const {
    std::error_code trouble;
    const auto space = std::filesystem::space(folder, trouble);
    if (!trouble && space.available < wanted + bytesLeftFree)
        return Problem{"the disk has only " + mb(space.available) + " left", pathText(folder),
                       "make room on the disk"};
    const std::uint64_t limit = static_cast<std::uint64_t>(settings.limitMb) * bytesInMb;
    const std::vector<Entry> kept = entries();
    std::uint64_t used = 0;
    for (const Entry& entry : kept)
        used += entry.bytes + (entry.name != spared && isHeld(folder / pathOf(entry.name)) ? wanted : 0);
    for (const Entry& entry : kept) {
        if (used + wanted <= limit || !settings.dropOldest)
            break;
        if (entry.name == spared || !removeUnlessHeld(folder / pathOf(entry.name)))
            continue;
        used -= entry.bytes;
        removed.push_back(entry.name);
    }
    if (used + wanted <= limit)
        return Done{};
    return Problem{"kept sound has reached its limit of " + std::to_string(settings.limitMb) + " MB",
                   pathText(folder), "raise the limit, remove files, or let the oldest make room"};
}

KeptSound::KeptSound(const KeptSoundFolder& where, const KeepSound& keep, const Take& take)
    : folder(where), settings(keep), name(KeptSoundFolder::fileName(take.startedUtcMs, take.id)),
      rate(take.sampleRate) {
    open(take);
}

void KeptSound::open(const Take& take) {
    std::error_code trouble;
    std::filesystem::create_directories(folder.path(), trouble);
    if (trouble)
        return fail({"the folder for kept sound cannot be made (" + trouble.message() + ")",
                     pathText(folder.path()), "check the rights of the folder that holds it"});
    if (!roomForMore())
        return;
    auto made = LockedFile::create(folder.path() / pathOf(name), LockedFile::Others::mayOpen);
    if (!made)
        return fail(made.problem());
    held.emplace(std::move(made.value()));
    auto opened =
        SoundWriter::open(folder.path() / pathOf(name), rate, {"Valve Ladder take " + take.id, take.comment});
    if (!opened) {
        fail(opened.problem());
        return discard();
    }
    writer = std::move(opened.value());
}

KeptSound::~KeptSound() {
    discard();
}

void KeptSound::fail(const Problem& problem) {
    told.push_back({words::soundNotKept(static_cast<double>(written) / rate, problem), true});
}

bool KeptSound::roomForMore() {
    const auto samples = static_cast<std::uint64_t>(grantSeconds * rate);
    std::vector<std::string> removed;
    const auto room = folder.makeRoom(settings, samples * bytesASample + headerBytes, name, removed);
    for (const std::string& old : removed)
        told.push_back({words::oldestSoundRemoved(old), false});
    if (!room) {
        fail(room.problem());
        return false;
    }
    granted = written + samples;
    return true;
}

void KeptSound::write(std::span<const float> mono) {
    while (writer && !mono.empty()) {
        if (written == granted && !roomForMore()) {
            if (auto closed = writer->close(); !closed)
                return discard();
            writer.reset();
            return;
        }
        const auto piece = mono.first(std::min<std::size_t>(mono.size(), granted - written));
        if (auto done = writer->write(piece); !done) {
            written = 0; // a file that broke off is not to be trusted
            fail(done.problem());
            discard();
            return;
        }
        written += piece.size();
        mono = mono.subspan(piece.size());
    }
}

std::string KeptSound::finish() {
    if (writer) {
        auto closed = writer->close();
        writer.reset();
        if (!closed) {
            written = 0;
            fail(closed.problem());
        }
    }
    if (written == 0) {
        discard();
        return "";
    }
    held.reset();
    return pathText(folder.path().filename()) + "/" + name;
}

void KeptSound::discard() {
    writer.reset();
    written = 0;
    if (held)
        held->remove(); // what cannot be removed stays, and counts
    held.reset();
}

std::vector<KeptSound::Word> KeptSound::news() {
    return std::exchange(told, {});
}

} // namespace valveladder
