#include "Base/RobustStatistics.h"
#include "Findings/Bootstrap.h"
#include "Findings/Distributions.h"
#include "Findings/LineFit.h"
#include "Findings/MultipleTests.h"
#include "Listening/Measures.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

namespace valveladder {
namespace {

/// Stack loss: K. A. Brownlee, "Statistical Theory and Methodology in Science and Engineering", 2nd ed. 1965:
/// air flow, water temperature, acid concentration, loss.
const std::vector<std::array<double, 4>> stackLoss = {
    {80, 27, 89, 42}, {80, 27, 88, 37}, {75, 25, 90, 37}, {62, 24, 87, 28}, {62, 22, 87, 18},
    {62, 23, 87, 18}, {62, 24, 93, 19}, {62, 24, 93, 20}, {58, 23, 87, 15}, {58, 18, 80, 14},
    {58, 18, 89, 14}, {58, 17, 88, 13}, {58, 18, 82, 11}, {58, 19, 93, 12}, {50, 18, 89, 8},
    {50, 18, 86, 7},  {50, 19, 72, 8},  {50, 19, 79, 8},  {50, 20, 80, 9},  {56, 20, 82, 15},
    {70, 20, 91, 15}};

/// The spatial test data: B. Efron & R. Tibshirani, "An Introduction to the Bootstrap", 1993, table 14.1.
const std::vector<double> spatialTest = {48, 36, 20, 29, 42, 42, 20, 42, 22, 41, 45, 14, 6,
                                         0,  33, 28, 34, 4,  32, 24, 47, 41, 24, 26, 30, 41};

Eigen::MatrixXd stackColumns() {
    Eigen::MatrixXd x(static_cast<Eigen::Index>(stackLoss.size()), 4);
    for (std::size_t i = 0; i < stackLoss.size(); ++i)
        x.row(static_cast<Eigen::Index>(i)) << 1.0, stackLoss[i][0], stackLoss[i][1], stackLoss[i][2];
    return x;
}

Eigen::VectorXd stackTarget() {
    Eigen::VectorXd y(static_cast<Eigen::Index>(stackLoss.size()));
    for (std::size_t i = 0; i < stackLoss.size(); ++i)
        y[static_cast<Eigen::Index>(i)] = stackLoss[i][3];
    return y;
}

double varianceOf(const std::vector<double>& values) {
    const double mean =
        std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
    double sum = 0.0;
    for (const double value : values)
        sum += (value - mean) * (value - mean);
    return sum / static_cast<double>(values.size());
}

// The example of the encyclopaedia article "Median absolute deviation": median 2, deviation 1; scaled value
// by scipy.stats.median_abs_deviation(scale="normal") 1.10.1: 1.482602.
TEST(FindingsStatistics, MedianAndScaledMadAgreeWithWorkedExample) {
    const std::vector<double> values{1, 1, 2, 2, 4, 6, 9};
    EXPECT_DOUBLE_EQ(median(values), 2.0);
    EXPECT_NEAR(scaledMad(values), 1.482602, 1e-4);
}

// Stack loss, by numpy.median and scipy.stats.median_abs_deviation 1.10.1.
TEST(FindingsStatistics, MedianAndScaledMadAgreeWithScipy) {
    std::vector<double> loss;
    for (const auto& row : stackLoss)
        loss.push_back(row[3]);
    EXPECT_DOUBLE_EQ(median(loss), 15.0);
    EXPECT_NEAR(scaledMad(loss), 5.930409, 1e-4);
}

// numpy.quantile 1.24.2, method "linear" (definition 7 of Hyndman & Fan 1996).
TEST(FindingsStatistics, QuantilesAgreeWithNumpy) {
    const std::vector<double> values{3, 1, 4, 1, 5, 9, 2, 6};
    EXPECT_NEAR(quantile(values, 0.05), 1.0, 1e-12);
    EXPECT_NEAR(quantile(values, 0.25), 1.75, 1e-12);
    EXPECT_NEAR(quantile(values, 0.5), 3.5, 1e-12);
    EXPECT_NEAR(quantile(values, 0.9), 6.9, 1e-12);
}

// Efron & Tibshirani 1993, table 14.2: the variance of the spatial test data is 171.5, its BCa interval
// (115.8, 259.6) from 2000 resamples; scipy.stats.bootstrap 1.10.1 with 20000: 115.3 to 116.5, 260.1 to
// 261.7. The tolerance is the scatter of resampling.
TEST(FindingsStatistics, BcaIntervalAgreesWithEfronAndTibshirani) {
    const auto interval = bcaInterval(spatialTest, varianceOf, 20240304, 20000);
    EXPECT_NEAR(interval.value, 171.534, 1e-3);
    EXPECT_NEAR(interval.low, 115.8, 2.0);
    EXPECT_NEAR(interval.high, 259.6, 3.5);
    EXPECT_EQ(interval.n, 26);
}

// scipy.stats.bootstrap 1.10.1 (BCa, 20000 resamples) of the mean: 25.115 to 33.577.
TEST(FindingsStatistics, BcaIntervalOfMeanAgreesWithScipy) {
    const auto mean = [](const std::vector<double>& values) {
        return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
    };
    const auto interval = bcaInterval(spatialTest, mean, 5, 20000);
    EXPECT_NEAR(interval.low, 25.115, 0.2);
    EXPECT_NEAR(interval.high, 33.577, 0.2);
}

// Clopper & Pearson have a closed form where all or none hit; elsewhere each end leaves 5 % beyond it.
TEST(FindingsStatistics, ExactIntervalOfAShareLeavesFivePercentOnEachSide) {
    EXPECT_NEAR(binomialShare(0, 20).high, 1.0 - std::pow(0.05, 1.0 / 20.0), 1e-9);
    EXPECT_NEAR(binomialShare(20, 20).low, std::pow(0.05, 1.0 / 20.0), 1e-9);
    EXPECT_DOUBLE_EQ(binomialShare(0, 20).low, 0.0);
    EXPECT_DOUBLE_EQ(binomialShare(20, 20).high, 1.0);
    const Estimate share = binomialShare(12, 20);
    EXPECT_DOUBLE_EQ(share.value, 0.6);
    EXPECT_NEAR(hitsUpperTail(12, std::vector<double>(20, share.low)), 0.05, 1e-9);
    EXPECT_NEAR(1.0 - hitsUpperTail(13, std::vector<double>(20, share.high)), 0.05, 1e-9);
}

// Of like chances it is the binomial: 14 or more of 20 by halves, 60460 of the 2^20 cases; of unlike ones, by
// hand; of many, near what the normal curve says of 1100 halves.
TEST(FindingsStatistics, HitsOfUnlikeChancesAreCountedOut) {
    EXPECT_NEAR(hitsUpperTail(14, std::vector<double>(20, 0.5)), 60460.0 / 1048576.0, 1e-12);
    EXPECT_NEAR(hitsUpperTail(2, {0.5, 1.0 / 3.0, 2.0 / 3.0}), 0.5, 1e-12);
    EXPECT_NEAR(hitsUpperTail(3, {0.5, 1.0 / 3.0, 2.0 / 3.0}), 1.0 / 9.0, 1e-12);
    EXPECT_DOUBLE_EQ(hitsUpperTail(0, {}), 1.0);
    EXPECT_DOUBLE_EQ(hitsUpperTail(1, {}), 0.0);
    EXPECT_NEAR(hitsUpperTail(550, std::vector<double>(1100, 0.5)), 0.512, 0.001);
    EXPECT_NEAR(hitsUpperTail(550, std::vector<double>(1000, 0.5)), 8.65e-4, 1e-5);
}

/// The fifteen p values of Benjamini & Hochberg 1995, section 3.2.
const std::vector<double> published = {.0001, .0004, .0019, .0095, .0201, .0278, .0298, .0344,
                                       .0459, .3240, .4262, .5719, .6528, .7590, 1.000};

// statsmodels 0.13.5 multipletests(method="holm") on them; order must not matter.
TEST(FindingsStatistics, HolmAgreesWithStatsmodelsInAnyOrder) {
    const std::vector<double> reference = {0.0015, 0.0056, 0.0247, 0.114, 0.2211, 0.278, 0.278, 0.278,
                                           0.3213, 1.0,    1.0,    1.0,   1.0,    1.0,   1.0};
    const auto adjusted = holm(published);
    const std::vector<double> backwards(published.rbegin(), published.rend());
    const auto turned = holm(backwards);
    for (std::size_t i = 0; i < reference.size(); ++i) {
        EXPECT_NEAR(adjusted[i], reference[i], 1e-6) << i;
        EXPECT_DOUBLE_EQ(turned[reference.size() - 1 - i], adjusted[i]) << i;
    }
}

// Tables of Student's t and the normal (as scipy.stats 1.10.1 computes them).
TEST(FindingsStatistics, DistributionsAgreeWithTables) {
    EXPECT_NEAR(studentQuantile(10, 0.95), 1.812461, 1e-5);
    EXPECT_NEAR(studentQuantile(10, 0.975), 2.228139, 1e-5);
    EXPECT_NEAR(normalQuantile(0.95), 1.644854, 1e-5);
    EXPECT_NEAR(normalCdf(1.959964), 0.975, 1e-6);
    EXPECT_NEAR(studentTwoSidedP(10, 2.228139), 0.05, 1e-6);
}

// R. A. Fisher, "The Design of Experiments", 1935: eight cups, four with milk first. All four right: 1/70;
// three or more: 17/70. The third: scipy.stats.hypergeom.sf(4, 60, 12, 20).
TEST(FindingsStatistics, FishersTeaTasting) {
    EXPECT_NEAR(fisherUpperTail(4, 4, 4, 8), 1.0 / 70.0, 1e-9);
    EXPECT_NEAR(fisherUpperTail(3, 4, 4, 8), 17.0 / 70.0, 1e-9);
    EXPECT_NEAR(fisherUpperTail(5, 20, 12, 60), 0.358848, 1e-5);
    EXPECT_DOUBLE_EQ(fisherUpperTail(0, 20, 12, 60), 1.0);
    EXPECT_DOUBLE_EQ(fisherUpperTail(13, 20, 12, 60), 0.0);
}

// One t alone is Student's; ten independent ones follow Sidak's 1 - (1 - p)^10; ten copies count as one.
TEST(FindingsStatistics, LargestOfSeveralTFollowsKnownCases) {
    const double t = studentQuantile(30, 0.95);
    const MaxT one(Eigen::MatrixXd::Identity(1, 1), 30, 11);
    EXPECT_NEAR(one.p(t), 0.05, 0.01);
    const double z = normalQuantile(0.995);
    const MaxT ten(Eigen::MatrixXd::Identity(10, 10), 1e6, 12);
    EXPECT_NEAR(ten.p(z), 1.0 - std::pow(0.995, 10), 0.01);
    EXPECT_NEAR(ten.p(ten.limit(0.05)), 0.05, 0.001);
    const MaxT copies(Eigen::MatrixXd::Ones(10, 10), 1e6, 13);
    EXPECT_NEAR(copies.p(normalQuantile(0.95)), 0.05, 0.01);
}

// statsmodels 0.13.5 OLS on the stack-loss data, the textbook's own figures: -39.92, 0.7156, 1.2953, -0.1521,
// standard error of air flow 0.1349 (Brownlee 1965; R datasets, "stackloss").
TEST(FindingsStatistics, LeastSquaresAgreesWithBrownlee) {
    const auto fit = leastSquares(stackColumns(), stackTarget());
    EXPECT_NEAR(fit.coefficients[0], -39.91967, 1e-4);
    EXPECT_NEAR(fit.coefficients[1], 0.7156402, 1e-6);
    EXPECT_NEAR(fit.standardErrors[1], 0.1349, 1e-4);
    EXPECT_DOUBLE_EQ(fit.freedom, 17.0);
}

} // namespace
} // namespace valveladder
