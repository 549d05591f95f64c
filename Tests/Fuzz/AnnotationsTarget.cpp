#include "Targets.h"

#include "Files/NoteAnnotations.h"

#include <algorithm>

namespace valveladder {

Complaint fuzzAnnotations(std::span<const std::uint8_t> bytes) {
    const auto read = readAnnotations({reinterpret_cast<const char*>(bytes.data()), bytes.size()});
    if (!read) {
        if (read.problem().where.empty() || read.problem().remedy.empty())
            return "a refusal without place or remedy: " + read.problem().text();
        return std::nullopt;
    }
    if (!std::ranges::is_sorted(read.value(), {}, &AnnotatedNote::onset))
        return "notes out of order";
    for (const AnnotatedNote& note : read.value())
        if (!(note.onset >= 0.0 && note.offset > note.onset && note.midi > 0.0 && note.midi <= 127.0))
            return "a note out of range";
    return std::nullopt;
}

} // namespace valveladder
