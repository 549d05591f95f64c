#include "Words/FindingsInWords.h"

#include "Words/FindingWords.h"
#include "Words/FingerOrderWords.h"
#include "Words/TellingApartWords.h"

#include <utility>

namespace valveladder {

namespace {

/// What direct evidence says of fingers, and where it and the fits, or sound and sensors, differ.
std::vector<std::string> lastClaims(const FindingsReport& report, bool thumbValve) {
    std::vector<std::string> claims;
    const auto named = fingersNamed(report.weaknesses);
    for (const auto& finger : report.lastFingers) {
        const auto timing = timingSays(finger, report.weaknesses);
        std::string words = finger.claimed ? inWords(finger, thumbValve) : "";
        if (timing != TimingSays::nothing)
            words += (words.empty() ? "" : " ") + inWords(finger, timing, named, thumbValve);
        for (const auto& other : report.lastFingers)
            if (finger.from == OrderFrom::sound && other.from == OrderFrom::sensors &&
                (finger.claimed || other.claimed) && disagree(finger, other))
                words += (words.empty() ? "" : " ") + disagreementInWords(finger, other, thumbValve);
        if (!words.empty())
            claims.push_back(std::move(words));
    }
    return claims;
}

std::vector<std::string> tendencies(const FindingsReport& report, bool thumbValve) {
    std::vector<std::string> claims;
    for (const auto& one : report.carryOver)
        if (one.claimed)
            claims.push_back(inWords(one));
    for (const auto& one : report.tiring)
        if (one.claimed)
            claims.push_back(inWords(one, thumbValve));
    return claims;
}

void append(const std::vector<std::string>& texts, std::vector<std::string>& to) {
    to.insert(to.end(), texts.begin(), texts.end());
}

} // namespace

FindingsInWords inWords(const FindingsReport& report, const Instrument& instrument) {
    const bool thumb = instrument.thumbValve;
    FindingsInWords words;
    words.lastClaims = lastClaims(report, thumb);
    words.tendencies = tendencies(report, thumb);
    for (const auto& trend : report.trends)
        words.trends.push_back(inWords(trend, thumb));
    for (const auto& finding : report.weaknesses.findings)
        words.standsOut.push_back(inWords(finding, thumb));
    append(words.lastClaims, words.standsOut);
    append(words.tendencies, words.standsOut);
    words.claims = words.standsOut;
    append(words.trends, words.claims);
    if (words.claims.empty() && report.weaknesses.enough && !report.weaknesses.untimed())
        words.nothing = "nothing stands out beyond chance in these takes";
    words.remarks = inWords(report.weaknesses);
    append(inWords(report.identifiability, thumb), words.remarks);
    if (report.settle) {
        words.settle = inWords(report.settle->cells, instrument);
        words.remarks.push_back("to tell them apart: " + words.settle + howCellsArePlayed);
    }
    return words;
}

} // namespace valveladder
