#include "Ladder/PitchNames.h"

#include <cctype>

namespace valveladder {

namespace {

bool isDigit(const std::string& text, std::size_t at) {
    return at < text.size() && std::isdigit(static_cast<unsigned char>(text[at])) != 0;
}

bool isLetterOrDigit(char letter) {
    return std::isalnum(static_cast<unsigned char>(letter)) != 0;
}

/// How many letters from `at` on name a pitch: "F#3", "C-1"; 0 = none.
std::size_t pitchLength(const std::string& text, std::size_t at) {
    if (text[at] < 'A' || text[at] > 'G' || (at > 0 && isLetterOrDigit(text[at - 1])))
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
    return end < text.size() && isLetterOrDigit(text[end]) ? 0 : end - at;
}

} // namespace

PitchNames pitchNames(std::optional<Spelling> chosen, bool sounding, const Instrument& instrument) {
    const Spelling own = sounding ? soundingSpelling(instrument) : writtenSpelling(instrument);
    return {chosen.value_or(own), sounding, instrument.transposition};
}

PitchNames pitchNames(std::optional<Spelling> chosen, bool sounding, const Drill& drill,
                      const Instrument& instrument) {
    if (!chosen && !sounding)
        chosen = writtenSpelling(drill, instrument);
    return pitchNames(chosen, sounding, instrument);
}

std::string withPitchNames(const std::string& text, const PitchNames& names) {
    std::string result;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t length = pitchLength(text, at);
        const auto note = length > 0 ? parsePitch(text.substr(at, length)) : std::nullopt;
        if (!note) {
            result += text[at++];
            continue;
        }
        result += pitchName(*note + (names.sounding ? names.transposition : 0), names.spelling);
        at += length;
    }
    return result;
}

std::vector<std::string> withPitchNames(std::vector<std::string> texts, const PitchNames& names) {
    for (std::string& text : texts)
        text = withPitchNames(text, names);
    return texts;
}

} // namespace valveladder
