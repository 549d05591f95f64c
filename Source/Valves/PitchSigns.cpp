#include "Valves/PitchSigns.h"

#include <algorithm>
#include <array>

namespace valveladder {

namespace {

constexpr const char* sharpSign = "\xe2\x99\xaf";
constexpr const char* flatSign = "\xe2\x99\xad";

bool isDigit(char byte) {
    return byte >= '0' && byte <= '9';
}

/// Whatever the locale; a byte of a letter beyond ASCII is one.
bool isLetter(char byte) {
    return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') ||
           static_cast<unsigned char>(byte) >= 0x80;
}

/// Makes what it stands beside part of a path, an address or an identifier, and no note's name.
bool joins(char byte) {
    return std::string_view("/\\_@#").find(byte) != std::string_view::npos;
}

bool isSyllable(std::string_view word) {
    constexpr std::array<std::string_view, 7> syllables{"do", "re", "mi", "fa", "sol", "la", "si"};
    return std::ranges::find(syllables, word) != syllables.end();
}

/// The sign that a byte stands for; nullptr = none.
const char* signAt(std::string_view text, std::size_t at) {
    if (text[at] != '#' && text[at] != 'b')
        return nullptr;
    std::size_t begin = at;
    while (begin > 0 && isLetter(text[begin - 1]))
        --begin;
    const std::string_view name = text.substr(begin, at - begin);
    const auto byte = [&](std::size_t place) { return place < text.size() ? text[place] : ' '; };
    const char before = begin > 0 ? text[begin - 1] : ' ';
    const char after = byte(at + 1);
    if (isLetter(after) || joins(after) || joins(before) || isDigit(before) ||
        (after == '.' && isLetter(byte(at + 2))))
        return nullptr;
    const bool isLetterName = name.size() == 1 && name[0] >= 'A' && name[0] <= 'G';
    if (text[at] == 'b')
        return isLetterName ? flatSign : nullptr;
    return isLetterName || isSyllable(name) ? sharpSign : nullptr;
}

} // namespace

std::string withPitchSigns(std::string_view text) {
    std::string drawn;
    std::size_t copied = 0;
    for (std::size_t at = 0; at < text.size(); ++at)
        if (const char* sign = signAt(text, at)) {
            drawn += text.substr(copied, at - copied);
            drawn += sign;
            copied = at + 1;
        }
    drawn += text.substr(copied);
    return drawn;
}

} // namespace valveladder
