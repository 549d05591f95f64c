#include "Findings/Resampling.h"

#include "Base/Index.h"
#include "Base/RobustStatistics.h"
#include "Findings/Bootstrap.h"
#include "Findings/Distributions.h"

#include <algorithm>
#include <cmath>
#include <random>

namespace valveladder {

namespace {

struct TakeEffect {
    double share = 0.0;         ///< of the common effect
    double departure = 0.0;     ///< from the common effect, units of y
    double standardError = 0.0; ///< within the take
    double contribution = 0.0;  ///< to the common effect's error
};

/// Takes that say anything of the effect.
std::vector<TakeEffect> takeEffects(const ObservationTable& table, const EffectFit& fit, int column) {
    const auto influence = fit.influence(column);
    const auto shares = fit.takeShares(column);
    const auto errors = fit.takeStandardErrors(column);
    std::vector<TakeEffect> effects;
    for (std::size_t t = 0; t < table.takes.size(); ++t) {
        const auto& take = table.takes[t];
        if (shares[t] <= 1e-9)
            continue;
        TakeEffect effect;
        effect.share = shares[t];
        for (int i = take.firstObservation; i < take.firstObservation + take.observationCount; ++i)
            effect.contribution += influence[at(i)];
        effect.departure = effect.contribution / effect.share;
        effect.standardError = errors[t];
        effects.push_back(effect);
    }
    return effects;
}

double spreadByMoments(const std::vector<TakeEffect>& effects) {
    if (effects.size() < 2)
        return 0.0;
    double shares = 0.0, squares = 0.0, expected = 0.0;
    for (const auto& effect : effects) {
        shares += effect.share;
        squares += effect.share * effect.departure * effect.departure;
        expected += effect.share * effect.standardError * effect.standardError;
    }
    const auto count = static_cast<double>(effects.size());
    const double between = squares / shares * count / (count - 1.0) - expected / shares;
    return std::sqrt(std::max(0.0, between));
}

/// Resampling few clusters understates their spread twice: by the missing degree of freedom, and by the
/// normal's thin tails.
double widening(double clusters) {
    const double share = (1.0 + intervalShare) / 2.0;
    return std::sqrt(clusters / (clusters - 1.0)) * studentQuantile(clusters - 1.0, share) /
           normalQuantile(share);
}

EffectInterval byWholeTakes(const std::vector<TakeEffect>& effects, double effect, std::uint64_t seed) {
    std::mt19937_64 random(seed);
    std::uniform_int_distribution<std::size_t> pick(0, effects.size() - 1);
    const double wide = widening(static_cast<double>(effects.size()));
    std::vector<double> draws(resampling::draws);
    for (auto& draw : draws) {
        double error = 0.0;
        for (std::size_t i = 0; i < effects.size(); ++i)
            error += effects[pick(random)].contribution;
        draw = effect + wide * error;
    }
    return middleOf(draws);
}

} // namespace

EffectInterval middleOf(const std::vector<double>& draws) {
    return {quantile(draws, (1.0 - intervalShare) / 2.0), quantile(draws, (1.0 + intervalShare) / 2.0)};
}

double takeToTakeSpread(const ObservationTable& table, const EffectFit& fit, int column) {
    return spreadByMoments(takeEffects(table, fit, column));
}

EffectInterval effectInterval(const ObservationTable& table, const EffectFit& fit, int column,
                              std::uint64_t seed) {
    const auto effects = takeEffects(table, fit, column);
    if (static_cast<int>(effects.size()) >= resampling::wholeTakesFrom)
        return byWholeTakes(effects, fit.effect(column), seed);
    const double reach = studentReach(fit.freedom(), intervalShare) * fit.standardError(column);
    return {fit.effect(column) - reach, fit.effect(column) + reach};
}

} // namespace valveladder
