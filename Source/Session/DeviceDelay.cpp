#include "Session/DeviceDelay.h"

namespace valveladder {

bool DeviceDelay::use(const std::string& device) {
    if (device == name)
        return false;
    name = device;
    measuredMs.reset();
    lookedUp = name.empty();
    return true;
}

std::optional<Problem> DeviceDelay::read(const LogStore* store) {
    if (lookedUp || store == nullptr)
        return std::nullopt;
    lookedUp = true;
    const auto logged = store->roundTripMs(name);
    if (!logged)
        return logged.problem();
    if (!measuredMs)
        measuredMs = logged.value();
    return std::nullopt;
}

RoundTrip DeviceDelay::roundTrip(const std::optional<double>& byHandMs) const {
    if (byHandMs)
        return {byHandMs, RoundTripFrom::byHand, name};
    if (measuredMs)
        return {measuredMs, RoundTripFrom::measured, name};
    return {std::nullopt, RoundTripFrom::none, name};
}

} // namespace valveladder
