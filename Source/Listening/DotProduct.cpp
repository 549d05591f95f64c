#include "Listening/DotProduct.h"

#include <Eigen/Core>

namespace valveladder {

double dotProduct(const float* a, const float* b, std::size_t count) {
    const auto n = static_cast<Eigen::Index>(count);
    return static_cast<double>(
        Eigen::Map<const Eigen::VectorXf>(a, n).dot(Eigen::Map<const Eigen::VectorXf>(b, n)));
}

} // namespace valveladder
