#include "Findings/Pace.h"

#include <gtest/gtest.h>

#include <algorithm>

namespace valveladder {
namespace {

ChangeEvidence measured(const char* from, const char* to) {
    ChangeEvidence evidence;
    evidence.change = {Combination::parse(from).value(), Combination::parse(to).value()};
    evidence.changeoverMs = 80.0F;
    return evidence;
}

// What was claimed of a change is looked up by its suspect, so both must name it in one way.
TEST(Pace, NamesFingersAndChangesAsFindingsDo) {
    TakeEvidence take;
    for (int time = 0; time < 12; ++time)
        for (const auto& [from, to] : {std::pair{"0", "2"}, {"2", "1-3"}, {"1-3", "1"}, {"1", "0"}})
            take.changes.push_back(measured(from, to));
    const auto suspects = suspectsIn(take.changes);
    const auto paces = pacesIn({&take, 1});
    EXPECT_EQ(std::ranges::count_if(paces, [](const Pace& pace) { return !pace.suspect.isFinger(); }), 4);
    for (const Pace& pace : paces)
        EXPECT_NE(std::ranges::find(suspects, pace.suspect), suspects.end());
}

} // namespace
} // namespace valveladder
