// What a session asks of its log between takes, and what it reminds of.
#include "Review/Review.h"
#include "Session/Session.h"
#include "Words/CareWords.h"
#include "Words/SessionWords.h"

namespace valveladder {

void Session::tellCare() {
    const bool busy = open || !pending.empty() || (last && last->host.playing);
    for (const CareText& text :
         inWords(care.due(config.care, busy, asksForFirmValves(config.drill), now()), config.care))
        note(withSource(text), false);
}

ReviewRequest Session::reviewRequest() const {
    ReviewRequest request;
    request.player = config.player;
    request.instrumentId = config.instrument.id;
    request.invented = config.invented;
    request.inventedAlone = true;
    request.care = config.care;
    request.now = now();
    if (std::holds_alternative<LadderPattern>(config.drill.pattern))
        request.ladder = config.drill;
    return request;
}

void Session::logWritable() {
    note(words::logWritesAgain, false);
    if (logChanged)
        logChanged(reviewRequest());
}

void Session::reviewed(const Review& review) {
    if (review.player == config.player && review.instrumentId == config.instrument.id)
        care.slowFingersNow(slowFingers(review.findings.weaknesses));
}

} // namespace valveladder
