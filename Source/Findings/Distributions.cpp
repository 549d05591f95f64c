#include "Findings/Distributions.h"

#include <boost/math/distributions/hypergeometric.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>

#include <algorithm>
#include <cmath>

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

} // namespace valveladder
