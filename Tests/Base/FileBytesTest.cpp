#include "Base/FileBytes.h"

#include "Log/TempFolder.h"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

namespace valveladder {

namespace {

namespace fs = std::filesystem;

std::string textOf(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

std::span<const std::uint8_t> bytes(std::string_view text) {
    return {reinterpret_cast<const std::uint8_t*>(text.data()), text.size()};
}

std::size_t filesIn(const fs::path& folder) {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

} // namespace

TEST(FileBytes, WritingTouchesNoOtherFile) {
    const TempFolder folder;
    std::ofstream(folder / "mine.csv.part") << "the player's own";
    std::ofstream(folder / "mine.csv") << "older";
    ASSERT_TRUE(writeFileBytes(folder / "mine.csv", bytes("newer")).ok());
    EXPECT_EQ(textOf(folder / "mine.csv"), "newer");
    EXPECT_EQ(textOf(folder / "mine.csv.part"), "the player's own");
    EXPECT_EQ(filesIn(folder.path()), 2U) << "nothing is left beside";
}

TEST(FileBytes, ALinkStaysALink) {
    const TempFolder folder;
    std::ofstream(folder / "target") << "older";
    fs::create_symlink("target", folder / "link");
    ASSERT_TRUE(writeFileBytes(folder / "link", bytes("newer")).ok());
    EXPECT_TRUE(fs::is_symlink(folder / "link"));
    EXPECT_EQ(textOf(folder / "target"), "newer");
}

TEST(FileBytes, WhatIsNotFinishedLeavesNothingAndTheOlderFile) {
    const TempFolder folder;
    std::ofstream(folder / "file") << "older";
    {
        NewFile file(folder / "file");
        EXPECT_TRUE(file.write(std::string_view("half")));
    }
    EXPECT_EQ(textOf(folder / "file"), "older");
    EXPECT_EQ(filesIn(folder.path()), 1U);
}

} // namespace valveladder
