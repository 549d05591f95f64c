#include "Files/MxlArchive.h"

#include <algorithm>
#include <array>
#include <cstring>
#include <memory>
#include <pugixml.hpp>
#include <string_view>
#include <zip.h>

namespace valveladder {

namespace {

constexpr const char* containerName = "META-INF/container.xml";
constexpr std::size_t pieceSize = 65536;

struct Discard {
    void operator()(zip_t* archive) const { zip_discard(archive); }
    void operator()(zip_file_t* file) const { zip_fclose(file); }
    void operator()(zip_source_t* source) const { zip_source_free(source); }
};
using Archive = std::unique_ptr<zip_t, Discard>;
using ArchiveFile = std::unique_ptr<zip_file_t, Discard>;
using ArchiveSource = std::unique_ptr<zip_source_t, Discard>;

Problem refused(std::string what) {
    return {std::move(what), "its zip archive", "export it again as .mxl, or uncompressed as .musicxml"};
}

Problem broken(const std::string& fault) {
    return refused("the compressed file is damaged: " + fault);
}

Archive opened(std::span<const std::uint8_t> bytes) {
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
    zip_t* archive = source ? zip_open_from_source(source, ZIP_RDONLY, &error) : nullptr;
    if (source && !archive)
        zip_source_free(source);
    zip_error_fini(&error);
    return Archive(archive);
}

/// One entry, at most `limit` bytes of it.
Result<std::vector<std::uint8_t>> unpacked(zip_t* archive, zip_uint64_t index, std::size_t limit) {
    const ArchiveFile file(zip_fopen_index(archive, index, 0));
    if (!file)
        return refused("a file in it cannot be opened: it may be encrypted, or compressed in an unknown way");
    std::vector<std::uint8_t> bytes;
    std::array<std::uint8_t, pieceSize> piece;
    while (true) {
        const zip_int64_t count = zip_fread(file.get(), piece.data(), piece.size());
        if (count < 0)
            return broken("a file in it cannot be unpacked");
        if (count == 0)
            return bytes;
        if (bytes.size() + static_cast<std::size_t>(count) > limit)
            return refused("it unpacks to more than " + std::to_string(maxMusicXmlBytes) + " bytes");
        bytes.insert(bytes.end(), piece.begin(), piece.begin() + count);
    }
}

/// The first root file that the container names; later ones are other renderings, as PDF.
std::string rootFile(const MxlArchive& archive) {
    for (const MxlArchive::Entry& entry : archive.entries) {
        if (entry.name != containerName)
            continue;
        pugi::xml_document document;
        if (!document.load_buffer(entry.bytes.data(), entry.bytes.size()))
            return "";
        return document.child("container")
            .child("rootfiles")
            .child("rootfile")
            .attribute("full-path")
            .value();
    }
    return "";
}

} // namespace

bool looksZipped(std::span<const std::uint8_t> bytes) {
    return bytes.size() >= 4 && std::memcmp(bytes.data(), "PK\3\4", 4) == 0;
}

Result<MxlArchive> readMxl(std::span<const std::uint8_t> bytes) {
    const Archive zip = opened(bytes);
    if (!zip)
        return broken("it is not whole");
    const zip_int64_t count = zip_get_num_entries(zip.get(), 0);
    if (count > maxArchiveFiles)
        return refused("it holds " + std::to_string(count) + " files, more than the " +
                       std::to_string(maxArchiveFiles) + " that are unpacked");
    MxlArchive archive;
    std::size_t total = 0;
    for (zip_uint64_t i = 0; i < static_cast<zip_uint64_t>(count); ++i) {
        const char* name = zip_get_name(zip.get(), i, ZIP_FL_ENC_GUESS);
        Result<std::vector<std::uint8_t>> entry = unpacked(zip.get(), i, maxMusicXmlBytes - total);
        if (!entry)
            return entry.problem();
        total += entry.value().size();
        archive.entries.push_back({name ? name : "", std::move(entry.value())});
    }
    const std::string root = rootFile(archive);
    const auto score = std::find_if(archive.entries.begin(), archive.entries.end(),
                                    [&](const MxlArchive::Entry& entry) { return entry.name == root; });
    if (root.empty() || score == archive.entries.end())
        return refused("it is compressed, and no score in it is named by META-INF/container.xml");
    archive.score = static_cast<std::size_t>(score - archive.entries.begin());
    return archive;
}

MxlArchive mxlOf(std::vector<std::uint8_t> score) {
    // MusicXML 4.0, "Compressed .MXL Files": the media type comes first, then the container.
    static constexpr std::string_view mediaType = "application/vnd.recordare.musicxml";
    static constexpr std::string_view container =
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<container><rootfiles><rootfile "
        "full-path=\"score.musicxml\" "
        "media-type=\"application/vnd.recordare.musicxml+xml\"/></rootfiles></container>\n";
    return {{{"mimetype", {mediaType.begin(), mediaType.end()}},
             {containerName, {container.begin(), container.end()}},
             {"score.musicxml", std::move(score)}},
            2};
}

Result<std::vector<std::uint8_t>> writeMxl(const MxlArchive& archive) {
    const Problem failed{"the compressed file cannot be put together", "memory", "save it uncompressed"};
    zip_error_t error;
    zip_error_init(&error);
    const ArchiveSource target(zip_source_buffer_create(nullptr, 0, 0, &error));
    if (!target)
        return failed;
    zip_source_keep(target.get());
    Archive zip(zip_open_from_source(target.get(), ZIP_TRUNCATE, &error));
    if (!zip)
        return failed;
    for (const MxlArchive::Entry& entry : archive.entries) {
        zip_source_t* source = zip_source_buffer(zip.get(), entry.bytes.data(), entry.bytes.size(), 0);
        if (!source || zip_file_add(zip.get(), entry.name.c_str(), source, ZIP_FL_ENC_UTF_8) < 0) {
            zip_source_free(source);
            return failed;
        }
    }
    if (zip_close(zip.get()) < 0)
        return failed;
    (void)zip.release();
    zip_stat_t stat;
    if (zip_source_stat(target.get(), &stat) < 0 || zip_source_open(target.get()) < 0)
        return failed;
    std::vector<std::uint8_t> bytes(stat.size);
    const zip_int64_t read = zip_source_read(target.get(), bytes.data(), bytes.size());
    zip_source_close(target.get());
    if (read != static_cast<zip_int64_t>(bytes.size()))
        return failed;
    return bytes;
}

} // namespace valveladder
