#include "Console/Commands.h"
#include "Console/DrillOptions.h"
#include "Console/HeldInstead.h"
#include "Console/Help.h"
#include "Console/LogOptions.h"
#include "Console/Options.h"
#include "Console/TimeText.h"
#include "Records/Json.h"
#include "Words/PlanWords.h"
#include "Words/TempoWords.h"

#include <memory>

namespace valveladder::console {

namespace {

/// A rule on the command line: set when given.
struct RuleOptions {
    std::optional<double> start, stepPerTake, stepPerDay, stepBack, ceiling, tolerance, maxSpread;
    std::optional<int> passesPerStep, failuresBeforeBack, dayStartsAtHour, maxWrong, maxMissed, maxExtra;
    std::optional<std::string> zone;

    void add(CLI::App& app);
    [[nodiscard]] TempoRules changed(TempoRules rules) const;
};

struct Options {
    DrillOptions drill;
    LogOptions log;
    RuleOptions rules;
    std::string at;
    bool save = false;
};

template <typename T>
void addRule(CLI::App& app, const char* name, T& target, const char* unit, const std::string& help) {
    CLI::Option* option = nullptr;
    if constexpr (std::is_same_v<T, std::optional<double>>)
        option = addNumber(app, name, target, help);
    else
        option = app.add_option(name, target, help);
    option->option_text(unit)->group("Rules (kept with --save)");
}

void RuleOptions::add(CLI::App& app) {
    addRule(app, "--start", start, "BPM", "Where it is very comfortable");
    addRule(app, "--step-take", stepPerTake, "BPM",
            fmt::format("Rise after passed takes, 0 to {:g}", TempoLimits::maxStep));
    addRule(app, "--hold", passesPerStep, "N",
            fmt::format("Passed takes in a row for that rise, 1 to {}", TempoLimits::maxInRow));
    addRule(app, "--step-day", stepPerDay, "BPM",
            fmt::format("Rise on a new day after a passed take, 0 to {:g}", TempoLimits::maxStep));
    addRule(app, "--failures", failuresBeforeBack, "N", "Takes in a row not passed before stepping back");
    addRule(app, "--step-back", stepBack, "BPM",
            fmt::format("How far back, 0 to {:g}; never below the start", TempoLimits::maxStepBack));
    addRule(app, "--ceiling", ceiling, "BPM", "Never faster than this");
    addRule(app, "--tolerance", tolerance, "BPM", "A take further below the plan does not count");
    addRule(app, "--zone", zone, "NAME", "Time zone of the player's days, e.g. Europe/Berlin");
    addRule(app, "--day-hour", dayStartsAtHour, "HOUR",
            fmt::format("Hour at which a day begins, 0 to {}", TempoLimits::latestDayStart));
    addRule(app, "--max-wrong", maxWrong, "N", "Wrong notes that still pass");
    addRule(app, "--max-missed", maxMissed, "N", "Missed notes that still pass");
    addRule(app, "--max-extra", maxExtra, "N", "Extra notes that still pass");
    addRule(app, "--max-spread", maxSpread, "PERCENT",
            "Spread of the inter-onset intervals that still passes; 0 = not judged");
}

TempoRules RuleOptions::changed(TempoRules rules) const {
    rules.startBpm = start.value_or(rules.startBpm);
    rules.stepPerTake = stepPerTake.value_or(rules.stepPerTake);
    rules.passesPerStep = passesPerStep.value_or(rules.passesPerStep);
    rules.stepPerDay = stepPerDay.value_or(rules.stepPerDay);
    rules.failuresBeforeBack = failuresBeforeBack.value_or(rules.failuresBeforeBack);
    rules.stepBack = stepBack.value_or(rules.stepBack);
    rules.ceilingBpm = ceiling.value_or(rules.ceilingBpm);
    rules.toleranceBpm = tolerance.value_or(rules.toleranceBpm);
    rules.timeZone = zone.value_or(rules.timeZone);
    rules.dayStartsAtHour = dayStartsAtHour.value_or(rules.dayStartsAtHour);
    rules.pass.maxWrong = maxWrong.value_or(rules.pass.maxWrong);
    rules.pass.maxMissed = maxMissed.value_or(rules.pass.maxMissed);
    rules.pass.maxExtra = maxExtra.value_or(rules.pass.maxExtra);
    rules.pass.maxIoiSpreadPercent = maxSpread.value_or(rules.pass.maxIoiSpreadPercent);
    return rules;
}

struct Subject {
    std::string instrumentId;
    std::string drillName;
    std::optional<TempoRules> rules; ///< of the drill's file
};

/// Why the plan is at its start, and where the player's takes are; "" where it is made of takes.
Result<std::string> whyAtStart(const Options& options, const PlanFromLog& plan) {
    if (plan.takes > 0)
        return std::string();
    const auto held = heldInstead(options.log, plan.player);
    if (!held)
        return held.problem();
    return fmt::format("No take of this drill on this instrument{}. {}{}",
                       options.at.empty() ? " yet" : " before that time", held.value().words,
                       held.value().ofPlayer ? " For the plan of one of these name its drill with --drill or "
                                               "--name, its instrument with -i."
                                             : "");
}

Json asJson(const PlanFromLog& plan, const Subject& subject, const std::string& whyStart) {
    return {{"player", plan.player},
            {"instrument", subject.instrumentId},
            {"drill", subject.drillName},
            {"takes", plan.takes},
            {"bpm", plan.next.bpm},
            {"reason", name(plan.next.reason)},
            {"words", inWords(plan.next)},
            {"whyStart", whyStart.empty() ? Json() : Json(whyStart)},
            {"passesInRow", plan.next.passesInRow},
            {"failuresInRow", plan.next.failuresInRow},
            {"rules", Json::parse(toJson(plan.rules))}};
}

void print(Tool& tool, const PlanFromLog& plan, const Subject& subject, const std::string& whyStart) {
    const TempoRules& rules = plan.rules;
    tool.print("Next take{}{}, {}, {}: {} bpm\n{}\n", plan.player.empty() ? "" : " of ", plan.player,
               subject.instrumentId, subject.drillName, words::tempoText(plan.next.bpm), inWords(plan.next));
    if (!whyStart.empty())
        tool.printText(wrapped(oneLine(whyStart), textWidth) + "\n");
    tool.print("\nStart {}, ceiling {}; +{:g} a day after a passed take", words::tempoText(rules.startBpm),
               words::tempoText(rules.ceilingBpm), rules.stepPerDay);
    if (rules.stepPerTake > 0.0)
        tool.print("; +{:g} after {} passed", rules.stepPerTake, rules.passesPerStep);
    tool.print(";\n-{:g} after {} not passed in a row. Days by {} from {}:00.\n", rules.stepBack,
               rules.failuresBeforeBack, rules.timeZone.empty() ? "each take's own zone" : rules.timeZone,
               rules.dayStartsAtHour);
    tool.print("Passed: whole, at most {} wrong, {} missed, {} extra", rules.pass.maxWrong,
               rules.pass.maxMissed, rules.pass.maxExtra);
    if (rules.pass.maxIoiSpreadPercent > 0.0)
        tool.print(", even within {:g} %", rules.pass.maxIoiSpreadPercent);
    tool.print(".\nRest as long as you play; stop when hand, wrist or lips hurt.\n");
}

Result<Done> save(const Options& options, const PlanFromLog& plan, const Subject& subject) {
    if (plan.player.empty() && !options.log.player)
        return Problem{"the rules are of a player, and none is named", "--save", "Name one with --player"};
    auto store = options.log.openOrMake();
    if (!store)
        return store.problem();
    return store.value()->setRules(plan.player, subject.instrumentId, subject.drillName, plan.rules);
}

Result<PlanFromLog> planned(const Options& options, const Subject& subject, std::optional<UtcMs> at) {
    auto plan =
        planFromLog(options.log, subject.instrumentId, subject.drillName, at, std::nullopt, subject.rules);
    if (!plan)
        return plan;
    TempoRules rules = options.rules.changed(plan.value().rules);
    if (options.save)
        rules = withZone(std::move(rules));
    auto valid = checked(rules);
    if (!valid)
        return valid.problem();
    return planFromLog(options.log, subject.instrumentId, subject.drillName, at, valid.value());
}

Result<Done> plan(Tool& tool, const Options& options) {
    auto chosen = options.drill.choose();
    if (!chosen)
        return chosen.problem();
    const Subject subject{chosen.value().instrument.id, chosen.value().drill.name, chosen.value().rules};
    std::optional<UtcMs> at;
    if (!options.at.empty()) {
        auto asked = parseTime(options.at, options.rules.zone.value_or(""));
        if (!asked)
            return asked.problem();
        at = asked.value();
    }
    auto result = planned(options, subject, at);
    if (!result)
        return result.problem();
    if (options.save)
        if (auto saved = save(options, result.value(), subject); !saved)
            return saved;
    const auto whyStart = whyAtStart(options, result.value());
    if (!whyStart)
        return whyStart.problem();
    if (tool.json)
        tool.printJson(asJson(result.value(), subject, whyStart.value()));
    else
        print(tool, result.value(), subject, whyStart.value());
    return Done{};
}

} // namespace

void addPlan(CLI::App& app, Tool& tool) {
    auto options = std::make_shared<Options>();
    CLI::App* sub = app.add_subcommand(
        "plan", "The tempo of the next take, and its rules\n\nComputed from the log alone: two machines with "
                "the same "
                "log agree. Rules given here show what they would lead to; --save keeps them in the log "
                "for this player, instrument and drill.");
    options->log.addPlayer(*sub);
    options->log.addFile(*sub);
    sub->add_option("--at", options->at,
                    "The plan for this time in place of now, from the takes before it, e.g. 2026-03-28T17:00")
        ->option_text("TIME");
    sub->add_flag("--save", options->save, "Keep the rules in the log");
    options->rules.add(*sub);
    options->drill.add(*sub);
    sub->footer("Examples:\n"
                "  valve-ladder plan --player Ann\n"
                "  valve-ladder plan --player Ann --start 56 --step-day 1 --save\n"
                "  valve-ladder plan --player Ann --at 2026-03-29 --json");
    sub->callback([&tool, options] { tool.job = [&tool, options] { return plan(tool, *options); }; });
}

} // namespace valveladder::console
