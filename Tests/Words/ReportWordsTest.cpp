#include "Words/ReportWords.h"

#include <gtest/gtest.h>

namespace valveladder {
namespace {

TEST(Words, SayHowSureAReportIsButNeverQuite) {
    EXPECT_EQ(sureness(0.972), "97 % sure");
    EXPECT_EQ(sureness(0.5), "50 % sure");
    EXPECT_EQ(sureness(1.0), "99 % sure");
    EXPECT_EQ(sureness(std::nullopt), "");
}

} // namespace
} // namespace valveladder
