#include "Console/ReviewText.h"

#include "Base/Sentence.h"
#include "Console/Help.h"
#include "Console/TakeText.h"
#include "Reports/LastFingersReport.h"
#include "Valves/Spelling.h"
#include "Words/FindingWords.h"
#include "Words/NextSessionWords.h"
#include "Words/PlanWords.h"
#include "Words/ReviewWords.h"
#include "Words/SuspectWords.h"

namespace valveladder::console {

namespace {

/// `text` after `mark`, further lines below the first one's text.
void printHanging(Tool& tool, const std::string& mark, const std::string& text) {
    const std::string lines = wrapped(text, textWidth - mark.size());
    std::string shown = mark;
    for (const char c : lines) {
        shown += c;
        if (c == '\n')
            shown.append(mark.size(), ' ');
    }
    tool.printText(shown + "\n");
}

void printPlan(Tool& tool, const Review& review) {
    constexpr std::size_t daysShown = 14;
    const PlanReality& plan = review.findings.plan;
    if (plan.days.empty())
        return;
    std::vector<std::string> lines{inWords(plan)};
    const std::size_t first = review.planDays.size() > daysShown ? review.planDays.size() - daysShown : 0;
    if (first > 0)
        lines.push_back(fmt::format("the last {} of {} lines, one for each day and drill:", daysShown,
                                    review.planDays.size()));
    lines.insert(lines.end(), review.planDays.begin() + static_cast<std::ptrdiff_t>(first),
                 review.planDays.end());
    printPoints(tool, words::planTitle, lines);
}

Json suspectsJson(const std::vector<Suspect>& suspects, bool thumbValve) {
    Json names = Json::array();
    for (const Suspect& suspect : suspects)
        names.push_back(inWords(suspect, thumbValve));
    return names;
}

Json trendsJson(const Review& review) {
    Json list = Json::array();
    for (const Trend& trend : review.findings.trends) {
        Json days = Json::array();
        for (const TrendPoint& point : trend.days)
            days.push_back(
                {{"day", dayName(point.day)}, {"takes", point.takes}, {"extra", asJson(point.extra)}});
        list.push_back({{"suspect", inWords(trend.suspect, review.thumbValve)},
                        {"complaint", name(trend.complaint)},
                        {"unit", trend.complaint == Complaint::wrong ? "percent of notes" : "ms"},
                        {"perWeek", asJson(trend.perWeek)},
                        {"first", asJson(trend.first)},
                        {"recent", asJson(trend.recent)},
                        {"noLongerAProblem", trend.resolved},
                        {"days", std::move(days)},
                        {"words", inWords(trend, review.thumbValve)}});
    }
    return list;
}

Json carryOverJson(const Review& review) {
    Json list = Json::array();
    for (const CarryOver& one : review.findings.carryOver)
        list.push_back({{"rung", one.rung < 0 ? Json() : Json(one.rung + 1)},
                        {"slowerPercent", asJson(one.slowerPercent)},
                        {"moreUnevenMs", asJson(one.moreUnevenMs)},
                        {"natural", one.natural}});
    return list;
}

Json lastFingersJson(const Review& review) {
    Json list = Json::array();
    for (const LastFinger& finger : review.findings.lastFingers)
        list.push_back({{"finger", inWords(finger.suspect, review.thumbValve)},
                        {"from", name(finger.from)},
                        {"told", finger.told},
                        {"apart", finger.apart},
                        {"last", finger.last},
                        {"byChance", finger.byChance},
                        {"takes", finger.takes},
                        {"percent", asJson(finger.percent)},
                        {"behindMs", finger.behindMs ? asJson(*finger.behindMs) : Json()},
                        {"p", finger.p},
                        {"claimed", finger.claimed}});
    return list;
}

Json tiringJson(const Review& review) {
    Json list = Json::array();
    for (const Tiring& one : review.findings.tiring)
        list.push_back({{"finger", one.finger ? Json(inWords(*one.finger, review.thumbValve)) : Json()},
                        {"measure", one.evenness ? "evenness" : "changeover"},
                        {"perTenMinutesMs", asJson(one.perTenMinutes)},
                        {"p", one.p}});
    return list;
}

Json planJson(const PlanReality& plan) {
    Json days = Json::array();
    for (const PlanDay& day : plan.days)
        days.push_back({{"day", dayName(day.day)},
                        {"drill", day.drillName},
                        {"takes", day.takes},
                        {"whole", day.whole},
                        {"passed", day.passed},
                        {"plannedBpm", {day.plannedLow, day.plannedHigh}},
                        {"playedBpm", {day.playedLow, day.playedHigh}},
                        {"offPlan", day.offPlan},
                        {"heldBpm", day.heldBpm ? Json(*day.heldBpm) : Json()}});
    Json missed = Json::array();
    for (const std::int64_t day : plan.missedDays)
        missed.push_back(dayName(day));
    return {{"days", std::move(days)}, {"missedDays", std::move(missed)}, {"words", inWords(plan)}};
}

Json apartJson(const Review& review) {
    const Identifiability& known = review.findings.identifiability;
    Json groups = Json::array();
    for (const auto& group : known.inseparable)
        groups.push_back(suspectsJson(group, review.thumbValve));
    Json json{{"complete", known.complete()},
              {"effects", known.effects},
              {"rank", known.rank},
              {"cannotTellApart", std::move(groups)},
              {"neverPlayed", suspectsJson(known.neverPlayed, review.thumbValve)}};
    if (review.findings.settle)
        json["drillThatTells"] = review.words.settle;
    return json;
}

} // namespace

std::string heading(const Review& review) {
    std::string text = fmt::format(
        "{}, {}{}: {} on {}", review.player,
        review.instrumentName.empty() ? review.instrumentId : review.instrumentName,
        inventedNote(review.invented), counted(review.takes, "take"), counted(review.days, "day"));
    if (review.days > 0)
        text += fmt::format(", {}", dayName(review.firstDay));
    if (review.days > 1)
        text += fmt::format(" to {}", dayName(review.lastDay));
    return text;
}

void printPoints(Tool& tool, const std::string& title, const std::vector<std::string>& lines) {
    if (lines.empty())
        return;
    tool.printText("\n" + wrapped(oneLine(title), textWidth) + "\n");
    for (const std::string& line : lines)
        printHanging(tool, "  - ", sentence(oneLine(line)));
}

void printCare(Tool& tool, const std::vector<CareText>& texts) {
    std::vector<std::string> lines;
    for (const CareText& text : texts)
        lines.push_back(withSource(text));
    printPoints(tool, "Take care", lines);
}

void printReview(Tool& tool, const Review& review) {
    tool.printText(wrapped(oneLine(heading(review)), textWidth) + "\n");
    printPoints(tool, "What stands out", review.words.standsOut);
    if (const std::string& nothing = review.words.nothing; !nothing.empty())
        tool.print("\n{}.\n", sentence(nothing));
    if (!review.findings.lastFingers.empty())
        tool.printText("\n" + lastFingersText(review.findings.lastFingers, review.thumbValve));
    printPoints(tool, words::cannotTellTitle, review.words.remarks);
    printPoints(tool, words::trendsTitle, review.words.trends);
    printPoints(tool, "Relaxed against firm (0 = no difference)", review.carryOver);
    printPoints(tool, "With the minutes played (0 = no tiring)", review.tiring);
    printPlan(tool, review);
    printPoints(tool, "Left out", review.remarks);
    printCare(tool, review.care);
    tool.printText("\n" +
                   wrapped("Everything here compares you with yourself. A 90 % interval says how far off a "
                           "figure may be; it is not a diagnosis. 'valve-ladder next' makes a session of "
                           "it.",
                           textWidth) +
                   "\n");
}

void printSession(Tool& tool, const PracticeSession& session) {
    for (const std::string& line : linesOf(session)) {
        const auto mark = line.find(' ') + 1;
        printHanging(tool, fmt::format("  {}", line.substr(0, mark)), line.substr(mark));
    }
}

Json asJson(const Estimate& estimate) {
    if (estimate.n == 0)
        return {};
    return {{"value", estimate.value}, {"low", estimate.low}, {"high", estimate.high}, {"n", estimate.n}};
}

Json asJson(const Finding& finding, bool thumbValve) {
    Json others = Json::array();
    for (const Finding& other : finding.alsoShownBy)
        others.push_back(asJson(other, thumbValve));
    return {{"complaint", name(finding.complaint)},
            {"suspect", inWords(finding.suspect, thumbValve)},
            {"unit", finding.complaint == Complaint::wrong ? "ratio of odds" : "ms"},
            {"effect", asJson(finding.effect)},
            {"others", finding.others},
            {"takes", finding.takes},
            {"p", finding.p},
            {"rivals", suspectsJson(finding.rivals, thumbValve)},
            {"justAsLikely", suspectsJson(finding.twins, thumbValve)},
            {"alsoShownBy", std::move(others)},
            {"words", inWords(finding, thumbValve)}};
}

Json asJson(const std::vector<CareText>& texts) {
    Json list = Json::array();
    for (const CareText& text : texts)
        list.push_back({{"text", text.text}, {"source", text.source}});
    return list;
}

Json asJson(const Review& review) {
    Json findings = Json::array();
    for (const Finding& finding : review.findings.weaknesses.findings)
        findings.push_back(asJson(finding, review.thumbValve));
    return {{"player", review.player},
            {"instrument", review.instrumentId},
            {"invented", review.invented},
            {"takes", review.takes},
            {"days", review.days},
            {"changes", review.changes},
            {"findings", std::move(findings)},
            {"lastFingers", lastFingersJson(review)},
            {"lastClaims", review.words.lastClaims},
            {"tendencies", review.words.tendencies},
            {"toldApart", apartJson(review)},
            {"trends", trendsJson(review)},
            {"carryOver", carryOverJson(review)},
            {"tiring", tiringJson(review)},
            {"plan", planJson(review.findings.plan)},
            {"remarks", review.words.remarks},
            {"leftOut", review.remarks},
            {"care", asJson(review.care)}};
}

Json asJson(const PracticeSession& session) {
    Json items = Json::array();
    for (const SessionItem& item : session.items) {
        const Rung first = rungs(item.drill).front();
        Json notes = Json::array();
        Json valves = Json::array();
        for (std::size_t i = 0; i < first.notes.size(); ++i) {
            notes.push_back(writtenName(session.instrument, first.notes[i]));
            const auto pressed = first.valvesOf(i);
            valves.push_back(pressed ? Json(session.instrument.combinationName(*pressed)) : Json());
        }
        items.push_back({{"kind", item.isRung ? "rung" : "cell"},
                         {"round", item.round},
                         {"thing", item.thing},
                         {"what", whatInWords(item, session.instrument)},
                         {"notes", std::move(notes)},
                         {"valves", std::move(valves)},
                         {"bpm", item.bpm},
                         {"seconds", item.seconds},
                         {"restSeconds", item.restSecondsAfter},
                         {"why", whyInWords(item, session.instrument)}});
    }
    return {{"drill", session.drill.name},  {"bpm", session.bpm},       {"minutes", session.minutes},
            {"rounds", session.rounds},     {"things", session.things}, {"items", std::move(items)},
            {"remarks", remarksOn(session)}};
}

} // namespace valveladder::console
