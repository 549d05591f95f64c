#include "Ladder/RungName.h"

#include <cctype>

namespace valveladder {

namespace {

bool isDigit(const std::string& text, std::size_t at) {
    return at < text.size() && std::isdigit(static_cast<unsigned char>(text[at])) != 0;
}

/// How many letters from `at` on name a pitch: "F#3", "C-1"; 0 = none.
std::size_t pitchLength(const std::string& text, std::size_t at) {
    if (text[at] < 'A' || text[at] > 'G')
        return 0;
    std::size_t end = at + 1;
    while (end < text.size() && (text[end] == '#' || text[end] == 'b'))
        ++end;
    if (end < text.size() && text[end] == '-')
        ++end;
    if (!isDigit(text, end))
        return 0;
    while (isDigit(text, end))
        ++end;
    return end - at;
}

} // namespace

PitchNames pitchNames(std::optional<Spelling> chosen, bool sounding, const Instrument& instrument) {
    const Spelling own = sounding ? soundingSpelling(instrument) : writtenSpelling(instrument);
    return {chosen.value_or(own), sounding};
}

std::string rungName(const std::string& label, const PitchNames& names, int transposition) {
    std::string result;
    for (std::size_t at = 0; at < label.size();) {
        const std::size_t length = pitchLength(label, at);
        const auto note = length > 0 ? parsePitch(label.substr(at, length)) : std::nullopt;
        if (!note) {
            result += label[at++];
            continue;
        }
        result += pitchName(*note + (names.sounding ? transposition : 0), names.spelling);
        at += length;
    }
    return result;
}

} // namespace valveladder
