#pragma once

#include <gtest/gtest.h>

#include <clocale>
#include <cstdlib>
#include <cstring>
#include <locale>
#include <string>

namespace valveladder::testing {

/// While it lives this process writes and reads numbers with a comma, where it asks the locale: C's and
/// C++'s.
class CommaLocale {
public:
    CommaLocale() {
        setenv("LOCPATH", VALVE_LADDER_LOCALES, 1);
        std::locale::global(std::locale("de_DE.UTF-8")); // throws where it is not there: the test fails
        EXPECT_STREQ(std::localeconv()->decimal_point, ",");
        EXPECT_EQ(std::to_string(0.5), "0,500000");
    }
    ~CommaLocale() {
        std::locale::global(before);
        std::setlocale(LC_ALL, "C");
        unsetenv("LOCPATH");
    }
    CommaLocale(const CommaLocale&) = delete;
    CommaLocale& operator=(const CommaLocale&) = delete;

private:
    std::locale before;
};

} // namespace valveladder::testing
