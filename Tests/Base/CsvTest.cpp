#include "Base/Csv.h"

#include <gtest/gtest.h>

namespace valveladder {
namespace {

// The examples of RFC 4180, section 2, rules 5 to 7.
TEST(Csv, FieldsAreQuotedAsRfc4180Says) {
    EXPECT_EQ(csvField("aaa"), "aaa");
    EXPECT_EQ(csvField("b\r\nbb"), "\"b\r\nbb\"");
    EXPECT_EQ(csvField("b\"bb"), "\"b\"\"bb\"");
    EXPECT_EQ(csvField("a,b"), "\"a,b\"");
    EXPECT_EQ(csvField(""), "");
}

} // namespace
} // namespace valveladder
