#include "Tempo/ZoneArchive.h"

#include <cstdint>
#include <memory>
#include <span>
#include <zip.h>

namespace valveladder {

namespace embedded {
extern const std::span<const std::uint8_t> timeZones;
}

namespace {

struct Discard {
    void operator()(zip_t* archive) const { zip_discard(archive); }
    void operator()(zip_file_t* file) const { zip_fclose(file); }
};

using Archive = std::unique_ptr<zip_t, Discard>;

Archive openArchive() {
    zip_error_t ignored; // what is inside the program is sound
    zip_error_init(&ignored);
    const auto bytes = embedded::timeZones;
    zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &ignored);
    Archive archive(source != nullptr ? zip_open_from_source(source, ZIP_RDONLY, &ignored) : nullptr);
    if (!archive && source != nullptr)
        zip_source_free(source);
    zip_error_fini(&ignored);
    return archive;
}

} // namespace

std::optional<std::string> archivedZoneFile(const std::string& name) {
    const Archive archive = openArchive();
    zip_stat_t about;
    zip_stat_init(&about);
    if (!archive || zip_stat(archive.get(), name.c_str(), 0, &about) != 0)
        return std::nullopt;
    const std::unique_ptr<zip_file_t, Discard> file(zip_fopen_index(archive.get(), about.index, 0));
    std::string bytes(static_cast<std::size_t>(about.size), '\0');
    if (!file || zip_fread(file.get(), bytes.data(), bytes.size()) != static_cast<zip_int64_t>(bytes.size()))
        return std::nullopt;
    return bytes;
}

} // namespace valveladder
