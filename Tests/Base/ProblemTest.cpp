#include "Base/Problem.h"

#include <gtest/gtest.h>

namespace valveladder {

TEST(Problem, TextSaysWhereWhatAndWhatToDo) {
    const Problem problem{"the file is not a Standard MIDI File", "take.mid", "export it again"};
    EXPECT_EQ(problem.text(), "take.mid: the file is not a Standard MIDI File. export it again");
}

TEST(Problem, TextWithoutPlaceOrRemedyIsTheBareSentence) {
    EXPECT_EQ((Problem{"nothing was played", "", ""}.text()), "nothing was played");
}

} // namespace valveladder
