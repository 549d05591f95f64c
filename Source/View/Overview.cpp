#include "View/Overview.h"

namespace valveladder {

Overview overviewOf(const Result<Review>& result, const Instrument& instrument) {
    Overview overview;
    if (!result) {
        overview.trouble = result.problem();
        return overview;
    }
    const Review& review = result.value();
    overview.player = review.player;
    overview.instrument = instrument.name;
    overview.invented = review.invented;
    overview.others = review.others;
    overview.players = review.players;
    for (const DatedTake& dated : review.listed)
        overview.takes.push_back(dated.take);
    overview.sides = sideChoices(review.listed);
    overview.stair = stairModel(review, instrument);
    overview.next = review.next;
    return overview;
}

} // namespace valveladder
