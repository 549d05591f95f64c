#include "Base/Problem.h"

#include <gtest/gtest.h>

namespace valveladder {

TEST(Problem, TextSaysWhereWhatAndWhatToDo) {
    const Problem problem{"the file is not a Standard MIDI File", "take.mid", "export it again"};
    EXPECT_EQ(problem.text(), "take.mid: the file is not a Standard MIDI File. Export it again");
}

TEST(Problem, RemedyThatIsASentenceAlreadyStaysAsItIs) {
    EXPECT_EQ((Problem{"it is full", "log", "Free some room"}.text()), "log: it is full. Free some room");
    EXPECT_EQ((Problem{"it is 8", "--bpm", "10 to 400"}.text()), "--bpm: it is 8. 10 to 400");
}

TEST(Problem, TextWithoutPlaceOrRemedyIsTheBareSentence) {
    EXPECT_EQ((Problem{"nothing was played", "", ""}.text()), "nothing was played");
}

} // namespace valveladder
