#include "Console/Printable.h"

namespace valveladder::console {

namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD"; // U+FFFD

/// A character's length in bytes; 0 where the bytes are not UTF-8 (RFC 3629, section 4).
std::size_t lengthOf(std::string_view text) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned char lead = byte(0);
    const std::size_t length = lead < 0x80                    ? 1
                               : lead >= 0xC2 && lead <= 0xDF ? 2
                               : lead >= 0xE0 && lead <= 0xEF ? 3
                               : lead >= 0xF0 && lead <= 0xF4 ? 4
                                                              : 0;
    if (length == 0 || length > text.size())
        return 0;
    for (std::size_t i = 1; i < length; ++i)
        if (byte(i) < 0x80 || byte(i) > 0xBF)
            return 0;
    const bool overlong = (lead == 0xE0 && byte(1) < 0xA0) || (lead == 0xF0 && byte(1) < 0x90);
    const bool surrogate = lead == 0xED && byte(1) > 0x9F;
    const bool tooHigh = lead == 0xF4 && byte(1) > 0x8F;
    return overlong || surrogate || tooHigh ? 0 : length;
}

/// C0, C1 and the characters of Unicode that break lines or set the direction of writing.
bool isControl(std::string_view character) {
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(character[i]); };
    if (character.size() == 1)
        return byte(0) < 0x20 || byte(0) == 0x7F;
    if (character.size() == 2)
        return byte(0) == 0xC2 && byte(1) < 0xA0;
    if (character.size() != 3 || byte(0) != 0xE2)
        return false;
    const bool lineOrDirection = byte(1) == 0x80 && byte(2) >= 0xA8 && byte(2) <= 0xAE; // U+2028 to U+202E
    const bool mark = byte(1) == 0x80 && (byte(2) == 0x8E || byte(2) == 0x8F);          // U+200E, U+200F
    const bool isolate = byte(1) == 0x81 && byte(2) >= 0xA6 && byte(2) <= 0xA9;         // U+2066 to U+2069
    return lineOrDirection || mark || isolate;
}

std::string cleaned(std::string_view text, bool linesStay) {
    std::string result;
    result.reserve(text.size());
    while (!text.empty()) {
        const std::size_t length = lengthOf(text);
        const std::string_view character = text.substr(0, length);
        const char first = text.front();
        if (first == '\n' && linesStay)
            result += first;
        else if (first == '\n' || first == '\t' || first == '\r')
            result += ' ';
        else
            result += length == 0 || isControl(character) ? replacement : character;
        text.remove_prefix(length == 0 ? 1 : length);
    }
    return result;
}

} // namespace

std::string oneLine(std::string_view text) {
    return cleaned(text, false);
}

std::string printable(std::string_view text) {
    return cleaned(text, true);
}

} // namespace valveladder::console
