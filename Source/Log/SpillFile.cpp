#include "Log/SpillFile.h"

#include "Base/Path.h"
#include "Base/Uuid.h"
#include "Log/SqlProblem.h"
#include "Records/Json.h"
#include "Records/JsonIo.h"

#include <algorithm>
#include <cstdint>

namespace valveladder {

template <typename Io, MaybeConst<DroppedTake> T>
void fields(Io& io, T& dropped) {
    io("id", dropped.id);
}

namespace {

constexpr const char* suffix = ".jsonl";
constexpr const char* droppedFormat = "valve-ladder-dropped-take";
constexpr int formatVersion = 1;

/// FNV-1a, 64 bits (draft-eastlake-fnv, section 5): tells logs of one name apart in the temporary folder.
std::uint64_t hashOf(const std::string& text) {
    std::uint64_t hash = 14695981039346656037U;
    for (const char c : text)
        hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211U;
    return hash;
}

std::filesystem::path absolutePath(const std::filesystem::path& path) {
    std::error_code error;
    const auto absolute = std::filesystem::absolute(path, error);
    return error ? path : absolute.lexically_normal();
}

bool isSpill(const std::filesystem::path& path, const std::string& stem) {
    const std::string name = pathText(path.filename());
    return name.starts_with(stem) && name.ends_with(suffix);
}

} // namespace

std::string spillText(const SpillLine& line) {
    if (const auto* dropped = std::get_if<DroppedTake>(&line))
        return jsonText(documentOf(*dropped, droppedFormat, formatVersion));
    if (const auto* header = std::get_if<TakeHeader>(&line))
        return toJson(*header);
    return toJson(std::get<TakeRecord>(line));
}

Result<SpillLine> spillLineFrom(const std::string& text) {
    const auto take = takeFromJson(text);
    if (take.ok())
        return SpillLine{take.value()};
    if (const auto header = takeHeaderFromJson(text); header.ok())
        return SpillLine{header.value()};
    if (const auto dropped = readDocument<DroppedTake>(text, droppedFormat, formatVersion); dropped.ok())
        return SpillLine{dropped.value()};
    return take.problem();
}

SpillFile::SpillFile(std::filesystem::path logPath)
    : log(absolutePath(logPath)), ownName(stem() + newUuid().substr(0, 8) + suffix) {}

std::string SpillFile::stem() const {
    constexpr const char* digits = "0123456789abcdef";
    std::string hash;
    for (std::uint64_t rest = hashOf(pathText(log)); hash.size() < 16; rest >>= 4U)
        hash += digits[rest & 0x0FU];
    return pathText(log.filename()) + ".waiting-" + hash + "-";
}

std::vector<std::filesystem::path> SpillFile::folders() const {
    std::error_code error;
    std::vector<std::filesystem::path> list{log.parent_path()};
    const auto temporary = std::filesystem::temp_directory_path(error);
    if (!error && temporary != list.front())
        list.push_back(temporary);
    return list;
}

std::filesystem::path SpillFile::path() const {
    if (own)
        return own->path();
    return takenOver.empty() ? log.parent_path() / pathOf(ownName) : takenOver.front().file.path();
}

std::vector<SpillLine> SpillFile::takeOver() {
    std::vector<std::filesystem::path> found;
    for (const auto& folder : folders()) {
        std::error_code error;
        std::filesystem::directory_iterator entry(folder, error);
        for (; !error && entry != std::filesystem::directory_iterator(); entry.increment(error))
            if (isSpill(entry->path(), stem()))
                found.push_back(entry->path());
    }
    std::ranges::sort(found);
    std::vector<SpillLine> lines;
    for (const auto& path : found)
        if (auto file = LockedFile::takeOver(path)) {
            takenOver.push_back({std::move(*file)});
            readLines(takenOver.back(), lines);
        }
    return lines;
}

void SpillFile::readLines(TakenOver& source, std::vector<SpillLine>& lines) {
    const auto content = source.file.content();
    if (!content.ok()) {
        source.keep = true;
        ++unreadableLines;
        return;
    }
    const std::string& text = content.value();
    for (std::size_t begin = 0, end; (end = text.find('\n', begin)) != std::string::npos; begin = end + 1) {
        auto line = spillLineFrom(text.substr(begin, end - begin));
        if (line.ok()) {
            lines.push_back(std::move(line.value()));
        } else {
            source.keep = true;
            ++unreadableLines;
        }
    }
}

Result<Done> SpillFile::append(const SpillLine& line) {
    const std::string text = spillText(line) + "\n";
    Result<Done> done = Problem{};
    if (own) {
        done = own->append(text);
        if (done.ok())
            return done;
    }
    // Elsewhere, then. What the old file holds is still there: it is kept like one that was taken over.
    for (const auto& folder : folders()) {
        const std::filesystem::path place = folder / pathOf(ownName);
        if (own && place == own->path())
            continue;
        auto made = LockedFile::create(place);
        done = made.ok() ? made.value().append(text) : Result<Done>(made.problem());
        if (done.ok()) {
            if (own)
                takenOver.push_back({std::move(*own)});
            own.emplace(std::move(made.value()));
            ownName = stem() + newUuid().substr(0, 8) + suffix; // for the file after this one
            return done;
        }
        if (made.ok())
            made.value().remove();
    }
    return done;
}

void SpillFile::clear() {
    if (own)
        own->remove();
    own.reset();
    for (TakenOver& source : takenOver) {
        if (!source.keep) {
            source.file.remove();
            continue;
        }
        std::filesystem::path kept = source.file.path();
        kept += ".unreadable";
        source.file.renameTo(kept);
    }
    takenOver.clear();
}

} // namespace valveladder
