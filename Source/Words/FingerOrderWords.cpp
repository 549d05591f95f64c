#include "Words/FingerOrderWords.h"

#include "Base/Sentence.h"
#include "Words/ReportWords.h"
#include "Words/SuspectWords.h"

#include <fmt/format.h>

namespace valveladder {

namespace {

const char* teller(OrderFrom from) {
    return from == OrderFrom::sensors ? "the valve sensors tell" : "what sounds between the notes tells";
}

std::string order(Combination early, Combination late, double ms, bool thumbValve) {
    return fmt::format("{} after {} by {:.0f} ms", fingersName(late, thumbValve),
                       fingersName(early, thumbValve), ms);
}

} // namespace

std::string inWords(const LastFinger& finger, bool thumbValve) {
    const Estimate& share = finger.percent;
    std::string text = fmt::format(
        "{} last in {:.0f} % of your changes of two valves or more, as {}. Sure: {:.0f} to {:.0f} % ({} in "
        "{}). Chance alone makes it {:.0f} of the {} in which fingers came apart; it was {}.",
        asSubject(finger.suspect, thumbValve), share.value, teller(finger.from), share.low, share.high,
        counted(finger.told, "change"), counted(finger.takes, "take"), finger.byChance, finger.apart,
        finger.last);
    if (finger.behindMs)
        text += fmt::format(" When it is last, it is {:.0f} ms behind. Sure: {:.0f} to {:.0f} ms.",
                            finger.behindMs->value, finger.behindMs->low, finger.behindMs->high);
    return text;
}

std::string inWords(const LastFinger& finger, TimingSays timing, const std::vector<Suspect>& named,
                    bool thumbValve) {
    switch (timing) {
    case TimingSays::nothing:
        break;
    case TimingSays::same:
        return "The times of the changes in all your takes point to the same finger.";
    case TimingSays::couldNotTell:
        return fmt::format("The times of the changes in all your takes could not tell it from {}; this does.",
                           named.empty() ? std::string("others") : namesOf(named, thumbValve));
    case TimingSays::another:
        return fmt::format(
            "The times of the changes in all your takes point elsewhere, to {}: both are told here, more "
            "takes will show which is right.",
            namesOf(named, thumbValve));
    case TimingSays::againstLast:
        return fmt::format(
            "By the times of the changes in all your takes {} is slow or late, but as {}, it came last in "
            "{} of the {} changes in which fingers came apart, where chance makes it {:.0f}: "
            "both are told here, more takes will show which is right.",
            inWords(finger.suspect, thumbValve), teller(finger.from), finger.last, finger.apart,
            finger.byChance);
    }
    return "";
}

std::string disagreementInWords(const LastFinger& bySound, const LastFinger& bySensors, bool thumbValve) {
    return fmt::format(
        "Sound and valve sensors disagree on {}: where fingers came apart it was last in {} of {} changes by "
        "sound, in {} of {} by the sensors, over all takes.",
        inWords(bySound.suspect, thumbValve), bySound.last, bySound.apart, bySensors.last, bySensors.apart);
}

std::string fingersApartInWords(const ChangeResult& change, bool thumbValve) {
    if (!cameApart(change))
        return {};
    const std::string sure = sureness(change.lateLikelihood);
    return order(change.earlyFingers(), change.lateFingers, *change.lateByMs, thumbValve) +
           (sure.empty() ? "" : ", " + sure);
}

std::string inWords(const FingersApart& apart, bool thumbValve) {
    return fmt::format("{} in {} ({} of {} times in this take)",
                       order(apart.early, apart.late, apart.medianMs, thumbValve),
                       changeName(apart.change, thumbValve), apart.count, apart.of);
}

} // namespace valveladder
