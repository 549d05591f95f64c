#include "Log/ProcessMark.h"

#include "Log/ProcessFacts.h"

namespace valveladder {

ProcessMark thisProcess() {
    return {ownProcess(), startOfProcess(ownProcess()), hostOfProcesses()};
}

bool livesHere(const ProcessMark& mark) {
    return mark.host == hostOfProcesses() && processExists(mark.process) &&
           startOfProcess(mark.process) == mark.start;
}

bool mayLive(const ProcessMark& mark) {
    if (mark.process <= 0)
        return false; // from a log of before processes were noted
    return mark.host != hostOfProcesses() || livesHere(mark);
}

} // namespace valveladder
