#include "View/ShownTakes.h"

#include <utility>

namespace valveladder {

bool ShownTakes::takeUp(std::shared_ptr<const Reviewed> review, const Instrument& instrument) {
    if (!review || review == reviewed)
        return false;
    reviewed = std::move(review);
    ownOverview = std::make_shared<const Overview>(overviewOf(reviewed->result, instrument));
    return true;
}

std::shared_ptr<const Overview> ShownTakes::overview() const {
    return invented ? invented->overview() : ownOverview;
}

std::shared_ptr<const LoadedTake> ShownTakes::take(const std::string& id) {
    if (invented)
        return invented->take(id);
    auto loaded = reader.take(id);
    if (!loaded)
        reader.wantTake(id);
    return loaded;
}

bool ShownTakes::resultDue(const SessionView& view, bool wanted) {
    if (!ownOverview || ownOverview->takes.empty())
        return false;
    const TakeSummary& newest = ownOverview->takes.back();
    if (newest.header.id != resultSeen) {
        resultSeen = newest.header.id;
        resultWaits = wanted && newest.endedUtc >= openedUtc;
    }
    return !view.playing && !view.inTake && std::exchange(resultWaits, false);
}

std::string ShownTakes::player(const SessionConfig& own) const {
    return invented ? LookRound::player() : own.player;
}

const Instrument& ShownTakes::instrument(const SessionConfig& own) const {
    return invented ? LookRound::instrument() : own.instrument;
}

double ShownTakes::plannedBpm(const SessionView& view) const {
    const auto week = invented ? invented->overview() : nullptr;
    return week && week->next ? week->next->bpm : view.setup->planned.bpm;
}

} // namespace valveladder
