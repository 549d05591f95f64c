#include "Base/Sentence.h"

#include <array>
#include <fmt/format.h>

namespace valveladder {

std::string sentence(std::string text) {
    if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
        text[0] = static_cast<char>(text[0] - 'a' + 'A');
    return text;
}

std::string counted(long count, const std::string& what) {
    return fmt::format("{} {}{}", count, what, count == 1 ? "" : "s");
}

std::string numberInWords(int number) {
    constexpr std::array words{"one",   "two",   "three", "four", "five",   "six",
                               "seven", "eight", "nine",  "ten",  "eleven", "twelve"};
    return number >= 1 && number <= static_cast<int>(words.size())
               ? words.at(static_cast<std::size_t>(number - 1))
               : fmt::format("{}", number);
}

std::string timesInWords(int times) {
    return times == 1 ? "once" : times == 2 ? "twice" : numberInWords(times) + " times";
}

std::string joined(const std::vector<std::string>& words, const char* between) {
    std::string text;
    for (const std::string& word : words)
        text += (text.empty() ? "" : between) + word;
    return text;
}

std::string joinedWithAnd(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i)
        text += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
    return text;
}

} // namespace valveladder
