#include "Findings/Distributions.h"

#include "Listening/Estimates.h"

#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/hypergeometric.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace valveladder {

double normalCdf(double z) {
    return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

double normalQuantile(double share) {
    return boost::math::quantile(boost::math::normal(), share);
}

double studentQuantile(double freedom, double share) {
    return boost::math::quantile(boost::math::students_t(freedom), share);
}

double studentReach(double freedom, double share) {
    return studentQuantile(freedom, (1.0 + share) / 2.0);
}

double studentTwoSidedP(double freedom, double t) {
    const boost::math::students_t distribution(freedom);
    return 2.0 * boost::math::cdf(boost::math::complement(distribution, std::abs(t)));
}

double fisherUpperTail(int hits, int drawn, int marked, int total) {
    const int least = std::max(0, drawn + marked - total);
    if (hits <= least)
        return 1.0;
    if (hits > std::min(drawn, marked))
        return 0.0;
    const boost::math::hypergeometric distribution(
        static_cast<unsigned>(marked), static_cast<unsigned>(drawn), static_cast<unsigned>(total));
    return boost::math::cdf(boost::math::complement(distribution, static_cast<unsigned>(hits - 1)));
}

Estimate binomialShare(int hits, int trials) {
    using Binomial = boost::math::binomial_distribution<>;
    if (trials <= 0)
        return {0.0, 0.0, 1.0, 0};
    return {static_cast<double>(hits) / trials, Binomial::find_lower_bound_on_p(trials, hits, intervalTail),
            Binomial::find_upper_bound_on_p(trials, hits, intervalTail), trials};
}

double hitsUpperTail(int hits, const std::vector<double>& chances) {
    constexpr std::size_t exactLimit = 1000; // the work grows with the square
    if (hits <= 0)
        return 1.0;
    if (static_cast<std::size_t>(hits) > chances.size())
        return 0.0;
    if (chances.size() > exactLimit) {
        double mean = 0.0, variance = 0.0;
        for (const double chance : chances) {
            mean += chance;
            variance += chance * (1.0 - chance);
        }
        return normalCdf((mean - (hits - 0.5)) / std::sqrt(std::max(variance, 1e-12)));
    }
    std::vector<double> ofCount{1.0}; // the chance of so many hits in the trials so far
    for (const double chance : chances) {
        ofCount.push_back(0.0);
        for (std::size_t count = ofCount.size() - 1; count > 0; --count)
            ofCount[count] = ofCount[count] * (1.0 - chance) + ofCount[count - 1] * chance;
        ofCount[0] *= 1.0 - chance;
    }
    return std::min(1.0, std::accumulate(ofCount.begin() + hits, ofCount.end(), 0.0));
}

} // namespace valveladder
