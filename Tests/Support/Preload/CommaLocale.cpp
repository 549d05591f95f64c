// Loaded before a program (LD_PRELOAD): gives its process the locale of the environment, as a host does that
// calls setlocale(LC_ALL, "") and sets C++'s global locale.
#include <clocale>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <locale>

namespace {

constexpr int noCommaLocale = 99;

[[gnu::constructor]] void setLocale() {
    try {
        std::locale::global(std::locale("")); // sets C's as well
    } catch (const std::exception&) {
    }
    if (std::strcmp(std::localeconv()->decimal_point, ",") == 0)
        return;
    std::fputs("the locale of this test was not set\n", stderr);
    std::_Exit(noCommaLocale);
}

} // namespace
