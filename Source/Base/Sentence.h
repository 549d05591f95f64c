#pragma once

#include <string>
#include <vector>

namespace valveladder {

/// The text as a sentence of its own: with a capital letter, where it begins with one of a to z.
[[nodiscard]] std::string sentence(std::string text);

/// "1 change", "3 changes".
[[nodiscard]] std::string counted(long count, const std::string& what);

/// "one", "two" ... "twelve", then in figures.
[[nodiscard]] std::string numberInWords(int number);

/// "once", "twice", "three times" ... "twelve times", then in figures.
[[nodiscard]] std::string timesInWords(int times);

/// "a, b, c".
[[nodiscard]] std::string joined(const std::vector<std::string>& words, const char* between = ", ");

/// "a, b and c".
[[nodiscard]] std::string joinedWithAnd(const std::vector<std::string>& words);

} // namespace valveladder
